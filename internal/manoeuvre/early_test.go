package manoeuvre_test

import (
	"math"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/manoeuvre"
	"helmcue/internal/sim"
)

// A word about a turn cannot wait a minute for its score. What is told early comes
// once a turn, within half a minute of the eye, for all but those that prove to be
// none, and is near the score that comes later.
func TestEarlyScores(t *testing.T) {
	early := map[boat.Time]boat.Manoeuvre{}
	var final []boat.Manoeuvre
	for _, scene := range []string{"first-lesson", "fresh-afternoon"} {
		s, err := sim.New(scene, 3, begin)
		if err != nil {
			t.Fatal(err)
		}
		f, w := &feed{how: how{hz: 10}}, manoeuvre.New()
		for range 30 * 600 {
			ins := s.Step()
			now := s.Truth()
			f.sample(ins[0].T, *ins[0].Sample, s.VarDeg(), now)
			_, told := w.Step(f.sight(targetAt(now.TWSKn, now.TWADeg)))
			final = append(final, told...)
			for _, m := range w.Early() {
				if _, twice := early[m.Eye]; twice {
					t.Errorf("the %s of %.0f s is told early twice", m.Kind, m.Eye.Seconds(begin))
				}
				early[m.Eye] = m
				if late := m.T.Seconds(m.Eye); late > 26 {
					t.Errorf("told %.1f s after the eye", late)
				}
			}
		}
	}
	seen, off, sum := 0, 0, 0.0
	for _, m := range final {
		e, ok := early[m.Eye]
		if !ok || !e.LostLen.OK || !m.LostLen.OK {
			continue
		}
		seen++
		d := e.LostLen.Val - m.LostLen.Val
		sum += d
		if math.Abs(d) > 1 {
			off++
		}
	}
	t.Logf("%d turns told, %d early, %d compared: %d more than a length off, %.2f lengths in the mean", len(final), len(early), seen, off, sum/float64(seen))
	if seen < 30 || float64(seen) < 0.6*float64(len(final)) {
		t.Errorf("only %d of %d turns were told early with what they cost", seen, len(final))
	}
	if float64(off) > 0.3*float64(seen) || math.Abs(sum) > 0.4*float64(seen) {
		t.Errorf("%d of %d early scores are more than a length off, %.2f in the mean", off, seen, sum/float64(seen))
	}
}
