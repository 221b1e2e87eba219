package cue

import (
	"strings"
	"testing"

	"helmcue/internal/boat"
)

// tackTo sails a scene through a tack and leaves it at the phase.
func (sc *scene) tackTo(phase boat.TurnPhase, each func(*Situation, float64)) boat.Time {
	start := sc.s.Now
	for p := boat.Turning; p < phase; p++ {
		sc.run(2.5, func(s *Situation, at float64) {
			s.turn("tack", p, start)
			s.State.YawDps = boat.Some(20)
			s.angle(44 - 18*s.Now.Seconds(start))
		})
	}
	sc.cues = nil
	sc.run(8, func(s *Situation, at float64) {
		s.turn("tack", phase, start)
		if phase == boat.JustSteady {
			s.mode(boat.CloseHauled)
			s.State.YawDps = boat.Some(0)
		}
		each(s, at)
	})
	return start
}

func TestStraighten(t *testing.T) {
	for _, tc := range []struct {
		name string
		yaw  float64
		from float64
		says bool
	}{
		{"about to turn too far", 18, -40, true},
		{"slowing down at her course", 3, -45, false},
		{"still near the eye", 18, -8, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			sc := newScene(t, boat.Beginner)
			start := sc.s.Now
			sc.run(1, func(s *Situation, _ float64) {
				s.turn("tack", boat.PastEye, start)
				s.angle(tc.from)
				s.State.YawDps = boat.Some(tc.yaw)
				s.pace(0.9)
			})
			if tc.says {
				sc.first(boat.Straighten)
			} else {
				sc.never(boat.Straighten)
			}
		})
	}
}

func TestCourseAfterATack(t *testing.T) {
	lowOut := func(s *Situation, _ float64) { s.angle(-58); s.pace(0.9) }
	t.Run("named as the compass shows it", func(t *testing.T) {
		sc := newScene(t, boat.Improver)
		sc.tackTo(boat.JustSteady, lowOut)
		c := sc.first(boat.SteerTo)
		// Wind from 000 true, 44° to it on port tack is 044 true; variation 4° east
		// makes that 040 magnetic: magnetic = true - east variation.
		if c.Amount.Val != 40 || c.Ref != boat.Magnetic {
			t.Errorf("heading %v %s, want 40 mag", c.Amount.Val, c.Ref)
		}
	})
	t.Run("once", func(t *testing.T) {
		sc := newScene(t, boat.Improver)
		start := sc.tackTo(boat.JustSteady, lowOut)
		sc.run(6, func(s *Situation, at float64) { s.turn("tack", boat.JustSteady, start); lowOut(s, at) })
		if n := strings.Count(strings.Join(sc.keys(), " "), "steer:"); n != 1 {
			t.Errorf("said %v, want the course once", sc.keys())
		}
	})
	for _, tc := range []struct {
		name string
		f    func(*Situation, float64)
	}{
		{"slow", func(s *Situation, _ float64) { s.angle(-58); s.pace(0.7) }},
		{"on her course", func(s *Situation, _ float64) { s.angle(-46); s.pace(0.95) }},
		{"wind doubtful", func(s *Situation, at float64) { lowOut(s, at); s.Wind.SDDeg = 8 }},
		{"wind unknown", func(s *Situation, at float64) { lowOut(s, at); s.Wind.Known, s.TWADeg = false, boat.Reading{} }},
		{"compass cannot be told", func(s *Situation, at float64) { lowOut(s, at); s.State.VarOK = false }},
		{"beginner", func(s *Situation, at float64) { lowOut(s, at); s.Settings.Level = boat.Beginner }},
	} {
		t.Run(tc.name, func(t *testing.T) {
			sc := newScene(t, boat.Improver)
			sc.tackTo(boat.JustSteady, tc.f)
			sc.never(boat.SteerTo)
		})
	}
}
