package phonemsg

import (
	"bytes"
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"

	"helmcue/internal/boat"
)

// schema compiles one half of schema.json with a library that knows nothing of
// this package: the outside check of Decode and Encode.
// Source: JSON Schema draft 2020-12, as github.com/santhosh-tekuri/jsonschema reads it.
func schema(t testing.TB, half string) func([]byte) error {
	t.Helper()
	f, err := os.ReadFile("schema.json")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(f))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("https://helmcue.invalid/phonemsg.json", doc); err != nil {
		t.Fatal(err)
	}
	s := c.MustCompile("https://helmcue.invalid/phonemsg.json#/$defs/" + half)
	return func(b []byte) error {
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
		if err != nil {
			return err
		}
		return s.Validate(v)
	}
}

func TestSchemaAgreesOnExamples(t *testing.T) {
	check := schema(t, "to_service")
	for _, in := range good() {
		if err := check([]byte(in)); err != nil {
			t.Errorf("Decode takes %s, the schema does not: %v", in, err)
		}
	}
	for _, c := range bad() {
		if strings.Contains(c.in, "1e999") {
			continue // a number to the schema, beyond float64 to Go
		}
		if check([]byte(c.in)) == nil {
			t.Errorf("Decode refuses %s, the schema takes it", c.in)
		}
	}
}

// fieldValues are what a generated field may hold: in range somewhere, out of
// range elsewhere, or of a wrong type.
func fieldValues() []any {
	return []any{nil, 0, 1, 2, -1, 45.5, 90, 91, -180, 180.5, 359.9, 360, 361, 0.5, 1e13, 1750000000000,
		"", "true", "mag", "fixed", "worn", "hand", "head_to_wind", "say", "wind", "level", "limit", "beginner",
		"phone", "finished", "sailor", "Otter", true, false, []any{}, map[string]any{}}
}

// fieldsOf lists, for each type, the fields that are mixed at random.
func fieldsOf() map[string][]string {
	return map[string][]string{
		"join":     {"v", "role", "token", "boat", "mount", "caps", "t"},
		"sample":   {"seq", "lat", "lon", "acc", "sog", "cog", "hdg", "hdgRef", "heel", "pitch", "yaw", "mount", "batt", "awa", "aws", "twd"},
		"wind_fix": {"dir", "ref", "sd", "kn", "method", "lat", "lon"},
		"answer":   {"knocks", "done", "seq"},
		"hidden":   {"t", "seq"},
		"spoken":   {"id", "where", "what", "note", "own", "seq"},

		"sound_delay": {"s", "seq"},
		"act":         {"act", "phrase", "text", "dir", "ref", "sd", "kn", "level", "boat"},
		"bye":         {"t"},
		"telegram":    {"t"},
	}
}

// sure are the fields a generated message starts from, so that valid ones are not rare.
func sure(typ string) map[string]any {
	m := map[string]any{"type": typ, "t": 1750000000000}
	switch typ {
	case "join":
		m["v"], m["role"], m["token"] = 1, "sailor", "x"
	case "wind_fix":
		m["method"], m["dir"] = "hand", 200
	case "answer":
		m["knocks"] = 2
	case "spoken":
		m["id"] = 4
	case "sound_delay":
		m["s"] = 0.3
	case "act":
		m["act"], m["phrase"] = "say", "well_done"
	}
	return m
}

func TestSchemaAgreesOnRandomMessages(t *testing.T) {
	check := schema(t, "to_service")
	fields := fieldsOf()
	var types []string
	for typ := range fields {
		types = append(types, typ)
	}
	slices.Sort(types)
	taken, refused := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		typ := rapid.SampledFrom(types).Draw(rt, "type")
		m := sure(typ)
		for range rapid.IntRange(0, 3).Draw(rt, "changes") {
			f := rapid.SampledFrom(fields[typ]).Draw(rt, "field")
			m[f] = rapid.SampledFrom(fieldValues()).Draw(rt, "value")
		}
		b, err := json.Marshal(m)
		if err != nil {
			rt.Fatal(err)
		}
		_, got := Decode(b)
		want := check(b)
		if (got == nil) != (want == nil) {
			rt.Fatalf("%s\nDecode: %v\nschema: %v", b, got, want)
		}
		if got == nil {
			taken++
		} else {
			refused++
		}
	})
	if taken == 0 || refused == 0 {
		t.Errorf("the generator is one-sided: %d taken, %d refused", taken, refused)
	}
}

// replies lists one bare and one full reply of every type.
func replies() []Reply {
	return []Reply{
		Joined{V: Version, Boat: "Otter", Role: Sailor, ServerTime: 1750000000000},
		Joined{V: Version, Session: "s1", Boat: "Otter", Role: Instructor, Settings: boat.Settings{Level: boat.Beginner, LengthM: 4.2},
			ServerTime: 1750000000000, Voice: "en-a", Phrases: []Phrase{{"well_done", "well done"}}},
		Ack{Seq: 12},
		State{Boat: "Otter", Health: Health{Link: "lost"}},
		State{Boat: "Otter", Status: boat.Status{T: 1750000000000, Mode: boat.CloseHauled, TWDDeg: boat.Some(210), TWDKnown: true, Share: boat.Some(0.9)},
			Told:   &Told{"bear away", "12 degrees below", 1750000000000, 4},
			Health: Health{"ok", true, boat.Some(4), boat.Some(0.8), "phone", true, boat.Some(30)},
			Turns:  Turns{7, 1, boat.Some(2.1), boat.Some(3)}},
		Cue{Boat: "Otter", Cue: boat.Cue{ID: 1, Key: boat.LetGo}},
		Cue{Boat: "Otter", Cue: boat.Cue{T: 1750000000000, ID: 4, Key: boat.SteerTo, Words: "steer two one zero", Amount: boat.Some(210),
			Size: boat.Hair, Side: "port", Ref: boat.Magnetic, Urgency: boat.Danger, Expires: 1750000004000, Conf: 0.7, WhyCode: "w", Why: "because"},
			Clips: []string{"steer", "h210"}, GapMS: 80, Repeat: true},
		Note{Boat: "Otter", Note: boat.Note{T: 1750000000000, Code: "c", Text: "t"}},
		Input{Boat: "Otter", Input: boat.Input{T: 1750000000000, Kind: boat.WindFixIn, WindFix: &boat.WindFix{Method: "chase"}}},
		Fault{BadJSON, "expected one JSON object"},
	}
}

func TestRepliesFitTheSchema(t *testing.T) {
	check := schema(t, "to_page")
	for _, r := range replies() {
		b, err := Encode(r)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.HasPrefix(b, []byte(`{"type":"`+r.kind()+`",`)) {
			t.Errorf("%s: type is not the first field", b)
		}
		if err := check(b); err != nil {
			t.Errorf("%s: %v", b, err)
		}
	}
}

// TestSchemaListsTheVocabulary holds the lists in schema.json to the ones in Go.
func TestSchemaListsTheVocabulary(t *testing.T) {
	check := schema(t, "to_page")
	for _, k := range boat.Keys() {
		b, _ := Encode(Cue{Boat: "x", Cue: boat.Cue{Key: k}})
		if err := check(b); err != nil {
			t.Errorf("key %s: %v", k, err)
		}
	}
	for _, m := range boat.Modes() {
		b, _ := Encode(State{Boat: "x", Status: boat.Status{Mode: m}, Health: Health{Link: "ok"}})
		if err := check(b); err != nil {
			t.Errorf("mode %s: %v", m, err)
		}
	}
	b, _ := Encode(Cue{Boat: "x", Cue: boat.Cue{Key: "shout"}})
	if check(b) == nil {
		t.Error("the schema takes a key that does not exist")
	}
}
