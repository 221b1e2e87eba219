package cue

import (
	"slices"
	"testing"

	"helmcue/internal/boat"
)

func TestWindLostIsSaidOnce(t *testing.T) {
	sc := newScene(t, boat.Beginner).run(200, func(s *Situation, _ float64) { s.noWind() })
	sc.first(boat.WindLost)
	if n := len(slices.DeleteFunc(sc.keys(), func(k string) bool { return k != "wind_lost" })); n != 1 {
		t.Errorf("said %d times, want once", n)
	}
}

func TestWindNeverKnownIsNotLost(t *testing.T) {
	fresh(t, boat.Beginner).run(60, func(s *Situation, _ float64) { s.noWind() }).never(boat.WindLost)
}

func TestLostSenses(t *testing.T) {
	for _, tc := range []struct {
		want string
		each func(*Situation, float64)
	}{
		{"system:position", func(s *Situation, _ float64) { s.State.PosOK = false }},
		{"system:compass", func(s *Situation, _ float64) { s.State.HeadingBy = "course" }},
		{"system:battery", func(s *Situation, _ float64) { s.State.Batt = boat.Some(0.1) }},
		{"system:phone", func(s *Situation, _ float64) { s.Deaf = true; s.State = boat.State{} }},
	} {
		t.Run(tc.want, func(t *testing.T) {
			for _, m := range []boat.Mode{boat.CloseHauled, boat.Stopped, boat.Motoring} {
				sc := newScene(t, boat.Improver)
				sc.run(20, func(s *Situation, _ float64) { s.mode(m) })
				sc.cues = nil
				sc.run(150, func(s *Situation, at float64) { s.mode(m); tc.each(s, at) })
				if n := len(slices.DeleteFunc(sc.keys(), func(k string) bool { return k != tc.want })); n != 1 {
					t.Errorf("%v: said %v, want %s once", m, sc.keys(), tc.want)
				}
			}
		})
	}
	t.Run("a boat without compass lost none", func(t *testing.T) {
		sc := fresh(t, boat.Improver)
		sc.run(60, func(s *Situation, _ float64) { s.State.HeadingBy = "course" }).never(boat.System)
	})
	t.Run("five seconds are no loss", func(t *testing.T) {
		sc := newScene(t, boat.Improver)
		sc.run(5, func(s *Situation, _ float64) { s.State.PosOK = false }).never(boat.System)
	})
}

func TestRestAfterWork(t *testing.T) {
	sc := newScene(t, boat.Beginner)
	sc.run(24*60-70, nil).never(boat.Rest)
	sc.run(120, nil)
	if !contains(sc.keys(), "rest") {
		t.Errorf("said %v, want a rest after 25 minutes", sc.keys())
	}
	broken := newScene(t, boat.Beginner)
	broken.run(15*60, nil)
	broken.run(200, func(s *Situation, _ float64) { s.mode(boat.Waiting) })
	broken.run(15*60, func(s *Situation, _ float64) { s.mode(boat.CloseHauled) }).never(boat.Rest)
}
