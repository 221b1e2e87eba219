package shift

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"helmcue/internal/boat"
)

// Whatever the sensors send, what is reported is finite and its number never falls.
func TestAnythingIsTaken(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		watch, w := New(), newWorld(rapid.Uint64().Draw(t, "seed"))
		wild := rapid.Custom(func(t *rapid.T) boat.Reading {
			v := rapid.SampledFrom([]float64{0, -1, 359.9, 720, 1e9, -1e9, math.NaN(), math.Inf(1), math.Inf(-1)}).Draw(t, "value")
			return boat.Reading{Val: v, OK: rapid.Bool().Draw(t, "known")}
		})
		every := rapid.IntRange(2, 40).Draw(t, "every")
		id := 0
		for i := range 400 {
			s := w.next()
			if i%every == 0 {
				s.State.HeadingDeg, s.State.SpeedKn, s.TWADeg = wild.Draw(t, "heading"), wild.Draw(t, "speed"), wild.Draw(t, "angle")
			}
			got := watch.Step(s)
			for _, v := range []float64{got.LiftDeg, got.SDDeg, got.PeriodS.Or(0), got.SwingDeg.Or(0), got.Close.HeadingDeg} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("at %d s: %+v", i, got)
				}
			}
			if got.ID < id {
				t.Fatalf("the number fell from %d to %d", id, got.ID)
			}
			id = got.ID
		}
		// It has not gone deaf: the tests of this tack hold numbers still.
		for _, k := range watch.tack {
			if math.IsNaN(k.sum.mean) || math.IsNaN(k.slow.mean) || math.IsNaN(k.sum.lnKn) {
				t.Fatalf("a mean is lost: %+v", k)
			}
		}
	})
}
