package replay

import (
	"bytes"
	"strings"
	"testing"

	"helmcue/internal/boat"
)

func TestWindLog(t *testing.T) {
	fixes, err := ReadWindLog(strings.NewReader("t,dir_deg,sd_deg,kn,method\n1900000000000,240,,9,\n2030-03-17T17:46:50Z,,,12,meter\n"))
	if err != nil || len(fixes) != 2 {
		t.Fatalf("got %v, %v", fixes, err)
	}
	first, second := fixes[0].WindFix, fixes[1].WindFix
	if first.Method != "hand" || first.SDDeg.OK || first.DirDeg != boat.Some(240) || fixes[0].T != 1900000000000 {
		t.Errorf("the first row gave %+v at %d", first, fixes[0].T)
	}
	if second.DirDeg.OK || second.Kn != boat.Some(12) || second.Method != "meter" || fixes[1].T != 1900000010000 {
		t.Errorf("the second row gave %+v at %d", second, fixes[1].T)
	}
	const head = "t,dir_deg,sd_deg,kn,method\n"
	for text, says := range map[string]string{
		"":                            "expected a header",
		"a,b\n":                       "expected the header t,dir_deg",
		head + "1,2\n":                "wrong number of fields",
		head + "noon,240,,,\n":        "line 2: t: expected milliseconds",
		head + "1,400,,,\n":           "line 2: dir_deg: expected a number from 0 to 360",
		head + "1,240,0,,\n":          "line 2: sd_deg",
		head + "1,240,,NaN,\n":        "line 2: kn",
		head + "9,240,,,\n1,240,,,\n": "line 3: expected times to ascend",
		head + "NaN,240,,,\n":         "line 2: t",
		head + "1,\"240,,,\n":         "wind log",
	} {
		if _, err := ReadWindLog(strings.NewReader(text)); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: got error %v, want one with %q", text, err, says)
		}
	}
}

func TestParseWind(t *testing.T) {
	in, err := ParseWind("240, 9.5")
	if err != nil || in.WindFix.DirDeg != boat.Some(240) || in.WindFix.Kn != boat.Some(9.5) {
		t.Errorf("got %+v, %v", in.WindFix, err)
	}
	for _, text := range []string{"", "240", "240,", ",9", "361,9", "-1,9", "240,-1", "NaN,9", "240,9,1", "north,9"} {
		if _, err := ParseWind(text); err == nil || !strings.Contains(err.Error(), "--wind DIR,KN") {
			t.Errorf("%q: got %v", text, err)
		}
	}
}

// A fix of the wind log reaches the engine at its time, before the sample then.
func TestWindFixesComeInTheirTime(t *testing.T) {
	var log, out bytes.Buffer
	for i := range 50 {
		in := boat.Input{T: 1_900_000_000_000 + boat.Time(200*i), Kind: boat.SampleIn, Sample: &boat.Sample{
			LatDeg: boat.Some(48), LonDeg: boat.Some(12), SOGKn: boat.Some(3), COGDeg: boat.Some(192)}}
		if err := WriteLine(&log, in); err != nil {
			t.Fatal(err)
		}
	}
	fix := boat.Input{T: 1_900_000_005_000, Kind: boat.WindFixIn, Source: "command",
		WindFix: &boat.WindFix{DirDeg: boat.Some(240), Kn: boat.Some(9), Method: "hand"}}
	set := boat.Settings{IgnoreWind: true}
	if _, err := Run(Job{Log: &log, Settings: set, Wind: []boat.Input{fix}, Out: &out}); err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(out.String()) {
		if !strings.Contains(line, `"type":"state"`) {
			continue
		}
		early := line < `{"type":"state","t":1900000005000`
		if known := strings.Contains(line, `"twd_known":true`); known == early {
			t.Errorf("fix at 5 s, and: %s", line)
		}
	}
}

// failing is an output that is full after so many bytes.
type failing int

func (f *failing) Write(p []byte) (int, error) {
	if *f -= failing(len(p)); *f < 0 {
		return 0, errFull
	}
	return len(p), nil
}

var errFull = strings.NewReader("").UnreadByte() // any error will do

func TestAFullDiskIsSaid(t *testing.T) {
	line := `{"type":"sample","t":1900000000000,"lat":48,"lon":12,"sog":3,"cog":192}` + "\n"
	full := failing(10)
	_, err := Run(Job{Log: strings.NewReader(line), Out: &full})
	if err == nil || !strings.Contains(err.Error(), "cannot write the output lines") {
		t.Errorf("got %v, want an error that says what could not be written", err)
	}
}
