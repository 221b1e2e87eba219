package nmea

import (
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// published is one sentence of testdata/checks/nmea_samples.json: valid and
// invalid examples from the test data of go-nmea v1.10.0 (MIT), the samples in
// gpsd's NMEA document and public device output, each with its source.
type published struct {
	Sentence string         `json:"sentence"`
	Source   string         `json:"source"`
	Expect   map[string]any `json:"expect"`
	Ignored  map[string]any `json:"expect_if_checksum_ignored"`
}

func loadPublished(t *testing.T) []published {
	t.Helper()
	b, err := os.ReadFile("../../testdata/checks/nmea_samples.json")
	if err != nil {
		t.Fatal(err)
	}
	var all []published
	if err := json.Unmarshal(b, &all); err != nil {
		t.Fatal(err)
	}
	if len(all) != 50 {
		t.Fatalf("expected 50 published sentences, found %d", len(all))
	}
	return all
}

func TestPublishedSentences(t *testing.T) {
	for _, p := range loadPublished(t) {
		t.Run(p.Sentence, func(t *testing.T) { comparePublished(t, p.Sentence, p.Expect) })
	}
}

// The sentences whose printed checksum is wrong decode when it is set right.
func TestPublishedSentencesWithoutChecksum(t *testing.T) {
	n := 0
	for _, p := range loadPublished(t) {
		if len(p.Ignored) == 0 {
			continue
		}
		n++
		body, _, _ := strings.Cut(p.Sentence, "*")
		comparePublished(t, withSum(body), p.Ignored)
	}
	if n != 3 {
		t.Errorf("expected 3 such sentences, found %d", n)
	}
}

func comparePublished(t *testing.T, line string, expect map[string]any) {
	t.Helper()
	d := NewDecoder()
	in := d.Line(line, 1_700_000_000_000)
	c := d.Count()
	if c.Kept+c.Total() != 1 {
		t.Fatalf("one line in, counted %+v", c)
	}
	if want, refused := expect["error"]; refused || expect["valid"] == false {
		if len(in) != 0 {
			t.Errorf("must be refused (%v), gave %+v", want, in[0].Sample)
		}
		return
	}
	var s boat.Sample
	var sent boat.Time
	if len(in) == 1 {
		s, sent = *in[0].Sample, in[0].Sent
	}
	for key, want := range expect {
		got, known := reading(key, line, s, sent)
		if !known {
			continue
		}
		switch w := want.(type) {
		case nil:
			if got.OK {
				t.Errorf("%s: must be absent, got %v", key, got.Val)
			}
		case float64:
			if !got.OK || math.Abs(got.Val-w) > printed(key) {
				t.Errorf("%s: want %v, got %+v", key, w, got)
			}
		case string:
			at, err := time.Parse(time.RFC3339, w)
			if err != nil || got.Val != float64(at.UnixMilli()) {
				t.Errorf("%s: want %v, got %v (%v)", key, w, got, err)
			}
		default:
			t.Errorf("%s: the test does not understand %v", key, want)
		}
	}
}

// printed is half the last digit the file gives.
func printed(key string) float64 {
	if key == "speed_kt" { // metres a second turned into knots, three decimals
		return 0.0005
	}
	return 0.0000006
}

// reading finds what the sample says under the name the file uses. Not known
// are names of things that a sample does not carry.
func reading(key, line string, s boat.Sample, sent boat.Time) (boat.Reading, bool) {
	relative := s.AWADeg.OK || strings.Contains(line, "VWR")
	wind := func(apparent, computed boat.Reading) boat.Reading {
		if relative {
			return apparent
		}
		return computed
	}
	heading := func(ref boat.Ref) boat.Reading {
		if s.HeadingRef == ref {
			return s.HeadingDeg
		}
		return boat.Reading{}
	}
	switch key {
	case "lat":
		return s.LatDeg, true
	case "lon":
		return s.LonDeg, true
	case "sog_kt":
		return s.SOGKn, true
	case "cog_true":
		return s.COGDeg, true
	case "var_deg":
		return s.VarDeg, true
	case "utc":
		return boat.Some(float64(sent)), true
	case "magnetic":
		if s.HeadingRef == boat.True {
			return boat.Reading{}, false // both are there and true is taken
		}
		return heading(boat.Magnetic), true
	case "true":
		if m := heading(boat.Magnetic); m.OK && s.VarDeg.OK {
			return boat.Some(geo.Wrap360(m.Val + s.VarDeg.Val)), true
		}
		return heading(boat.True), true
	case "stw_kt":
		return s.WaterKn, true
	case "angle":
		a := wind(s.AWADeg, s.TWADeg)
		a.Val = geo.Wrap360(a.Val)
		return a, true
	case "signed", "awa", "twa":
		return wind(s.AWADeg, s.TWADeg), true
	case "speed_kt", "aws_kt", "tws_kt":
		return wind(s.AWSKn, s.TWSKn), true
	case "twd_true":
		return s.TWDDeg, true
	case "roll":
		return s.HeelDeg, true
	case "pitch":
		if strings.Contains(line, ",171,D,PITCH") {
			return boat.Reading{}, false // a raw value no boat can have; see TestOutOfRangeIsAbsent
		}
		return s.PitchDeg, true
	}
	return boat.Reading{}, false
}

// withSum closes a sentence body, "$…", with its checksum.
func withSum(body string) string {
	x := byte(0)
	for i := 1; i < len(body); i++ {
		x ^= body[i]
	}
	const hex = "0123456789ABCDEF"
	return body + "*" + string(hex[x>>4]) + string(hex[x&15])
}
