package cue

import (
	"slices"
	"testing"

	"helmcue/internal/boat"
)

// stuck lies head to wind for a while, then falls off.
func (sc *scene) stuck(sec float64) {
	sc.run(sec, func(s *Situation, _ float64) {
		s.mode(boat.Irons)
		s.Turn = boat.Turn{Kind: "tack", Phase: boat.Turning, Start: s.ModeSince, StuckSince: s.ModeSince}
		s.angle(5)
		s.pace(0.1)
	})
	sc.run(8, func(s *Situation, at float64) {
		s.angle(-(5 + 6*at))
		s.pace(0.2)
		if at > 5 {
			s.mode(boat.Waiting)
			s.Turn = boat.Turn{}
		}
	})
}

func TestOutOfIrons(t *testing.T) {
	for _, tc := range []struct {
		name string
		jib  bool
		want []string
	}{
		{"mainsail alone", false, []string{"irons:stuck", "irons:sheet_loose", "irons:bow_turned"}},
		{"with a jib", true, []string{"irons:stuck", "irons:jib", "irons:bow_turned"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			sc := newScene(t, boat.Beginner)
			sc.s.Settings.Jib = tc.jib
			sc.stuck(10)
			if !slices.Equal(sc.keys(), tc.want) {
				t.Errorf("said %v, want %v", sc.keys(), tc.want)
			}
			for _, c := range sc.cues {
				if c.Side != "" {
					t.Errorf("%s names a side, %s", c.Variant, c.Side)
				}
			}
		})
	}
}

func TestAStepThatDidNotHelpIsSaidAgain(t *testing.T) {
	sc := newScene(t, boat.Beginner)
	sc.stuck(20)
	if n := len(slices.DeleteFunc(sc.keys(), func(k string) bool { return k != "irons:sheet_loose" })); n != 2 {
		t.Errorf("said %v, want the second step twice in 20 s", sc.keys())
	}
}

func TestQuietAfterIrons(t *testing.T) {
	sc := newScene(t, boat.Improver)
	sc.stuck(10)
	sc.cues = nil
	sc.run(45, func(s *Situation, at float64) { s.mode(boat.CloseHauled); s.Turn = boat.Turn{}; low(12, 0.9)(s, at) })
	sc.silent()
	sc.run(40, low(12, 0.9))
	sc.first(boat.HeadUp)
}
