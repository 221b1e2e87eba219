package manoeuvre_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"helmcue/internal/boat"
	"helmcue/internal/manoeuvre"
)

func maybe(t *rapid.T, name string, lo, hi float64) boat.Reading {
	if rapid.IntRange(0, 3).Draw(t, name+" there") == 0 {
		return boat.Reading{}
	}
	return boat.Some(rapid.Float64Range(lo, hi).Draw(t, name))
}

// Whatever comes, in whatever order, what is told hangs together.
func TestAnythingMayCome(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := manoeuvre.New()
		now := begin
		base := rapid.Float64Range(0, 359).Draw(t, "course")
		swing := rapid.Float64Range(0, 40).Draw(t, "swing")
		for range rapid.IntRange(1, 150).Draw(t, "sights") {
			now = now.After(rapid.Float64Range(-1, 12).Draw(t, "step"))
			base += rapid.Float64Range(-swing, swing).Draw(t, "turn")
			s := boat.State{T: now, SpeedKn: maybe(t, "speed", 0, 12), WaterKn: maybe(t, "log", 0, 12),
				SOGKn: maybe(t, "sog", 0, 12), COGDeg: maybe(t, "cog", 0, 359.9),
				HeadingDeg: boat.Some(math.Mod(math.Mod(base, 360)+360, 360)),
				HeadingBy:  rapid.SampledFrom([]string{"compass", "course"}).Draw(t, "by"),
				AWADeg:     maybe(t, "awa", -180, 180), AWSKn: maybe(t, "aws", 0, 40), TWADeg: maybe(t, "twa", -180, 180)}
			wind := boat.Wind{DirDeg: maybe(t, "dir", 200, 210), Known: rapid.Bool().Draw(t, "known"), SDDeg: 5}
			turn, told := w.Step(manoeuvre.Sight{State: s, Wind: wind, Target: targetAt(rapid.Float64Range(0, 25).Draw(t, "tws"), 50), LengthM: 4})
			if turn.Phase < boat.NoTurn || turn.Phase > boat.JustSteady || turn.ToEyeS.Val < 0 {
				t.Fatalf("turn %+v makes no sense", turn)
			}
			for _, m := range told {
				if m.Start > m.Eye || m.Eye > m.T || m.Settled != nil && (*m.Settled < m.Eye || *m.Settled > m.T) {
					t.Fatalf("times out of order: %+v", m)
				}
				for _, r := range []boat.Reading{m.TurnDeg, m.OverDeg, m.EntryKn, m.LeastKn, m.ExitKn, m.RecoveredS} {
					if r.OK && (r.Val < 0 || math.IsInf(r.Val, 0) || math.IsNaN(r.Val)) {
						t.Fatalf("a score out of range: %+v", m)
					}
				}
			}
		}
	})
}

// BenchmarkStep gives the cost of one sight as a ratio to the floor of merely
// making and passing it on.
func BenchmarkStep(b *testing.B) {
	k := goodTack(10)
	sights := make([]manoeuvre.Sight, 0, 4000)
	k.edit = func(s *manoeuvre.Sight) { sights = append(sights, *s) }
	k.sail()
	span := sights[len(sights)-1].State.T - begin
	floor := func(n int) float64 {
		sum := 0.0
		for i := range n {
			s := sights[i%len(sights)]
			s.State.T += boat.Time(i/len(sights)) * span
			sum += math.Hypot(math.Sin(s.State.HeadingDeg.Val), math.Cos(s.Wind.DirDeg.Val))
		}
		return sum
	}
	b.ResetTimer()
	if math.IsNaN(floor(b.N)) {
		b.Fatal("the floor computed nothing")
	}
	least := b.Elapsed()
	w := manoeuvre.New()
	b.ResetTimer()
	for i := range b.N {
		s := sights[i%len(sights)]
		s.State.T += boat.Time(i/len(sights)) * span
		w.Step(s)
	}
	b.ReportMetric(float64(b.Elapsed())/float64(least), "ratio")
}
