package wind

import (
	"math"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// A beat on both tacks keeps the wind known for hours, and follows it as it veers
// by five degrees every ten minutes: within the bar of four degrees for a steady beat.
func TestBeatKeepsTheWind(t *testing.T) {
	e := New()
	e.Fix(start, boat.WindFix{DirDeg: boat.Some(230), Method: "hand"}, boat.State{T: start})
	var legs []stretch
	for i, l := range beatTo(230, 80) {
		l.hdg = geo.Wrap360(l.hdg + 5*float64(i)/6)
		legs = append(legs, l)
	}
	seconds, worst, sum := 0, 0.0, 0.0
	sailStretches(e, legs, world{}, func(w boat.Wind) {
		truth := 230 + 5*float64(seconds/98)/6
		seconds++
		if !w.Known {
			t.Fatalf("after %d s the wind is not known: %+v", seconds, w)
		}
		off := geo.Diff(w.DirDeg.Val, truth)
		worst = math.Max(worst, math.Abs(off))
		sum += off * off
	})
	if rms := math.Sqrt(sum / float64(seconds)); seconds < 7200 || worst > 9 || rms > 4 {
		t.Errorf("over %d s off by %.1f° rms, up to %.1f°", seconds, rms, worst)
	}
}

// A shift of ten degrees in the middle of a leg, which she follows by the luff, is
// followed by more than half within two minutes.
func TestShiftIsFollowed(t *testing.T) {
	e := New()
	legs := append(beatTo(230, 5), stretch{turnS: 10, forS: 120, hdg: 230 - 46 + 10, kn: 3, heel: -9})
	var last boat.Wind
	sailStretches(e, legs, world{}, func(w boat.Wind) { last = w })
	if moved := geo.Diff(230, last.DirDeg.Val); !last.Known || moved < 5 || moved > 12 {
		t.Errorf("followed by %.1f°: %+v", moved, last)
	}
}
