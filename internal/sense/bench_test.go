package sense_test

import (
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/sense"
	"helmcue/internal/sim"
)

// The floor is the same samples without a compass: nothing to learn from.
func BenchmarkFilter(b *testing.B) {
	s, err := sim.New("first-lesson", 1, 1_900_000_000_000)
	if err != nil {
		b.Fatal(err)
	}
	var samples []boat.Input
	for range 12000 {
		samples = append(samples, s.Step()[0])
	}
	run := func(b *testing.B, change func(*boat.Sample)) {
		f := sense.New(boat.Fixed)
		late := boat.Time(0)
		for i := 0; b.Loop(); i++ {
			if i > 0 && i%len(samples) == 0 {
				late += 1_200_100
			}
			in := samples[i%len(samples)]
			sample := *in.Sample
			change(&sample)
			f.Add(in.T+late, sample)
			f.State(in.T + late)
		}
	}
	b.Run("learning", func(b *testing.B) { run(b, func(*boat.Sample) {}) })
	b.Run("floor", func(b *testing.B) { run(b, func(s *boat.Sample) { s.HeadingDeg = boat.Reading{} }) })
}
