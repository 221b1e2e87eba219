package boat

import (
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestAbsentIsNotZero(t *testing.T) {
	for text, want := range map[string]Reading{"0": Some(0), "-0.5": Some(-0.5), "null": {}, "1e3": Some(1000)} {
		var r Reading
		if err := json.Unmarshal([]byte(text), &r); err != nil || r != want {
			t.Errorf("%s: got %+v, %v, want %+v", text, r, err, want)
		}
	}
	for _, text := range []string{`"3"`, "true", "{}", "[1]", "1e999"} {
		var r Reading
		if err := json.Unmarshal([]byte(text), &r); err == nil {
			t.Errorf("%s was taken for a number: %+v", text, r)
		}
	}
	b, err := json.Marshal(Sample{SOGKn: Some(0)})
	if err != nil || string(b) != `{"sog":0}` {
		t.Errorf("a sample with one reading of 0 is written %s, %v", b, err)
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if Some(v).OK {
			t.Errorf("%g is a reading", v)
		}
	}
}

func TestRound(t *testing.T) {
	for _, c := range []struct {
		r    Reading
		step float64
		want Reading
	}{
		{Some(1.26), 0.1, Some(1.3)}, {Some(-1.26), 0.1, Some(-1.3)}, {Some(237), 5, Some(235)},
		{Some(0.0449), 0.01, Some(0.04)}, {Reading{}, 0.1, Reading{}},
	} {
		if got := c.r.Round(c.step); got != c.want {
			t.Errorf("%+v to %g: got %+v, want %+v", c.r, c.step, got, c.want)
		}
	}
	b, _ := json.Marshal(Some(-0.01).Round(0.1))
	if string(b) != "0" {
		t.Errorf("minus zero is written %s", b)
	}
}

// Every value of every closed set has a name that reads back as itself.
func TestNamesReadBack(t *testing.T) {
	for _, m := range Modes() {
		readBack(t, m)
	}
	for _, l := range Levels() {
		readBack(t, l)
	}
	for _, k := range Kinds() {
		readBack(t, k)
	}
	for u := Praise; u <= Danger; u++ {
		readBack(t, u)
	}
	var m Mode
	if err := m.UnmarshalText([]byte("flying")); err == nil || !strings.Contains(err.Error(), "close_hauled") {
		t.Errorf("an unknown mode: %v, want an error that names the modes", err)
	}
	if got := Mode(99).String(); got != "(99)" {
		t.Errorf("a mode beyond the set is called %q", got)
	}
}

func readBack[T comparable](t *testing.T, v T) {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	var got T
	if err := json.Unmarshal(b, &got); err != nil || got != v || strings.Contains(string(b), "(") {
		t.Errorf("%v is written %s and read back as %v, %v", v, b, got, err)
	}
}

func TestKeysAreUnique(t *testing.T) {
	seen := map[Key]bool{}
	for _, k := range Keys() {
		if seen[k] || k == "" {
			t.Errorf("key %q stands twice or is empty", k)
		}
		seen[k] = true
	}
}

func TestAnOutputReadsBack(t *testing.T) {
	at := Time(1_900_000_000_000)
	for _, o := range []Output{
		{Status: &Status{T: at, Mode: Reaching, TWDDeg: Some(0), TWDKnown: true}},
		{Cue: &Cue{T: at, ID: 3, Key: HeadUp, Variant: "5", Words: "head her up by five", Amount: Some(5), Level: Expert, Urgency: Steer, Expires: at + 2000}},
		{Manoeuvre: &Manoeuvre{T: at, Kind: "tack", Settled: &at, TurnDeg: Some(92.5)}},
		{Manoeuvre: &Manoeuvre{T: at, Kind: "gybe"}},
		{Exercise: &Exercise{T: at, Name: "square", Phase: "start", Score: map[string]float64{"lengths": 2}}},
		{Note: &Note{T: at, Code: "break", Text: "a \"quoted\" line\n"}},
	} {
		b, err := json.Marshal(o)
		if err != nil || !strings.HasPrefix(string(b), `{"type":"`+o.Type()+`","t":1900000000000,`) {
			t.Fatalf("%s is written %s, %v", o.Type(), b, err)
		}
		var got Output
		if err := json.Unmarshal(b, &got); err != nil || !reflect.DeepEqual(got, o) || got.Time() != at {
			t.Errorf("%s reads back as %+v, %v", b, got, err)
		}
	}
	if _, err := json.Marshal(Output{}); err == nil {
		t.Error("an empty output was written")
	}
	var o Output
	if err := json.Unmarshal([]byte(`{"type":"song"}`), &o); err == nil || !strings.Contains(err.Error(), `"song"`) {
		t.Errorf("an unknown output: %v", err)
	}
}

// A recorded input must come back as it was given, to the last bit: replay hangs
// on it.
func TestAnInputReadsBackToTheLastBit(t *testing.T) {
	reading := rapid.Custom(func(t *rapid.T) Reading {
		if rapid.Bool().Draw(t, "absent") {
			return Reading{}
		}
		return Some(rapid.Float64().Draw(t, "v"))
	})
	rapid.Check(t, func(t *rapid.T) {
		in := Input{T: Time(rapid.Int64().Draw(t, "t")), Kind: SampleIn, Source: "phone", Sample: &Sample{
			Seq: rapid.Int64().Draw(t, "seq"), LatDeg: reading.Draw(t, "lat"), HeadingDeg: reading.Draw(t, "hdg"),
			HeadingRef: Magnetic, HeelDeg: reading.Draw(t, "heel"), YawDps: reading.Draw(t, "yaw"), Mount: Worn}}
		b, err := json.Marshal(in)
		if err != nil {
			t.Fatal(err)
		}
		var got Input
		if err := json.Unmarshal(b, &got); err != nil {
			t.Fatal(err)
		}
		if got.Sample.HeelDeg.Val == 0 { // minus zero is written as zero
			got.Sample.HeelDeg.Val, in.Sample.HeelDeg.Val = 0, 0
		}
		if !reflect.DeepEqual(got, in) {
			t.Fatalf("%s reads back as %+v", b, got)
		}
	})
}
