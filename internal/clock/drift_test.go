package clock

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"helmcue/internal/boat"
)

// quartz is a phone's clock that runs wrong by ppm since start, and was off by
// offset then.
type quartz struct {
	offset float64
	ppm    float64
}

// shows returns what it shows at a real time.
func (q quartz) shows(real boat.Time) boat.Time {
	return real - boat.Time(math.Round(q.offset-float64(q.ppm*1e-6*float64(real-start))))
}

const hour boat.Time = 3600 * 1000

// TestThreeHoursOfAWrongClock: a phone that runs up to 200 parts per million wrong,
// which makes two seconds in three hours, over a link that holds messages back by up
// to half a second: its samples stay where they belong.
func TestThreeHoursOfAWrongClock(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := quartz{offset: float64(rapid.Int64Range(-1e10, 1e10).Draw(t, "offset")), ppm: rapid.Float64Range(-200, 200).Draw(t, "ppm")}
		jitter := rapid.IntRange(20, 500).Draw(t, "jitter")
		seed := rapid.Uint64().Draw(t, "seed")
		least := boat.Time(rapid.IntRange(2, 40).Draw(t, "least"))
		d := dice{seed}
		var e Estimator
		arrived, last := boat.Time(0), boat.Time(0)
		for at := start; at < start+3*hour; at += 500 {
			delay := least + boat.Time(d.below(jitter))
			arrived = max(arrived, at+delay)
			e.Observe(q.shows(at), arrived)
			m := e.Map(q.shows(at))
			if m > arrived || m < last {
				t.Fatalf("mapped to %d, arrived at %d, the one before was mapped to %d", m, arrived, last)
			}
			last = m
			// Half a minute of half-second messages shows the least delay to a tenth of the jitter or so.
			if off := m - at; at > start+30_000 && (off < -30 || off > least+30+boat.Time(jitter/6)) {
				t.Fatalf("%d s after the start a sample is %d ms off", (at-start)/1000, off)
			}
		}
		if ppm, ok := e.DriftPPM(); !ok || math.Abs(ppm+q.ppm) > 40 {
			t.Fatalf("the drift is told as %.0f (%t), it is %.0f", ppm, ok, -q.ppm)
		}
		if e.Resets() != 0 {
			t.Fatal("a drift was taken for a clock set anew")
		}
	})
}

// TestAnHourWithoutALink: what a phone kept for an hour keeps its own time to a few
// hundredths of a second, however wrong its quartz, once the link is back.
func TestAnHourWithoutALink(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := quartz{offset: float64(rapid.Int64Range(-1e10, 1e10).Draw(t, "offset")), ppm: rapid.Float64Range(-200, 200).Draw(t, "ppm")}
		var e Estimator
		d := dice{rapid.Uint64().Draw(t, "seed")}
		for at := start; at < start+10*60_000; at += 500 {
			e.Observe(q.shows(at), at+5+boat.Time(d.below(60)))
			e.Map(q.shows(at))
		}
		back := start + hour
		e.Observe(q.shows(back), back+15) // joins, and then sends what it kept
		worst := 0.0
		for at := start + 10*60_000; at < back; at += 20_000 {
			arrived := back + (at-start)/1000
			e.Observe(q.shows(at), arrived)
			e.Observe(q.shows(arrived-12), arrived) // a batch tells when it left
			worst = max(worst, math.Abs(float64(e.Map(q.shows(at))-at)))
		}
		if worst > 60 {
			t.Fatalf("a kept sample is %.0f ms off", worst)
		}
	})
}

// TestAStepOfAWrongClock: the clock is set by a minute while it drifts; ten seconds
// later its times are right again, and the time line has not stepped back.
func TestAStepOfAWrongClock(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := quartz{offset: 5000, ppm: rapid.Float64Range(-200, 200).Draw(t, "ppm")}
		step := rapid.SampledFrom([]float64{-3600e3, -60e3, -5e3, 5e3, 60e3, 3600e3}).Draw(t, "step")
		stepAt := start + boat.Time(rapid.Int64Range(1000, 40*60_000).Draw(t, "when"))
		d := dice{rapid.Uint64().Draw(t, "seed")}
		var e Estimator
		last := boat.Time(0)
		for at := start; at < start+hour; at += 250 {
			if at >= stepAt && q.offset == 5000 {
				q.offset -= step
			}
			e.Observe(q.shows(at), at+5+boat.Time(d.below(80)))
			m := e.Map(q.shows(at))
			if at > stepAt+10_000 && m < last {
				t.Fatalf("the time line stepped back by %d ms", last-m)
			}
			last = max(last, m)
			if off := m - at; at > stepAt+10_000 && (off < -40 || off > 60) {
				t.Fatalf("%d ms after the step a sample is %d ms off", at-stepAt, off)
			}
		}
		if e.Resets() != 1 {
			t.Fatalf("%d resets, want one", e.Resets())
		}
	})
}

// dice are numbers that look random and come again with the seed.
type dice struct{ s uint64 }

func (d *dice) below(n int) int {
	d.s = d.s*6364136223846793005 + 1442695040888963407
	return int(d.s>>33) % n
}

// BenchmarkObserve is one message; its floor is the least it could do, one comparison
// of the offset with the best so far.
func BenchmarkObserve(b *testing.B) {
	q := quartz{ppm: 80}
	b.Run("floor", func(b *testing.B) {
		best, at := boat.Time(1<<62), start
		for b.Loop() {
			best = min(best, at+20-q.shows(at))
			at += 100
		}
	})
	b.Run("line", func(b *testing.B) {
		var e Estimator
		at := start
		for b.Loop() {
			e.Observe(q.shows(at), at+20)
			at += 100
		}
	})
}
