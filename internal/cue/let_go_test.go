package cue

import (
	"testing"

	"helmcue/internal/boat"
)

func TestLetGo(t *testing.T) {
	heel := func(deg float64) func(*Situation, float64) {
		return func(s *Situation, _ float64) { s.State.HeelDeg = boat.Some(deg) }
	}
	for _, tc := range []struct {
		name string
		each func(*Situation, float64)
		says bool
	}{
		{"33 degrees to port", heel(-33), true},
		{"33 degrees to starboard", heel(33), true},
		{"24 degrees held", heel(-24), false},
		{"27 degrees held", heel(-27), false},
		{"29 degrees and rising", func(s *Situation, at float64) { s.State.HeelDeg = boat.Some(-min(29.5, 10+6*at)) }, true},
		{"a wave of one second", func(s *Situation, at float64) {
			s.State.HeelDeg = boat.Some(-10)
			if at > 2 && at < 3 {
				s.State.HeelDeg = boat.Some(-31)
			}
		}, false},
		{"lies on her side", heel(-80), false},
		{"rises from lying on her side", func(s *Situation, at float64) { s.State.HeelDeg = boat.Some(max(40, 90-50*at)) }, false},
		{"worn phone", func(s *Situation, _ float64) { s.State.HeelDeg, s.State.Mount = boat.Some(-40), boat.Worn }, false},
		{"no heel", func(s *Situation, _ float64) { s.State.HeelDeg = boat.Reading{} }, false},
		{"capsized", func(s *Situation, _ float64) { s.State.HeelDeg = boat.Some(-50); s.mode(boat.Capsized) }, false},
		{"motoring", func(s *Situation, _ float64) { s.State.HeelDeg = boat.Some(-50); s.mode(boat.Motoring) }, false},
		{"waiting", func(s *Situation, _ float64) { s.State.HeelDeg = boat.Some(-35); s.mode(boat.Waiting) }, true},
		{"unknown wind", func(s *Situation, _ float64) { s.noWind(); s.State.HeelDeg = boat.Some(-35) }, true},
	} {
		t.Run(tc.name, func(t *testing.T) {
			sc := newScene(t, boat.Beginner)
			sc.run(6, tc.each)
			if tc.says {
				c := sc.first(boat.LetGo)
				if c.Urgency != boat.Danger || c.Expires != c.T+1000 {
					t.Errorf("urgency %v, expires after %v ms", c.Urgency, c.Expires-c.T)
				}
			} else {
				sc.never(boat.LetGo)
			}
		})
	}
}

func TestLetGoIsAtOnceAndAgain(t *testing.T) {
	sc := newScene(t, boat.Improver)
	at := sc.s.Now
	sc.run(11, func(s *Situation, _ float64) { s.State.HeelDeg = boat.Some(-34) })
	if first := sc.first(boat.LetGo).T.Seconds(at); first > 2 {
		t.Errorf("said after %.1f s, want within 2", first)
	}
	if len(sc.cues) != 3 {
		t.Errorf("said %d times in 11 s, want 3, each 4 s", len(sc.cues))
	}
}

func TestNothingHoldsLetGoBack(t *testing.T) {
	over := func(s *Situation, _ float64) { s.State.HeelDeg = boat.Some(-34) }
	t.Run("quiet", func(t *testing.T) {
		sc := newScene(t, boat.Expert)
		sc.c.Answer(sc.s.Now, boat.Answer{Knocks: 3})
		sc.run(3, over).first(boat.LetGo)
	})
	t.Run("just started", func(t *testing.T) {
		fresh(t, boat.Expert).run(3, over).first(boat.LetGo)
	})
	t.Run("another is speaking", func(t *testing.T) {
		sc := newScene(t, boat.Beginner)
		sc.run(1.2, over)
		sc.c.Act(sc.s.Now, boat.Act{Act: "say", Phrase: "hold_course"})
		sc.run(0.8, over)
		if got := sc.keys(); len(got) != 2 || got[1] != "let_go" {
			t.Errorf("said %v, want the danger to break into the instructor's words", got)
		}
	})
	t.Run("in a turn", func(t *testing.T) {
		sc := newScene(t, boat.Beginner)
		start := sc.s.Now
		sc.run(3, func(s *Situation, at float64) { s.turn("tack", boat.Turning, start); over(s, at) })
		if got := sc.keys(); !contains(got, "let_go") {
			t.Errorf("said %v, want let_go among it", got)
		}
	})
}
