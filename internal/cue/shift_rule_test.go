package cue

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// blows sets the believed direction and keeps her close-hauled in it.
func blows(s *Situation, dir, twa float64) {
	s.Wind.DirDeg, s.Wind.By = boat.Some(geo.Wrap360(dir)), "motion"
	s.Wind.LoDeg, s.Wind.HiDeg = geo.Wrap360(dir-5), geo.Wrap360(dir+5)
	s.angle(twa)
}

func TestShift(t *testing.T) {
	for _, tc := range []struct {
		name  string
		level boat.Level
		twa   float64
		by    float64 // clockwise
		want  string
	}{
		{"veers on starboard tack", boat.Improver, 44, 10, "lifted:10"},
		{"backs on starboard tack", boat.Improver, 44, -10, "headed:10"},
		{"veers on port tack", boat.Improver, -44, 10, "headed:10"},
		{"backs on port tack", boat.Expert, -44, -15, "lifted:15"},
		{"beginner gets no number", boat.Beginner, 44, 10, ""},
		{"three degrees", boat.Improver, 44, 3, ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			sc := newScene(t, tc.level)
			sc.run(120, func(s *Situation, _ float64) { blows(s, 2, tc.twa) })
			from := sc.s.Now
			sc.cues = nil
			sc.run(60, func(s *Situation, _ float64) { blows(s, 2+tc.by, tc.twa) })
			if tc.want == "" {
				sc.never(boat.Lifted, boat.Headed)
				return
			}
			sc.cues = slices.DeleteFunc(sc.cues, func(c boat.Cue) bool { return c.Key == boat.Good })
			if got := sc.keys(); len(got) != 1 || got[0] != tc.want {
				t.Fatalf("said %v, want %s once", got, tc.want)
			}
			if s := sc.cues[0].T.Seconds(from); s > 30 {
				t.Errorf("called after %.0f s, want within 30", s)
			}
		})
	}
}

func TestASwingingBoatIsNoShift(t *testing.T) {
	sc := newScene(t, boat.Improver)
	sc.run(120, func(s *Situation, _ float64) { blows(s, 2, 44) })
	sc.run(20, func(s *Situation, at float64) { // she luffs up, and the wind seems to go with her
		blows(s, 2+1.2*at, 44)
		s.TWADeg = boat.Some(44 - 1.4*at)
		s.State.HeadingDeg = boat.Some(geo.Wrap360(318 + 2.6*at))
	})
	sc.never(boat.Lifted, boat.Headed)
}

func TestSomebodysWordIsNoShift(t *testing.T) {
	sc := newScene(t, boat.Improver)
	word := func(dir, age float64) func(*Situation, float64) {
		return func(s *Situation, at float64) { blows(s, dir, 44); s.Wind.By, s.Wind.AgeS = "fix", age+at }
	}
	sc.run(120, word(0, 0)).run(60, word(12, 0)).never(boat.Lifted, boat.Headed)
}

// The bar for false alarms is one an hour; the wind here wanders as an estimate
// does: 2° of deviation, correlated over ten seconds.
func TestShiftFalseAlarms(t *testing.T) {
	const hours = 4
	r := rand.New(rand.NewPCG(7, 11))
	sc := newScene(t, boat.Improver)
	keep := math.Exp(-0.1 / 10)
	off := 0.0
	sc.run(hours*3600, func(s *Situation, _ float64) {
		off = float64(keep*off) + float64(2*math.Sqrt(1-keep*keep)*r.NormFloat64())
		blows(s, off, 44)
	})
	n := 0
	for _, c := range sc.cues {
		if c.Key == boat.Lifted || c.Key == boat.Headed {
			n++
		}
	}
	if n > hours {
		t.Errorf("%d false calls in %d hours, want at most one an hour", n, hours)
	}
}
