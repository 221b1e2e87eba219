package cue

import (
	"testing"

	"helmcue/internal/boat"
)

func TestMindTheBoom(t *testing.T) {
	onRun := func(twa float64) func(*Situation, float64) {
		return func(s *Situation, _ float64) { s.mode(boat.Running); s.angle(twa); s.pace(1) }
	}
	run := func(t *testing.T) *scene {
		sc := newScene(t, boat.Beginner)
		sc.run(20, onRun(155))
		sc.run(5, onRun(168))
		sc.cues = nil
		return sc
	}
	t.Run("by the lee", func(t *testing.T) {
		sc := run(t).run(5, onRun(-170))
		if c := sc.first(boat.MindBoom); c.Urgency != boat.Danger || c.WhyCode != "by_the_lee" {
			t.Errorf("cue %+v", c)
		}
	})
	t.Run("dead before the wind", func(t *testing.T) { run(t).run(8, onRun(178)).never(boat.MindBoom) })
	t.Run("a gybe begins", func(t *testing.T) {
		sc := run(t)
		start := sc.s.Now
		sc.run(2, func(s *Situation, _ float64) { s.turn("gybe", boat.Turning, start); s.angle(172) })
		if c := sc.first(boat.MindBoom); c.WhyCode != "gybe" {
			t.Errorf("cue %+v", c)
		}
	})
	t.Run("a turn to leeward from a reach", func(t *testing.T) {
		sc := run(t)
		start := sc.s.Now
		sc.run(2, func(s *Situation, _ float64) { s.turn("gybe", boat.Turning, start); s.angle(117) })
		sc.never(boat.MindBoom)
	})
	t.Run("after a gybe the other side is hers", func(t *testing.T) {
		sc := run(t)
		start := sc.s.Now
		sc.run(3, func(s *Situation, _ float64) { s.turn("gybe", boat.PastEye, start); s.angle(-172) })
		sc.cues = nil
		sc.run(6, func(s *Situation, at float64) { s.turn("gybe", boat.NoTurn, start); onRun(-168)(s, at) })
		sc.never(boat.MindBoom)
	})
	t.Run("wind doubtful", func(t *testing.T) {
		run(t).run(5, func(s *Situation, at float64) { s.Wind.SDDeg = 20; onRun(-170)(s, at) }).never(boat.MindBoom)
	})
	t.Run("wind unknown", func(t *testing.T) {
		run(t).run(5, func(s *Situation, at float64) { onRun(-170)(s, at); s.Wind.Known, s.TWADeg = false, boat.Reading{} }).never(boat.MindBoom)
	})
}
