package engine

import (
	"math"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/sim"
)

// toldCurrent sails a scenario and returns what was noted of the current, and what
// the status showed last.
func toldCurrent(t *testing.T, name string, seed uint64, minutes int) (notes []boat.Note, last boat.Status) {
	t.Helper()
	c, err := sim.Named(name)
	if err != nil {
		t.Fatal(err)
	}
	if c.Water.DriftKn > 0 {
		c.Water.DriftKn = driftKn
	}
	s, err := sim.Make(c, seed, scriptStart)
	if err != nil {
		t.Fatal(err)
	}
	e, set := New(), s.Settings()
	e.Step(boat.Input{T: s.Now(), Kind: boat.SettingsIn, Settings: &set})
	for range minutes * 600 {
		for _, in := range s.Step() {
			for _, o := range e.Step(in) {
				if o.Note != nil && o.Note.Code == "current" {
					notes = append(notes, *o.Note)
				}
				if o.Status != nil {
					last = *o.Status
				}
			}
		}
	}
	return notes, last
}

// A knot is told within half an hour of tacking. Half a knot, which the phone's compass
// may be to blame for, is not told in that time: the learner doubts.
const driftKn = 1.0

// The simulated water is the judge: a knot to the north-west, and none.
func TestACurrentIsToldWhereThereIsOne(t *testing.T) {
	told := 0
	for seed := range uint64(2) {
		notes, last := toldCurrent(t, "tide-across", seed+1, 30)
		if n := len(notes); n > 3 {
			t.Errorf("seed %d: told %d times", seed, n)
		}
		for _, n := range notes {
			t.Logf("seed %d: %.0f s: %s", seed, n.T.Seconds(scriptStart), n.Text)
		}
		if !last.SetDeg.OK {
			continue
		}
		told++
		if off := math.Abs(geo.Diff(315, last.SetDeg.Val)); off > 40 || math.Abs(last.DriftKn.Val-driftKn) > 0.5 {
			t.Errorf("seed %d: shown towards %.0f, %.1f kn; it goes to 315, 1 kn", seed, last.SetDeg.Val, last.DriftKn.Val)
		}
	}
	if told == 0 {
		t.Error("never told")
	}
}

func TestNoCurrentIsToldInStillWater(t *testing.T) {
	for _, name := range []string{"bad-compass", "to-and-fro"} {
		notes, _ := toldCurrent(t, name, 5, 20)
		for _, n := range notes {
			t.Errorf("%s: %.0f s: %s", name, n.T.Seconds(scriptStart), n.Text)
		}
	}
}

func TestACurrentIsToldOnceAndAgainWhenItChanges(t *testing.T) {
	var r stream
	at, told := scriptStart, []float64{}
	run := func(s int, c boat.Current) {
		for range s {
			at = at.After(1)
			if r.see(at, c) {
				told = append(told, c.DriftKn())
			}
		}
	}
	run(400, boat.Current{EastKn: 0.25, SDKn: 0.02, OK: true})
	run(400, boat.Current{EastKn: 0.6, SDKn: 0.4, OK: true})
	if len(told) != 0 {
		t.Errorf("weak or in doubt: told %v", told)
	}
	run(20, boat.Current{EastKn: 0.5, SDKn: 0.1, OK: true})
	run(5, boat.Current{EastKn: 0.1, SDKn: 0.1, OK: true})
	run(20, boat.Current{EastKn: 0.5, SDKn: 0.1, OK: true})
	if len(told) != 0 {
		t.Errorf("not steady: told %v", told)
	}
	run(900, boat.Current{EastKn: 0.5, SDKn: 0.1, OK: true})
	run(900, boat.Current{EastKn: 0.6, SDKn: 0.1, OK: true})
	if len(told) != 1 || !r.shown {
		t.Errorf("steady: told %v, shown %v", told, r.shown)
	}
	run(400, boat.Current{EastKn: -0.5, SDKn: 0.1, OK: true})
	if len(told) != 2 {
		t.Errorf("turned: told %v", told)
	}
	run(10, boat.Current{EastKn: -0.1, SDKn: 0.1, OK: true})
	if r.shown {
		t.Error("shown where it is gone")
	}
}
