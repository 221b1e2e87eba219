package trial

import "testing"

// BenchmarkSession is five minutes of a scenario sailed and scored; its floor is the
// simulator sailing alone.
func BenchmarkSession(b *testing.B) {
	const minutes = 5
	sc := scenarios()[0]
	m, err := sc.prepare()
	if err != nil {
		b.Fatal(err)
	}
	b.Run("floor", func(b *testing.B) {
		for b.Loop() {
			w := m(1)
			for range minutes * 600 {
				w.Step()
			}
		}
	})
	b.Run("scored", func(b *testing.B) {
		for b.Loop() {
			newTrip(Session{Variant: Variants()[0], Seed: 1, Minutes: minutes}, sc, m).sailed()
		}
	})
}
