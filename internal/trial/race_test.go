package trial

import (
	"math"
	"reflect"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// The race is a race: the wind shifts, she tacks and gybes through the right wind,
// beats and runs at angles and speeds a yacht has, and the receiver shows every so
// many seconds where she is.
func TestRace(t *testing.T) {
	tacks, gybes, steps, fixes := 0, 0, 0, 0
	for seed := range uint64(5) {
		c := newRace(seed, five())
		last := c.Truth()
		var beats []float64
		for range 7200 * 10 {
			fixes += len(c.Step())
			if c.ticks%10 != 0 {
				continue
			}
			now := c.Truth()
			if now.TWADeg*last.TWADeg < 0 {
				if ahead := math.Abs(now.TWADeg) < 90; ahead {
					tacks++
				} else {
					gybes++
				}
				if ahead := math.Abs(now.TWADeg) < 90; c.turning != boat.Unknown && ahead != (c.turning == boat.Tacking) {
					t.Errorf("seed %d, %.0f s: the wind crosses at %.0f° while %v", seed, c.second(), now.TWADeg, c.turning)
				}
			}
			if now.Mode == boat.CloseHauled && now.AimDeg < 60 {
				beats = append(beats, math.Abs(now.TWADeg))
			}
			if !(now.STWKn >= 0 && now.STWKn < 7.5 && now.TWSKn > 1 && now.TWSKn < 16) {
				t.Fatalf("seed %d: %+v", seed, now)
			}
			last = now
		}
		steps += len(c.steps)
		if m := median(beats); !(m > 36 && m < 58) {
			t.Errorf("seed %d: she beats at %.0f°", seed, m)
		}
	}
	if tacks < 50 || gybes < 20 || steps < 5 || fixes != 5*7200/5 {
		t.Errorf("in ten hours %d tacks, %d gybes, %d lasting shifts, %d positions", tacks, gybes, steps, fixes)
	}
}

// The same seed sails the same race; the receiver's pace changes nothing of it.
func TestRaceIsItsSeed(t *testing.T) {
	a, b, other := newRace(3, lake()), newRace(3, five()), newRace(4, lake())
	for range 20000 {
		a.Step()
		b.Step()
		other.Step()
	}
	if !reflect.DeepEqual(a.Truth(), b.Truth()) {
		t.Errorf("%+v\n%+v", a.Truth(), b.Truth())
	}
	if math.Abs(geo.Diff(a.Truth().TWDDeg, other.Truth().TWDDeg)) < 1e-9 {
		t.Error("another seed has the same wind")
	}
}

func five() weather {
	w := lake()
	w.everyS = 5
	return w
}
