package phonemsg

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"time"

	"helmcue/internal/boat"
)

// good lists one valid message of every type, and the edges of ranges.
func good() []string {
	return []string{
		`{"type":"join","v":1,"role":"sailor","token":"abc","boat":"Otter","mount":"fixed","caps":{"compass":true}}`,
		`{"type":"join","v":1,"role":"viewer","token":"abc","t":1750000000000.25}`,
		`{"type":"sample","t":1750000000000}`,
		`{"type":"sample","t":1750000000000,"seq":0,"lat":-90,"lon":180,"acc":4,"sog":0,"cog":360,"hdg":0,"hdgRef":"mag","heel":-180,"pitch":90,"yaw":-12.5,"mount":"worn","batt":1}`,
		`{"type":"sample","t":1750000000000,"sog":null,"later":{"deep":[1,2]}}`,
		`{"type":"samples","batch":[{"t":1750000000000,"seq":7},{"t":1750000000100,"seq":8,"heel":3}]}`,
		`{"type":"samples","t":1750000000200,"batch":[{"t":1750000000000,"seq":7}]}`,
		`{"type":"samples","batch":[]}`,
		`{"type":"wind_fix","t":1750000000000,"dir":212,"ref":"true","sd":10,"kn":8,"method":"hand"}`,
		`{"type":"wind_fix","t":1750000000000,"method":"head_to_wind"}`,
		`{"type":"wind_fix","t":1750000000000,"method":"meter","kn":8.5}`,
		`{"type":"answer","t":1750000000000,"knocks":2}`,
		`{"type":"answer","t":1750000000000,"done":true}`,
		`{"type":"hidden","t":1750000000000}`,
		`{"type":"shown","t":1750000000000}`,
		`{"type":"spoken","id":3,"t":1750000000000,"where":"phone","what":"started"}`,
		`{"type":"spoken","id":3,"t":1750000000000}`,
		`{"type":"act","t":1750000000000,"boat":"Otter","act":"say","phrase":"well_done"}`,
		`{"type":"act","t":1750000000000,"boat":"Otter","act":"wind","dir":200,"kn":9}`,
		`{"type":"act","t":1750000000000,"act":"mark","text":"good tack"}`,
		`{"type":"act","t":1750000000000,"act":"quiet"}`,
		`{"type":"act","t":1750000000000,"act":"level","level":"beginner"}`,
		`{"type":"act","t":1750000000000,"act":"limit","kn":12}`,
		`{"type":"act","t":1750000000000,"act":"plan","phrase":"first-steps"}`,
		`{"type":"act","t":1750000000000,"act":"exercise","phrase":"gybe","text":"start"}`,
		`{"type":"act","t":1750000000000,"act":"exercise","text":"skip"}`,
		`{"type":"sound_delay","t":1750000000000,"s":0.24,"seq":9}`,
		`{"type":"spoken","id":1000003,"t":1750000000000,"seq":12,"what":"started","own":{"t":1750000000000,"id":1000003,"key":"bear_away","words":"bear away slightly","level":"improver","urgency":"steer","expires":1750000002000,"conf":0.8,"why_code":"pinching","why":"slow"}}`,
		`{"type":"bye"}`,
	}
}

// bad lists refused messages with the code and the field each must be refused with.
func bad() []struct {
	in    string
	code  Code
	field string
} {
	return []struct {
		in    string
		code  Code
		field string
	}{
		{``, BadJSON, ""},
		{`null`, BadJSON, ""},
		{`[]`, BadJSON, ""},
		{`{"type":"sample"`, BadJSON, ""},
		{`{"type":"sample","t":1,"sog":NaN}`, BadJSON, ""},
		{`{"type":"sample","t":1,"sog":Infinity}`, BadJSON, ""},
		{`{"type":"bye"} {"type":"bye"}`, BadJSON, ""},
		{`{"t":1}`, Missing, "type"},
		{`{"type":7}`, BadType, "type"},
		{`{"type":"telegram"}`, UnknownType, "type"},
		{`{"type":"sample"}`, Missing, "t"},
		{`{"type":"sample","t":null}`, Missing, "t"},
		{`{"type":"sample","t":"now"}`, BadType, "t"},
		{`{"type":"sample","t":-1}`, OutOfRange, "t"},
		{`{"type":"sample","t":4102444800000}`, OutOfRange, "t"},
		{`{"type":"sample","t":1,"sog":"fast"}`, BadType, "sog"},
		{`{"type":"sample","t":1,"sog":1e999}`, BadType, "sog"},
		{`{"type":"sample","t":1,"seq":1.5}`, BadType, "seq"},
		{`{"type":"sample","t":1,"seq":-1}`, OutOfRange, "seq"},
		{`{"type":"sample","t":1,"lat":90.01,"lon":0}`, OutOfRange, "lat"},
		{`{"type":"sample","t":1,"lat":10}`, Missing, "lat and lon"},
		{`{"type":"sample","t":1,"lat":0,"lon":-181}`, OutOfRange, "lon"},
		{`{"type":"sample","t":1,"acc":-1}`, OutOfRange, "acc"},
		{`{"type":"sample","t":1,"sog":-0.1}`, OutOfRange, "sog"},
		{`{"type":"sample","t":1,"cog":361}`, OutOfRange, "cog"},
		{`{"type":"sample","t":1,"hdg":400,"hdgRef":"true"}`, OutOfRange, "hdg"},
		{`{"type":"sample","t":1,"hdg":40}`, Missing, "hdgRef"},
		{`{"type":"sample","t":1,"hdg":40,"hdgRef":"grid"}`, OutOfRange, "hdgRef"},
		{`{"type":"sample","t":1,"heel":181}`, OutOfRange, "heel"},
		{`{"type":"sample","t":1,"pitch":-91}`, OutOfRange, "pitch"},
		{`{"type":"sample","t":1,"yaw":3000}`, OutOfRange, "yaw"},
		{`{"type":"sample","t":1,"mount":"loose"}`, OutOfRange, "mount"},
		{`{"type":"sample","t":1,"batt":80}`, OutOfRange, "batt"},
		{`{"type":"samples"}`, Missing, "batch"},
		{`{"type":"samples","batch":{}}`, BadType, "batch"},
		{`{"type":"samples","batch":[{"sog":2}]}`, Missing, "t"},
		{`{"type":"samples","batch":[null]}`, Missing, "t"},
		{`{"type":"wind_fix","t":1,"dir":10}`, OutOfRange, "method"},
		{`{"type":"wind_fix","t":1,"method":"hand"}`, Missing, "dir"},
		{`{"type":"wind_fix","t":1,"method":"hand","dir":-10}`, OutOfRange, "dir"},
		{`{"type":"wind_fix","t":1,"method":"hand","dir":10,"sd":-1}`, OutOfRange, "sd"},
		{`{"type":"wind_fix","t":1,"method":"hand","dir":10,"ref":"grid"}`, OutOfRange, "ref"},
		{`{"type":"answer","t":1}`, Missing, "knocks"},
		{`{"type":"answer","t":1,"knocks":50}`, OutOfRange, "knocks"},
		{`{"type":"hidden"}`, Missing, "t"},
		{`{"type":"spoken","t":1}`, OutOfRange, "id"},
		{`{"type":"spoken","t":1,"id":1,"what":"sung"}`, OutOfRange, "what"},
		{`{"type":"spoken","t":1,"id":1,"where":"shore"}`, OutOfRange, "where"},
		{`{"type":"spoken","t":1,"id":1,"own":{"key":"ease"}}`, Missing, "own"},
		{`{"type":"hidden","t":1,"seq":-1}`, OutOfRange, "seq"},
		{`{"type":"sound_delay","t":1}`, Missing, "s"},
		{`{"type":"sound_delay","t":1,"s":3.5}`, OutOfRange, "s"},
		{`{"type":"act","t":1,"act":"shout"}`, OutOfRange, "act"},
		{`{"type":"act","t":1,"act":"say"}`, Missing, "phrase"},
		{`{"type":"act","t":1,"act":"wind"}`, Missing, "dir"},
		{`{"type":"act","t":1,"act":"level","level":"guru"}`, OutOfRange, "level"},
		{`{"type":"act","t":1,"act":"limit"}`, OutOfRange, "kn"},
		{`{"type":"act","t":1,"act":"exercise"}`, OutOfRange, "text"},
		{`{"type":"act","t":1,"act":"exercise","text":"juggle"}`, OutOfRange, "text"},
		{`{"type":"act","t":1,"act":"limit","kn":0}`, OutOfRange, "kn"},
		{`{"type":"join","v":2,"role":"sailor","token":"x"}`, BadVersion, "v"},
		{`{"type":"join","v":1,"role":"skipper","token":"x"}`, OutOfRange, "role"},
		{`{"type":"join","v":1,"role":"sailor"}`, Missing, "token"},
		{`{"type":"join","v":1,"role":"sailor","token":"x","boat":"a\u0007b"}`, OutOfRange, "boat"},
		{`{"type":"join","v":1,"role":"sailor","token":"x","boat":"` + strings.Repeat("a", 41) + `"}`, OutOfRange, "boat"},
		{`{"type":"act","t":1,"act":"mark","text":"` + strings.Repeat("a", 201) + `"}`, OutOfRange, "text"},
	}
}

func TestDecodeAccepts(t *testing.T) {
	seen := map[string]bool{}
	for _, in := range good() {
		m, err := Decode([]byte(in))
		if err != nil {
			t.Errorf("%s: %v", in, err)
		}
		seen[m.Type] = true
	}
	for _, typ := range Types() {
		if !seen[typ] {
			t.Errorf("no valid example of type %s", typ)
		}
	}
}

func TestDecodeRefuses(t *testing.T) {
	for _, c := range bad() {
		m, err := Decode([]byte(c.in))
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("%s: accepted as %+v", c.in, m)
			continue
		}
		if e.Code != c.code || e.Field != c.field || e.Text == "" {
			t.Errorf("%s: got %s %q (%s), want %s %q", c.in, e.Code, e.Field, e.Text, c.code, c.field)
		}
	}
}

func TestErrorNamesFieldRangeAndValue(t *testing.T) {
	_, err := Decode([]byte(`{"type":"sample","t":1,"heel":270.5}`))
	if want := "out_of_range: heel must be -180 to 180, got 270.5"; err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

func TestOneBadSampleDoesNotCostTheBatch(t *testing.T) {
	m, err := Decode([]byte(`{"type":"samples","t":9,"batch":[{"t":1,"seq":1},{"t":2,"seq":2,"sog":-5},{"t":3,"seq":3}]}`))
	var e *Error
	if !errors.As(err, &e) || e.Code != OutOfRange || !strings.HasPrefix(e.Text, "batch[1]: sog") {
		t.Errorf("error %v does not name batch[1] and sog", err)
	}
	if len(m.Samples) != 2 || m.Samples[0].Seq != 1 || m.Samples[1].Seq != 3 || m.T != 9 {
		t.Errorf("kept %+v, left at %d; want seq 1 and 3, left at 9", m.Samples, m.T)
	}
}

func TestBatchLimit(t *testing.T) {
	many := strings.TrimSuffix(strings.Repeat(`{"t":1},`, MaxBatch+1), ",")
	_, err := Decode([]byte(`{"type":"samples","batch":[` + many + `]}`))
	var e *Error
	if !errors.As(err, &e) || e.Code != OutOfRange || e.Field != "batch" {
		t.Errorf("a batch of %d gave %v", MaxBatch+1, err)
	}
}

func TestAbsentStaysAbsent(t *testing.T) {
	m, err := Decode([]byte(`{"type":"sample","t":1750000000000,"sog":0,"heel":null}`))
	if err != nil {
		t.Fatal(err)
	}
	s := m.Samples[0]
	if s.SOGKn != boat.Some(0) {
		t.Errorf("a speed of zero became %+v", s.SOGKn)
	}
	if s.HeelDeg.OK || s.LatDeg.OK || s.COGDeg.OK || s.HasSeq {
		t.Errorf("absent readings became present: %+v", s)
	}
}

// TestFractionalTimes: high-resolution page clocks send fractions of a millisecond.
func TestFractionalTimes(t *testing.T) {
	m, err := Decode([]byte(`{"type":"hidden","t":1750000000000.6}`))
	if err != nil || m.T != 1750000000001 {
		t.Errorf("got %d, %v", m.T, err)
	}
}

func FuzzDecode(f *testing.F) {
	for _, in := range good() {
		f.Add([]byte(in))
	}
	for _, c := range bad() {
		f.Add([]byte(c.in))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		m, err := Decode(b)
		var e *Error
		if err != nil && (!errors.As(err, &e) || e.Code == "" || e.Text == "") {
			t.Fatalf("%q: error without code or text: %v", b, err)
		}
		if err != nil && len(m.Samples) == 0 && m.Type != "" {
			t.Fatalf("%q: refused and yet returned as %s", b, m.Type)
		}
		for _, in := range ToInputs(m, 1, nil) {
			if in.Sample != nil && checkSample(in.Sample) != nil {
				t.Fatalf("%q: a sample out of range got through: %+v", b, in.Sample)
			}
			if in.Kind != boat.SampleIn && m.Samples != nil {
				t.Fatalf("%q: samples became %s", b, in.Kind)
			}
		}
	})
}

// BenchmarkDecodeSample reports its time as a ratio to the floor: encoding/json
// reading the same bytes into a struct of plain numbers, with nothing checked.
func BenchmarkDecodeSample(b *testing.B) {
	line := []byte(good()[3])
	var plain struct {
		Type, HdgRef, Mount                                  string
		T                                                    float64
		Seq                                                  int64
		Lat, Lon, Acc, Sog, Cog, Hdg, Heel, Pitch, Yaw, Batt float64
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Decode(line); err != nil {
			b.Fatal(err)
		}
	}
	took := b.Elapsed()
	begun := time.Now()
	for range b.N {
		if err := json.Unmarshal(line, &plain); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(took.Seconds()/time.Since(begun).Seconds(), "ratio")
}
