package app

import (
	"encoding/json"
	"math/rand/v2"
	"testing"

	"go.uber.org/zap"

	"helmcue/internal/boat"
	"helmcue/internal/engine"
	"helmcue/internal/phonemsg"
	"helmcue/internal/sim"
)

// adrift is a seat whose phone's link is cut and mended, on a clock of the test's.
type adrift struct {
	t    *testing.T
	data string
	seat *seat
	now  boat.Time
	said []boat.Cue  // what left the service
	at   []boat.Time // and when
	told []boat.Input
}

func newAdrift(t *testing.T, own bool) *adrift {
	a := &adrift{t: t, data: t.TempDir(), now: 1_900_000_000_000}
	files, err := newShelf(a.data, "test", zap.NewNop())
	if err != nil {
		t.Fatal(err)
	}
	a.seat = &seat{name: "Wren", files: files, log: zap.NewNop(), eng: engine.New(), now: func() boat.Time { return a.now },
		told: func(_ string, in boat.Input) { a.told = append(a.told, in) },
		said: func(_ string, o boat.Output) {
			if o.Cue != nil {
				a.said, a.at = append(a.said, *o.Cue), append(a.at, a.now)
			}
		}}
	a.seat.alone.can = own
	return a
}

// sail runs ten minutes of a lesson with twenty gaps of up to twenty seconds, what
// was kept in a gap coming in batches after it, and returns how many samples the
// phone made.
func (a *adrift) sail(seed uint64) (made int) {
	s, err := sim.New("first-lesson", seed, a.now)
	if err != nil {
		a.t.Fatal(err)
	}
	a.seat.settings = s.Settings()
	dice := rand.New(rand.NewPCG(seed, 7))
	var kept []boat.Input
	down := 0
	for tick := range 6000 {
		a.now = s.Now()
		if tick%300 == 100 {
			down = 1 + dice.IntN(200)
			a.seat.order(boat.Input{T: a.now, Kind: boat.LinkLost, Source: "service"})
		}
		for _, in := range s.Step() {
			in.Source = "phone"
			kept = append(kept, in)
			if in.Kind == boat.SampleIn {
				made++
			}
		}
		a.now = s.Now()
		if down--; down > 0 {
			continue
		}
		if down == 0 {
			a.seat.order(boat.Input{T: a.now, Kind: boat.LinkBack, Source: "service"})
		}
		n := min(len(kept), 200)
		if err := a.seat.take(kept[:n]); err != nil {
			a.t.Fatal(err)
		}
		kept = kept[n:]
	}
	if len(kept) > 0 {
		a.t.Fatalf("%d samples were left over", len(kept))
	}
	a.seat.release()
	a.seat.endRecording()
	return made
}

// Twenty gaps: the recording has every sample once and in order, no cue leaves late
// or twice, and what was not said is told as dropped.
func TestTheLinkGoesAndComes(t *testing.T) {
	for seed := range uint64(3) {
		a := newAdrift(t, true)
		made := a.sail(seed + 1)
		ins, outs := read(t, a.data)
		samples, last := 0, boat.Time(0)
		dropped := map[int]bool{}
		for _, in := range ins {
			switch in.Kind {
			case boat.SampleIn:
				if in.T <= last {
					t.Fatalf("seed %d: the sample at %d came after the one at %d", seed, in.T, last)
				}
				samples, last = samples+1, in.T
			case boat.SpokenIn:
				dropped[in.Spoken.ID] = true
			case boat.LinkLost, boat.LinkBack:
				t.Errorf("seed %d: the engine was told of the link: it would fall silent", seed)
			}
		}
		if samples != made {
			t.Errorf("seed %d: %d samples are recorded of %d", seed, samples, made)
		}
		once := map[int]bool{}
		for i, c := range a.said {
			if once[c.ID] || dropped[c.ID] {
				t.Errorf("seed %d: cue %d left twice, or left and is told as dropped", seed, c.ID)
			}
			once[c.ID] = true
			if a.at[i]-c.T > tooLate {
				t.Errorf("seed %d: cue %d left %d ms late", seed, c.ID, a.at[i]-c.T)
			}
		}
		cues := 0
		for _, o := range outs {
			if o.Cue != nil {
				cues++
			}
		}
		if cues != len(a.said)+len(dropped) || len(dropped) == 0 || len(a.said) == 0 {
			t.Errorf("seed %d: %d cues, %d said and %d dropped", seed, cues, len(a.said), len(dropped))
		}
	}
}

// What the engine was given is in the recording, so the same comes out again; and
// it is what an engine says that was never cut off, but for what it learnt of cues
// that nobody heard.
func TestGapsReplay(t *testing.T) {
	a := newAdrift(t, true)
	a.sail(1)
	ins, outs := read(t, a.data)
	eng := engine.New()
	var again []boat.Output
	for _, in := range ins {
		again = append(again, eng.Step(in)...)
	}
	if len(again) != len(outs) {
		t.Fatalf("%d outputs on replay, %d were recorded", len(again), len(outs))
	}
	for i := range outs {
		x, _ := json.Marshal(outs[i])
		y, _ := json.Marshal(again[i])
		if string(x) != string(y) {
			t.Fatalf("output %d was %s and is %s on replay", i, x, y)
		}
	}
}

// An instructor's wind that was told in a gap is taken in its turn, and told to the
// phone, whose coach must know it too.
func TestActsInAGap(t *testing.T) {
	a := newAdrift(t, true)
	at := func(ms boat.Time) boat.Input {
		in := sample(1_900_000_000_000+ms, 3)
		a.now = max(a.now, in.T)
		return in
	}
	a.seat.take([]boat.Input{at(0), at(1000)})
	a.seat.order(boat.Input{T: a.now, Kind: boat.LinkLost, Source: "service"})
	a.now += 60_000
	wind := boat.Input{T: 1_900_000_030_000, Kind: boat.WindFixIn, Source: "instructor", WindFix: &boat.WindFix{DirDeg: boat.Some(200), Method: "chase"}}
	level := boat.Input{T: 1_900_000_031_000, Kind: boat.ActIn, Source: "instructor", Act: &boat.Act{Act: "level", Text: "expert"}}
	a.seat.take([]boat.Input{wind, level})
	if len(a.told) != 0 {
		t.Fatal("told to a phone that is away")
	}
	a.seat.take([]boat.Input{sample(1_900_000_020_000, 3), sample(1_900_000_040_000, 3), at(61_000)})
	a.seat.endRecording()
	ins, _ := read(t, a.data)
	var got []boat.Kind
	for _, in := range ins[1:] {
		got = append(got, in.Kind)
	}
	want := []boat.Kind{boat.SampleIn, boat.SampleIn, boat.SampleIn, boat.WindFixIn, boat.SettingsIn, boat.ActIn, boat.SampleIn, boat.SampleIn}
	x, _ := json.Marshal(got)
	if y, _ := json.Marshal(want); string(x) != string(y) {
		t.Errorf("recorded %s, want %s", x, y)
	}
	if len(a.told) != 3 || a.told[0].WindFix == nil || a.told[2].Settings == nil || a.told[2].Settings.Level != boat.Expert {
		t.Errorf("the phone was told %+v", a.told)
	}
}

// Where this machine's loudspeaker is in the boat, or the phone cannot speak by
// itself, the engine is told at once that the phone is lost.
func TestWhoIsToldOfALoss(t *testing.T) {
	for name, c := range map[string]struct{ own, here, want bool }{
		"a phone that speaks":   {true, false, false},
		"one that does not":     {false, false, true},
		"a loudspeaker in boat": {true, true, true},
	} {
		a := newAdrift(t, c.own)
		a.seat.speaksHere = c.here
		a.seat.take([]boat.Input{sample(a.now, 3), {T: a.now, Kind: boat.LinkLost, Source: "service"}})
		a.seat.endRecording()
		ins, _ := read(t, a.data)
		if got := ins[len(ins)-1].Kind == boat.LinkLost; got != c.want {
			t.Errorf("%s: the engine knows of the loss: %t", name, got)
		}
	}
}

// A phone that comes home with another day's sailing makes a session of its own of it.
func TestAnotherOuting(t *testing.T) {
	a := newAdrift(t, true)
	yesterday := a.now - 20*3600*1000
	a.seat.take([]boat.Input{sample(yesterday, 3), sample(yesterday+100, 3), sample(a.now, 3)})
	own := boat.Cue{T: a.now, ID: 1000001, Key: boat.BearAway, Words: "bear away slightly"}
	a.seat.take(phonemsg.ToInputs(phonemsg.Msg{Type: "spoken", T: a.now, Spoken: &boat.Spoken{ID: own.ID, What: "started", Own: &own}}, a.now, nil))
	first := a.seat.rec.session
	a.seat.endRecording()
	if first != "2030-03-17T17-46-40Z_Wren" {
		t.Errorf("the second session is called %s", first)
	}
}
