package engine

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"helmcue/internal/boat"
	"helmcue/internal/sim"
)

// streams draws sessions as no boat sends them: readings that leap, come and go,
// times that go back and forth, settings and acts in the middle of a turn.
func streams() *rapid.Generator[[]boat.Input] {
	return rapid.Custom(func(t *rapid.T) []boat.Input {
		at := scriptStart
		if rapid.IntRange(0, 9).Draw(t, "odd clock") == 0 {
			at = boat.Time(rapid.Int64Range(-1e12, 1e12).Draw(t, "start"))
		}
		base := drawSample(t, true)
		var out []boat.Input
		for range rapid.IntRange(1, 60).Draw(t, "n") {
			at += step(t)
			in := drawInput(t, at, base)
			// A run of samples, as a phone sends them, so that something is sailed.
			for range rapid.SampledFrom([]int{1, 1, 5, 40}).Draw(t, "run") {
				in.T = at
				out = append(out, in)
				at += 100
			}
			at -= 100
		}
		return out
	})
}

// spoilt draws a simulated session with holes, leaps of the clock, late samples and
// strange inputs in it: unlike streams it sails, tacks and is coached.
func spoilt() *rapid.Generator[[]boat.Input] {
	return rapid.Custom(func(t *rapid.T) []boat.Input {
		name := rapid.SampledFrom(sim.Scenes()).Draw(t, "scene").Name
		s, err := sim.New(name, rapid.Uint64Range(1, 50).Draw(t, "seed"), scriptStart)
		if err != nil {
			t.Fatal(err)
		}
		set := s.Settings()
		out := []boat.Input{{T: scriptStart, Kind: boat.SettingsIn, Settings: &set}}
		for range 900 {
			out = append(out, s.Step()...)
		}
		for range rapid.IntRange(0, 12).Draw(t, "faults") {
			from := rapid.IntRange(0, len(out)-1).Draw(t, "from")
			to := min(len(out), from+rapid.IntRange(1, 300).Draw(t, "for"))
			switch rapid.IntRange(0, 3).Draw(t, "fault") {
			case 0: // never came
				out = slices.Delete(out, from, max(to-1, from))
			case 1: // came late
				slices.Reverse(out[from:to])
			case 2: // the clock was set
				by := step(t)
				for i := from; i < to; i++ {
					out[i].T += by
				}
			default:
				out = slices.Insert(out, from, drawInput(t, out[from].T, drawSample(t, false)))
			}
		}
		return out
	})
}

func step(t *rapid.T) boat.Time {
	ms := rapid.Int64Range(0, 3000)
	switch rapid.IntRange(0, 19).Draw(t, "leap") {
	case 0:
		ms = rapid.Int64Range(-10_000, 0)
	case 1:
		ms = rapid.Int64Range(-3_600_000, 3_600_000)
	case 2:
		ms = rapid.Int64Range(0, 600_000)
	}
	return boat.Time(ms.Draw(t, "ms"))
}

func drawReading(t *rapid.T, lo, hi float64) boat.Reading {
	switch rapid.IntRange(0, 29).Draw(t, "is") {
	case 0:
		return boat.Reading{}
	case 1:
		return boat.Some(rapid.Float64Range(-1e9, 1e9).Draw(t, "wild"))
	}
	return boat.Some(rapid.Float64Range(lo, hi).Draw(t, "v"))
}

func drawSample(t *rapid.T, whole bool) boat.Sample {
	s := boat.Sample{
		LatDeg: drawReading(t, 47.9, 48.1), LonDeg: drawReading(t, 11.9, 12.1), AccM: drawReading(t, 1, 30),
		SOGKn: drawReading(t, 0, 6), COGDeg: drawReading(t, 0, 360), HeadingDeg: drawReading(t, 0, 360),
		HeadingRef: rapid.SampledFrom([]boat.Ref{boat.True, boat.Magnetic, ""}).Draw(t, "ref"),
		HeelDeg:    drawReading(t, -40, 40), YawDps: drawReading(t, -25, 25), Batt: drawReading(t, 0, 1),
		Mount: rapid.SampledFrom([]boat.Mount{boat.Fixed, boat.Worn, ""}).Draw(t, "mount"),
	}
	if !whole {
		s.PitchDeg, s.WaterKn, s.VarDeg = drawReading(t, -20, 20), drawReading(t, 0, 6), drawReading(t, -10, 10)
		s.AWADeg, s.AWSKn = drawReading(t, -180, 180), drawReading(t, 0, 25)
		s.TWADeg, s.TWSKn, s.TWDDeg = drawReading(t, -180, 180), drawReading(t, 0, 25), drawReading(t, 0, 360)
	}
	return s
}

func drawInput(t *rapid.T, at boat.Time, base boat.Sample) boat.Input {
	in := boat.Input{T: at, Kind: rapid.SampledFrom(boat.Kinds()).Draw(t, "kind")}
	if rapid.IntRange(0, 2).Draw(t, "mostly samples") > 0 {
		in.Kind = boat.SampleIn
	}
	if rapid.IntRange(0, 19).Draw(t, "empty") == 0 {
		return in // a kind without what it should carry
	}
	switch in.Kind {
	case boat.SampleIn:
		s := base
		if rapid.IntRange(0, 3).Draw(t, "new") == 0 {
			s = drawSample(t, rapid.Bool().Draw(t, "whole"))
		}
		in.Sample = &s
	case boat.WindFixIn:
		in.WindFix = &boat.WindFix{
			DirDeg: drawReading(t, 0, 360), SDDeg: drawReading(t, 0, 40), Kn: drawReading(t, 0, 30),
			Method: rapid.SampledFrom([]string{"hand", "pointed", "head_to_wind", "meter", "chase", "forecast", "guess"}).Draw(t, "method"),
		}
	case boat.SettingsIn:
		in.Settings = &boat.Settings{
			Level: rapid.SampledFrom(boat.Levels()).Draw(t, "level"), LengthM: rapid.SampledFrom([]float64{0, 3, 4.2, 12}).Draw(t, "length"),
			Jib: rapid.Bool().Draw(t, "jib"), IgnoreWind: rapid.Bool().Draw(t, "ignore"), LimitKn: rapid.SampledFrom([]float64{0, 8, 40}).Draw(t, "limit"),
			Polar: rapid.SampledFrom([]*boat.PolarTable{nil, {TWSKn: []float64{4, 2}}}).Draw(t, "polar"),
		}
	case boat.AnswerIn:
		in.Answer = &boat.Answer{Knocks: rapid.IntRange(0, 4).Draw(t, "knocks"), Done: rapid.Bool().Draw(t, "done")}
	case boat.ActIn:
		in.Act = &boat.Act{
			Act:    rapid.SampledFrom([]string{"say", "mark", "quiet", "resume", "tack", "gybe", "dance"}).Draw(t, "act"),
			Phrase: rapid.SampledFrom([]string{"", "follow_me", "no_such"}).Draw(t, "phrase"),
		}
	case boat.SpokenIn:
		in.Spoken = &boat.Spoken{ID: rapid.IntRange(0, 9).Draw(t, "id"), What: rapid.SampledFrom([]string{"started", "finished", "dropped", "failed"}).Draw(t, "what")}
	}
	return in
}

// lines runs a stream and returns its outputs as lines, each rendered twice: at
// once and after the whole run, since what Step returns is the caller's to keep.
func lines(t *rapid.T, inputs []boat.Input) (out []boat.Output, text []byte) {
	eng := New()
	var kept [][]boat.Output
	var atOnce []byte
	for _, in := range inputs {
		outs := eng.Step(in)
		kept = append(kept, outs)
		atOnce = append(atOnce, render(t, outs)...)
	}
	out = slices.Concat(kept...)
	text = render(t, out)
	if !bytes.Equal(atOnce, text) {
		t.Fatal("what Step returned changed afterwards")
	}
	return out, text
}

func render(t *rapid.T, outs []boat.Output) []byte {
	var text []byte
	for _, o := range outs {
		b, err := json.Marshal(o)
		if err != nil {
			t.Fatalf("an output that cannot be written (not a number?): %v", err)
		}
		text = append(append(text, b...), '\n')
	}
	return text
}

func TestAnyStream(t *testing.T) { holds(t, streams()) }

func TestSpoiltSessions(t *testing.T) {
	if cues := holds(t, spoilt()); cues == 0 {
		t.Error("not one cue in all the sessions: they test nothing")
	}
}

// holds checks what is promised of every stream and returns how many cues there were.
func holds(t *testing.T, gen *rapid.Generator[[]boat.Input]) (cues int) {
	rapid.Check(t, func(t *rapid.T) {
		inputs := gen.Draw(t, "inputs")
		out, text := lines(t, inputs)
		for _, o := range out {
			if o.Cue != nil {
				cues++
			}
		}
		if _, again := lines(t, inputs); !bytes.Equal(text, again) {
			t.Fatal("the same inputs gave two sessions")
		}
		inOrder(t, out)
		everySecond(t, inputs, out)
	})
	return cues
}

func inOrder(t *rapid.T, out []boat.Output) {
	last, id := boat.Time(math.MinInt64), 0
	for _, o := range out {
		if o.Manoeuvre == nil && o.Time() < last { // a manoeuvre is told after it was
			t.Fatalf("%s at %d comes after %d", o.Type(), o.Time(), last)
		}
		last = max(last, o.Time())
		if c := o.Cue; c != nil {
			if c.ID <= id || c.Expires <= c.T || c.Words == "" || c.Why == "" {
				t.Fatalf("after cue %d: %+v", id, *c)
			}
			id = c.ID
		}
	}
}

// everySecond: from the first sample on a state stands for each second of input
// time, silences up to ten minutes included; after a longer one they begin anew.
func everySecond(t *rapid.T, inputs []boat.Input, out []boat.Output) {
	first := slices.IndexFunc(inputs, func(in boat.Input) bool { return in.Kind == boat.SampleIn })
	var states []boat.Time
	for _, o := range out {
		if o.Status != nil {
			states = append(states, o.Status.T)
		}
	}
	if first < 0 {
		if len(states) > 0 {
			t.Fatal("a state before any sample")
		}
		return
	}
	furthest := inputs[0].T
	for _, in := range inputs[:first+1] {
		furthest = max(furthest, in.T)
	}
	due := []boat.Time{furthest}
	for _, in := range inputs[first:] {
		if in.T-furthest > breakMS {
			due = append(due, in.T)
		}
		furthest = max(furthest, in.T)
		for due[len(due)-1]+secondMS <= furthest {
			due = append(due, due[len(due)-1]+secondMS)
		}
	}
	if !slices.Equal(states, due) {
		t.Fatalf("states at %v, want %v", states, due)
	}
}
