package wind

import (
	"math"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// A boat of the polar in which speed is flat down to 45 degrees and then falls by 2 %
// a degree keeps 92 % down to 41 degrees (arithmetic). Where she was found to go no
// closer puts the wind there, on either tack; a boat that lost her speed nowhere tells
// nothing.
func TestCloseTellsTheWind(t *testing.T) {
	kn := func(a float64) float64 { return 4 * (1 - 0.02*math.Max(0, 45-a)) }
	for _, side := range []float64{1, -1} {
		e := New()
		e.Fix(start, boat.WindFix{DirDeg: boat.Some(250), Method: "hand"}, boat.State{T: start})
		told := e.At(start)
		e.Close(start.After(60), geo.Wrap360(240-side*41), side, Closest{BestDeg: 47, Kept: 0.92, SpeedKn: kn})
		found := e.At(start.After(60))
		was, is := math.Abs(geo.Diff(told.DirDeg.Val, 240)), math.Abs(geo.Diff(found.DirDeg.Val, 240))
		if is > was-4 {
			t.Errorf("side %v: the wind of 240° was thought %.1f° off and is now %.1f° off", side, was, is)
		}
		e.Close(start.After(90), 10, side, Closest{BestDeg: 47, Kept: 0.92, SpeedKn: func(float64) float64 { return 4 }})
		if after := e.At(start.After(90)); math.Abs(geo.Diff(after.DirDeg.Val, found.DirDeg.Val)) > 0.2 {
			t.Errorf("a boat that is as fast at any angle moved the wind from %v to %v", found.DirDeg, after.DirDeg)
		}
	}
}
