package polar

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"helmcue/internal/geo"
)

// What a learner's dinghy does: common practice, no source.
func TestGenericHullIsPlausible(t *testing.T) {
	for _, jib := range []bool{true, false} {
		p := must(t, Generic(4.2, jib))
		beat := [2]float64{43, 47.5}
		if !jib {
			beat = [2]float64{47, 50}
		}
		for w := 6.0; w <= 12; w++ {
			got := p.Target(w, 90)
			if !got.OK || got.BeatDeg < beat[0] || got.BeatDeg > beat[1] {
				t.Errorf("jib %v, %v kn: best angle %.1f, expected %v", jib, w, got.BeatDeg, beat)
			}
			if got.RunDeg < 140 || got.RunDeg > 170 || got.NoSailUp < 30 || got.NoSailUp > 40 {
				t.Errorf("jib %v, %v kn: run %.1f, no sail below %.1f", jib, w, got.RunDeg, got.NoSailUp)
			}
		}
		if got := p.Target(10, 45); got.BeatKn < 3 || got.BeatKn > 3.5 {
			t.Errorf("jib %v: %.2f kn close-hauled in 10 kn, expected 3 to 3.5", jib, got.BeatKn)
		}
		if a, b := p.Target(3, 90).BeatDeg, p.Target(10, 90).BeatDeg; a < b+1 {
			t.Errorf("jib %v: expected a wider angle in light air, got %.1f and %.1f", jib, a, b)
		}
		if v := p.Speed(10, 25); v != 0 {
			t.Errorf("jib %v: sails at 25° off the wind with %v kn", jib, v)
		}
	}
	if a, b := must(t, Generic(4.2, true)).Target(10, 90), must(t, Generic(4.2, false)).Target(10, 90); a.BeatVMG <= b.BeatVMG {
		t.Errorf("expected the jib to help to windward, got %.2f and %.2f", a.BeatVMG, b.BeatVMG)
	}
}

// Froude's law: speed over the square root of length is the same at the same wind
// over the square root of length.
func TestGenericHullScalesByFroude(t *testing.T) {
	small, large := must(t, Generic(3, true)), must(t, Generic(6, true))
	k := math.Sqrt2
	for _, a := range []float64{50, 90, 120, 150} {
		if s, l := small.Speed(10, a), large.Speed(10*k, a); math.Abs(l/s/k-1) > 0.01 {
			t.Errorf("at %v°: %.3f kn at 3 m and %.3f kn at 6 m", a, s, l)
		}
	}
}

func TestGenericHullHasOneBestAngleEachWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, err := New(Generic(rapid.Float64Range(2, 12).Draw(t, "m"), rapid.Bool().Draw(t, "jib")))
		if err != nil {
			t.Fatal(err)
		}
		w := rapid.Float64Range(2, 25).Draw(t, "kn")
		for _, way := range [][2]float64{{0, 90}, {90, 180}} {
			var turns int
			rising := true
			last := 0.0
			for a := way[0]; a <= way[1]; a += 0.5 {
				v := p.Speed(w, a)
				if v > 12 || v < 0 {
					t.Fatalf("%.1f kn of wind at %v°: %v kn", w, a, v)
				}
				made := math.Abs(v * math.Cos(geo.Rad(a)))
				if rising && made < last-1e-3 || !rising && made > last+1e-3 {
					rising = !rising
					turns++
				}
				last = made
			}
			if turns != 1 {
				t.Fatalf("%.1f kn of wind, %v: the speed made good turns %d times, expected once", w, way, turns)
			}
		}
	})
}

func TestGenericHullOfAnyLength(t *testing.T) {
	for _, m := range []float64{0, -1, math.NaN(), math.Inf(1), 1000} {
		if _, err := New(Generic(m, true)); err != nil {
			t.Errorf("%v m: %v", m, err)
		}
	}
}
