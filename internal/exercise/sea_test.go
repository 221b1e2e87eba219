package exercise

import (
	"math"
	"slices"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// The thresholds of the exercises are common practice of instructors, no source.

const t0 = boat.Time(1_800_000_000_000)

// sea sails a Runner past situations at 10 Hz, and speaks what it asks for at once.
type sea struct {
	t     testing.TB
	r     *Runner
	s     Sight
	kn    float64 // of full speed
	outs  []boat.Exercise
	asked []boat.Prompt
	wants []boat.TurnWish
	mute  boat.Mute
	deafT bool // nothing is spoken
	wig   func(sec float64) (headingDeg, heelDeg, share float64)
}

func newSea(t testing.TB, steps ...boat.PlanStep) *sea {
	b := &sea{t: t, r: New(), kn: 4}
	b.r.SetPlan(&boat.Plan{Name: "test", Steps: steps})
	b.s = Sight{
		Now: t0, Settings: boat.Settings{LengthM: 4.2, LimitKn: 15},
		Wind:   boat.Wind{DirDeg: boat.Some(0), SDDeg: 3, LoDeg: 355, HiDeg: 5, Known: true, SpeedKn: boat.Some(9), SpeedSD: 1, By: "fix"},
		Target: boat.Target{BeatDeg: 44, BeatKn: 4, BeatVMG: 2.88, RunDeg: 150, RunKn: 4, RunVMG: 3.4, HereKn: 4, NoSailUp: 33, OK: true},
		TauS:   4,
		State: boat.State{PosOK: true, PosAccM: boat.Some(4), Pos: geo.Position{LatDeg: 47, LonDeg: -30}, HeadingBy: "compass",
			CompassRef: boat.Magnetic, VarDeg: 4, VarOK: true, HeelDeg: boat.Some(-8), Mount: boat.Fixed},
	}
	b.put(44, 1)
	return b
}

func single(name string) boat.PlanStep { return boat.PlanStep{Exercise: name} }

// put sets angle to the wind, starboard positive, share of speed, and the mode that follows.
func (b *sea) put(twa, share float64) {
	s := &b.s
	s.TWADeg, s.Share = boat.Some(geo.Wrap180(twa)), boat.Some(share)
	s.State.HeadingDeg = boat.Some(geo.Wrap360(s.Wind.DirDeg.Or(0) - twa))
	s.State.SpeedKn = boat.Some(share * b.kn)
	switch a := math.Abs(geo.Wrap180(twa)); {
	case share < 0.1:
		s.Mode = boat.Waiting
	case a < 58:
		s.Mode = boat.CloseHauled
	case a > 140:
		s.Mode = boat.Running
	default:
		s.Mode = boat.Reaching
	}
}

// tick lets a tenth of a second pass.
func (b *sea) tick() {
	b.s.Now += 100
	b.s.State.T = b.s.Now
	m := b.s.State.SpeedKn.Or(0) * knotMS / 10
	if m > 0 {
		b.s.State.Pos = geo.Destination(b.s.State.Pos, b.s.State.HeadingDeg.Val, m)
	}
	g, outs := b.r.Step(b.s)
	b.s.Finished = nil
	b.mute = g.Mute
	b.outs = append(b.outs, outs...)
	if g.Turn.Kind != "" && (len(b.wants) == 0 || b.wants[len(b.wants)-1].ID != g.Turn.ID) {
		b.wants = append(b.wants, g.Turn)
		if !b.deafT {
			b.r.Heard(boat.Cue{Key: boat.PrepareTack})
		}
	}
	if p := g.Prompt; p != nil && (len(b.asked) == 0 || b.asked[len(b.asked)-1].ID != p.ID) {
		b.asked = append(b.asked, *p)
		intros, results := Spoken()
		if p.Key == boat.Intro && !slices.Contains(intros, p.Variant) || p.Key == boat.Result && !slices.Contains(results, p.Variant) {
			b.t.Errorf("%s %q is not among what is spoken", p.Key, p.Variant)
		}
		if !b.deafT {
			b.r.Heard(boat.Cue{Key: p.Key, Variant: p.Variant, Amount: p.Amount})
		}
	}
}

// hold sails at an angle to the wind and a share of full speed.
func (b *sea) hold(sec, twa, share float64) *sea {
	for n := range int(sec * 10) {
		b.put(twa, share)
		if b.wig != nil {
			dh, heel, ds := b.wig(float64(n) / 10)
			b.put(twa+dh, share+ds)
			b.s.State.HeelDeg = boat.Some(heel)
		}
		b.tick()
	}
	return b
}

// ease changes angle and share evenly.
func (b *sea) ease(sec, twa, share float64) *sea {
	from, was := b.s.TWADeg.Val, b.s.Share.Val
	n := int(sec * 10)
	for i := 1; i <= n; i++ {
		part := float64(i) / float64(n)
		b.put(from+part*(twa-from), was+part*(share-was))
		b.tick()
	}
	return b
}

// turn goes through the wind by bow or stern to an angle on the other side.
func (b *sea) turn(kind string, to float64, m boat.Manoeuvre) *sea {
	start := b.s.Now
	from := b.s.TWADeg.Val
	if kind == "gybe" {
		to = from + geo.Diff(from, to)
	}
	for i := 1; i <= 80; i++ {
		b.put(from+float64(i)/80*(to-from), 0.6)
		b.s.Turn = boat.Turn{Kind: kind, Phase: boat.Turning, Start: start}
		if i > 40 {
			b.s.Turn.Phase = boat.PastEye
		}
		b.s.Mode = boat.Tacking
		if kind == "gybe" {
			b.s.Mode = boat.Gybing
		}
		b.tick()
	}
	b.s.Turn = boat.Turn{}
	m.Kind, m.Start, m.Eye = kind, start, start.After(4)
	at := b.s.Now
	m.Settled = &at
	b.s.Finished = []boat.Manoeuvre{m}
	b.put(to, 0.9)
	b.tick()
	return b
}

func (b *sea) knock(n int) bool { return b.r.Answer(b.s.Now, boat.Answer{Knocks: n}) }

// results are the outputs of finished tries.
func (b *sea) results() []boat.Exercise { return b.phase(Result) }

func (b *sea) phase(p string) (out []boat.Exercise) {
	for _, o := range b.outs {
		if o.Phase == p {
			out = append(out, o)
		}
	}
	return out
}

// one returns the only result, or fails.
func (b *sea) one() boat.Exercise {
	b.t.Helper()
	r := b.results()
	if len(r) != 1 {
		b.t.Fatalf("%d results, want one: %s", len(r), b.log())
	}
	return r[0]
}

func (b *sea) log() string {
	out := ""
	for _, o := range b.outs {
		out += "\n" + o.Name + " " + o.Phase + ": " + o.Text
	}
	return out
}

// spoken says whether the prompt was asked for.
func (b *sea) spoken(k boat.Key, variant string) bool {
	for _, p := range b.asked {
		if p.Key == k && p.Variant == variant {
			return true
		}
	}
	return false
}

func (b *sea) expect(good bool, scores map[string][2]float64) {
	b.t.Helper()
	r := b.one()
	if (r.Score["good"] == 1) != good {
		b.t.Errorf("good is %v, want %v: %s", r.Score["good"], good, r.Text)
	}
	for k, want := range scores { // order does not matter: each is checked by itself
		if got, ok := r.Score[k]; !ok || math.Abs(got-want[0]) > want[1] {
			b.t.Errorf("%s is %v (there: %v), want %g within %g", k, got, ok, want[0], want[1])
		}
	}
}
