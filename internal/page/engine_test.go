package page

import (
	"bytes"
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/engine"
	"helmcue/internal/phonemsg"
	"helmcue/internal/replay"
	"helmcue/internal/sim"
)

const start = 1_900_000_000_000

// sailed returns the messages of a simulated session, and what the service's
// engine says to the same.
func sailed(t testing.TB, seconds int) (messages []string, outs []boat.Output) {
	t.Helper()
	s, err := sim.New("first-lesson", 1, start)
	if err != nil {
		t.Fatal(err)
	}
	set, eng := s.Settings(), engine.New()
	b, err := json.Marshal(set)
	if err != nil {
		t.Fatal(err)
	}
	messages = append(messages, `{"type":"settings","t":1900000000000,"settings":`+string(b)+`}`)
	outs = eng.Step(boat.Input{T: start, Kind: boat.SettingsIn, Settings: &set})
	for range seconds * 10 {
		for _, in := range s.Step() {
			var line bytes.Buffer
			if err := replay.WriteLine(&line, in); err != nil {
				t.Fatal(err)
			}
			messages = append(messages, strings.TrimSpace(line.String()))
			m, err := phonemsg.Decode(line.Bytes())
			if err != nil {
				t.Fatal(err)
			}
			for _, in := range phonemsg.ToInputs(m, 0, nil) {
				outs = append(outs, eng.Step(in)...)
			}
		}
	}
	return messages, outs
}

// The page's engine says what the service's says to the same messages.
func TestSameAsTheService(t *testing.T) {
	messages, want := sailed(t, 300)
	e := New()
	var got []boat.Output
	clips := 0
	for _, m := range messages {
		b, err := e.Hear([]byte(m))
		if err != nil {
			t.Fatalf("%s: %v", m, err)
		}
		var outs []boat.Output
		if err := json.Unmarshal(b, &outs); err != nil {
			t.Fatalf("%s: %v", b, err)
		}
		got = append(got, outs...)
		if bytes.Contains(b, []byte(`"clips":["`)) {
			clips++
		}
	}
	if len(got) != len(want) || len(got) < 300 {
		t.Fatalf("%d outputs, the service's engine gave %d", len(got), len(want))
	}
	cues := 0
	for i := range got {
		a, _ := json.Marshal(got[i])
		b, _ := json.Marshal(want[i])
		if !bytes.Equal(a, b) {
			t.Fatalf("output %d is %s, the service's engine says %s", i, a, b)
		}
		if got[i].Cue != nil {
			cues++
		}
	}
	if cues < 5 || clips != cues {
		t.Errorf("%d cues, %d of them with clips", cues, clips)
	}
}

func TestRefusesWhatTheServiceRefuses(t *testing.T) {
	e := New()
	for message, code := range map[string]phonemsg.Code{
		``: phonemsg.BadJSON, `{"type":"settings"}`: phonemsg.UnknownType, `{"type":"sample"}`: phonemsg.Missing,
		`{"type":"sample","t":1,"sog":-4}`: phonemsg.OutOfRange, `{"type":"input"}`: phonemsg.UnknownType,
	} {
		out, err := e.Hear([]byte(message))
		var refused *phonemsg.Error
		if out != nil || !errors.As(err, &refused) || refused.Code != code {
			t.Errorf("%s: %s, %v; want a refusal with %s", message, out, err, code)
		}
	}
	for _, quiet := range []string{`{"type":"join","v":1,"role":"sailor","token":"x"}`, `{"type":"bye"}`, `{"type":"tick","t":1900000000000}`} {
		if out, err := e.Hear([]byte(quiet)); string(out) != "[]" || err != nil {
			t.Errorf("%s: %s, %v; want nothing", quiet, out, err)
		}
	}
}

// One bad sample does not cost the others of its batch.
func TestABatchWithABadSample(t *testing.T) {
	e := New()
	out, err := e.Hear([]byte(`{"type":"samples","batch":[{"t":1900000000000,"sog":3},{"t":1900000000100,"sog":-3},{"t":1900000001000,"sog":3}]}`))
	if err == nil || bytes.Count(out, []byte(`"type":"state"`)) != 2 {
		t.Errorf("%s, %v; want two states and an error", out, err)
	}
}

// What others told the service's engine (an instructor's wind) counts here too.
func TestInputOfOthers(t *testing.T) {
	e := New()
	out, err := e.Hear([]byte(`{"type":"input","input":{"t":1900000000000,"kind":"wind_fix","source":"instructor","wind_fix":{"dir":210,"method":"chase"}}}`))
	if err != nil || !bytes.Contains(out, []byte(`wind from 210°`)) {
		t.Errorf("%s, %v", out, err)
	}
}

// BenchmarkHear is one sample as text to what the engine says as text; its floor is
// the engine's own step.
func BenchmarkHear(b *testing.B) {
	messages, _ := sailed(b, 60)
	b.Run("floor", func(b *testing.B) {
		var ins []boat.Input
		for _, m := range messages[1:] {
			d, err := phonemsg.Decode([]byte(m))
			if err != nil {
				b.Fatal(err)
			}
			ins = append(ins, phonemsg.ToInputs(d, 0, nil)...)
		}
		for b.Loop() {
			eng := engine.New()
			for _, in := range ins {
				eng.Step(in)
			}
		}
	})
	b.Run("text", func(b *testing.B) {
		for b.Loop() {
			e := New()
			for _, m := range messages {
				if _, err := e.Hear([]byte(m)); err != nil {
					b.Fatal(err)
				}
			}
		}
	})
}
