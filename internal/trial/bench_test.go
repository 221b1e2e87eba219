package trial

import "testing"

// BenchmarkSession is five minutes of a scenario sailed and scored; its floor is the
// simulator sailing alone.
func BenchmarkSession(b *testing.B) {
	const minutes = 5
	b.Run("floor", func(b *testing.B) {
		for b.Loop() {
			w, err := scenarios()[0].make(1)
			if err != nil {
				b.Fatal(err)
			}
			for range minutes * 600 {
				w.Step()
			}
		}
	})
	b.Run("scored", func(b *testing.B) {
		for b.Loop() {
			if _, err := Sail(Session{Scenario: Scenarios()[0], Variant: Variants()[0], Seed: 1, Minutes: minutes}); err != nil {
				b.Fatal(err)
			}
		}
	})
}
