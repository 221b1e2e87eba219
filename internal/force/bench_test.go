package force

import (
	"math"
	"testing"
)

// floor is what a model of this kind cannot do without: twelve angles turned into
// sine and cosine and two directions found.
func floor(x float64) float64 {
	for i := range 12 {
		sin, cos := math.Sincos(x + float64(i))
		x += 1e-9 * sin * cos
	}
	return x + 1e-9*math.Atan2(x, 1) + 1e-9*math.Atan2(1, x)
}

func BenchmarkStep(b *testing.B) {
	bt, s := dinghy(), State{Heading: -0.8, U: 1.5}
	b.Run("floor", func(b *testing.B) {
		x := 0.3
		for b.Loop() {
			x = floor(x)
		}
	})
	b.Run("step", func(b *testing.B) {
		for b.Loop() {
			bt.Step(&s, Controls{Sheet: .15}, Wind{MS: 4.5}, .05)
			s.Heading = -0.8
		}
	})
}

// BenchmarkBook is trying every sheet on every course, once for a boat, beside the
// steps of ten minutes of sailing.
func BenchmarkBook(b *testing.B) {
	b.Run("floor", func(b *testing.B) {
		bt := dinghy()
		for b.Loop() {
			s := State{U: 1}
			for range 10 * 60 * 20 {
				bt.Step(&s, Controls{Sheet: 0.7}, Wind{From: 1.5, MS: 4.5}, 0.05)
			}
		}
	})
	b.Run("book", func(b *testing.B) {
		for b.Loop() {
			dinghy().Book()
		}
	})
}
