package cue

import (
	"testing"

	"helmcue/internal/boat"
)

// BenchmarkDecide is one decision of a boat sailed with faults, over ten
// minutes; the floor beside it only copies the situation.
func BenchmarkDecide(b *testing.B) {
	b.Run("floor", func(b *testing.B) {
		s := wellSailed(boat.Improver)
		var tr trace
		for b.Loop() {
			s.Now += 100
			tr.add(s)
		}
	})
	b.Run("decide", func(b *testing.B) {
		c, s := New(1), wellSailed(boat.Improver)
		i := 0
		for b.Loop() {
			s.Now += 100
			i++
			s.angle(44 + float64(i/300%20))
			s.pace(0.95)
			c.Decide(s)
		}
	})
}
