package sim_test

import (
	"math"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/sim"
)

// twin is one session twice: told hears the cue at the second at, alone does not.
// Until then both are the same.
func twin(t *testing.T, p *sim.Prepared, seed uint64, at float64, c boat.Cue) (told, alone *sim.Sim) {
	t.Helper()
	told, alone = p.Make(seed, begin), p.Make(seed, begin)
	for range int(at * 10) {
		told.Step()
		alone.Step()
	}
	if told.Truth() != alone.Truth() {
		t.Fatal("the same seed sails two ways")
	}
	told.Hear(c)
	return told, alone
}

func steps(s *sim.Sim, seconds float64) {
	for range int(seconds * 10) {
		s.Step()
	}
}

// A cue mostly changes what it asks, the way it asks, after one to four seconds;
// now and then it is missed.
func TestTheLearnerAnswers(t *testing.T) {
	t.Parallel()
	cases := []struct {
		cue  boat.Cue
		what func(sim.Truth) float64 // falls when the cue is obeyed
	}{
		{boat.Cue{Key: boat.HeadUp, Amount: boat.Some(10)}, func(s sim.Truth) float64 { return math.Abs(s.TWADeg) }},
		{boat.Cue{Key: boat.BearAway, Amount: boat.Some(10)}, func(s sim.Truth) float64 { return -math.Abs(s.TWADeg) }},
		{boat.Cue{Key: boat.Ease, Size: boat.More}, func(s sim.Truth) float64 { return -s.SheetDeg }},
		{boat.Cue{Key: boat.Trim}, func(s sim.Truth) float64 { return s.SheetDeg }},
		{boat.Cue{Key: boat.LuffTest}, func(s sim.Truth) float64 { return math.Abs(s.SheetErrDeg()) }},
		{boat.Cue{Key: boat.LetGo}, func(s sim.Truth) float64 { return -s.SheetDeg }},
	}
	lesson := prepared(t, "first-lesson")
	for _, c := range cases {
		obeyed, missed, against, n := 0, 0, 0, 0
		for seed := uint64(1); seed <= 60 && n < 40; seed++ {
			told, alone := twin(t, lesson, seed, 32, c.cue)
			if c.cue.Key == boat.LuffTest && c.what(alone.Truth()) < 4 {
				continue // the sheet is right: nothing to be found
			}
			n++
			steps(told, 0.9)
			steps(alone, 0.9)
			if math.Abs(c.what(told.Truth())-c.what(alone.Truth())) > 2 {
				t.Errorf("%s, seed %d: obeyed within a second", c.cue.Key, seed)
			}
			steps(told, 5.6)
			steps(alone, 5.6)
			switch d := c.what(told.Truth()) - c.what(alone.Truth()); {
			case d < -1.5:
				obeyed++
			case d > 4:
				against++
			default:
				missed++
			}
		}
		if obeyed < n*6/10 || against > n/10 {
			t.Errorf("%s: obeyed %d, missed %d, against %d times of %d", c.cue.Key, obeyed, missed, against, n)
		}
		if n < 20 {
			t.Errorf("%s: only %d sessions had anything to ask for", c.cue.Key, n)
		}
		if c.cue.Key != boat.LetGo && missed == 0 {
			t.Errorf("%s: a learner who never misses a cue", c.cue.Key)
		}
	}
}

// A heading is given as the boat's compass shows it.
func TestSteersTheHeadingNamed(t *testing.T) {
	t.Parallel()
	right, p := 0, prepared(t, "first-lesson")
	for seed := uint64(1); seed <= 20; seed++ {
		s := p.Make(seed, begin)
		steps(s, 32)
		want := geo.Wrap360(s.Truth().HeadingDeg + math.Copysign(20, -s.Truth().TWADeg)) // lower by 20
		s.Hear(boat.Cue{Key: boat.SteerTo, Amount: boat.Some(geo.Wrap360(want - s.VarDeg())), Ref: boat.Magnetic})
		steps(s, 14)
		if math.Abs(geo.Diff(s.Truth().HeadingDeg, want)) < 10 {
			right++
		}
	}
	if right < 12 {
		t.Errorf("the heading was steered %d times of 20", right)
	}
}

func TestTacksWhenTold(t *testing.T) {
	t.Parallel()
	tacked, p := 0, prepared(t, "first-lesson")
	for seed := uint64(1); seed <= 20; seed++ {
		s := p.Make(seed, begin)
		steps(s, 35)
		side := math.Signbit(s.Truth().TWADeg)
		s.Hear(boat.Cue{Key: boat.PrepareTack})
		s.Hear(boat.Cue{Key: boat.TurnNow})
		steps(s, 22)
		if math.Signbit(s.Truth().TWADeg) != side {
			tacked++
		}
	}
	if tacked < 12 {
		t.Errorf("she tacked %d times of 20 when told", tacked)
	}
}

// The word that helps out of irons shortens them.
func TestIronsAreLeftSoonerWhenTold(t *testing.T) {
	t.Parallel()
	alone, told, spells := 0.0, 0.0, 0
	p := prepared(t, "light-air")
	for seed := uint64(1); seed <= 12 && spells < 8; seed++ {
		a, b := p.Make(seed, begin), p.Make(seed, begin)
		for range 1500 * 10 {
			a.Step()
			b.Step()
			if now := a.Truth(); now.Mode == boat.Irons && now.T > begin.After(30) {
				break
			}
		}
		if a.Truth().Mode != boat.Irons {
			continue
		}
		spells++
		b.Hear(boat.Cue{Key: boat.InIrons})
		alone += leave(a)
		told += leave(b)
	}
	if spells < 4 || told > 0.8*alone {
		t.Errorf("%d spells in irons last %.0f s alone and %.0f s when told what to do", spells, alone, told)
	}
}

// leave is how long she stays in irons, seconds.
func leave(s *sim.Sim) float64 {
	from := s.Now()
	for s.Truth().Mode == boat.Irons && s.Now().Seconds(from) < 120 {
		s.Step()
	}
	return s.Now().Seconds(from)
}
