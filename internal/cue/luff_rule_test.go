package cue

import (
	"testing"

	"helmcue/internal/boat"
)

func TestLuffTestIsAsked(t *testing.T) {
	slowReach := func(s *Situation, _ float64) { s.mode(boat.Reaching); s.angle(80); s.pace(0.8) }
	for _, tc := range []struct {
		name string
		each func(*Situation, float64)
		says bool
	}{
		{"slow on a held reach", slowReach, true},
		{"fast on a held reach", func(s *Situation, at float64) { slowReach(s, at); s.pace(1) }, false},
		{"wandering", func(s *Situation, at float64) {
			slowReach(s, at)
			if int(at)%10 < 5 {
				s.angle(100)
			}
		}, false},
		{"slow at the right angle on a beat", low(0, 0.8), true},
		{"running", func(s *Situation, _ float64) { s.mode(boat.Running); s.angle(150); s.pace(0.7) }, false},
		{"unknown wind, seen to sail before", func(s *Situation, _ float64) { s.noWind() }, true},
		{"unknown wind, hardly moving", func(s *Situation, _ float64) { s.noWind(); s.State.SpeedKn = boat.Some(0.5) }, false},
		{"in light air", func(s *Situation, at float64) { slowReach(s, at); s.Target.BeatKn, s.Target.HereKn = 1, 1.2 }, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			sc := newScene(t, boat.Improver).run(50, tc.each)
			if tc.says != contains(sc.keys(), "luff_test") {
				t.Errorf("said %v", sc.keys())
			}
		})
	}
}

func TestUnknownWindOnABoatNeverSeenToSail(t *testing.T) {
	run := func(heel float64) *scene {
		sc := fresh(t, boat.Beginner)
		return sc.run(120, func(s *Situation, _ float64) { s.noWind(); s.State.HeelDeg = boat.Some(heel) })
	}
	run(1).silent() // upright on a straight course: it may be an engine
	if sc := run(9); !contains(sc.keys(), "luff_test") {
		t.Errorf("said %v, want a luff test for a boat that heels to her sails", sc.keys())
	}
}

func TestLuffTestGrowsRare(t *testing.T) {
	sc := newScene(t, boat.Beginner).run(900, func(s *Situation, _ float64) { s.noWind() })
	n := 0
	for _, c := range sc.cues {
		if c.Key == boat.LuffTest {
			n++
		}
	}
	if n < 3 || n > 7 {
		t.Errorf("asked %d times in 15 minutes of one course, want 3 to 7", n)
	}
}

// Where the test brought speed it comes again after a minute; where it brings
// nothing ever more seldom.
func TestLuffTestLearnsWhetherItHelps(t *testing.T) {
	count := func(helps bool) int {
		sc := fresh(t, boat.Beginner)
		sc.s.angle(90)
		sc.s.mode(boat.Reaching)
		asked, seen := -100.0, 0
		sc.run(600, func(s *Situation, at float64) {
			for ; seen < len(sc.cues); seen++ {
				if sc.cues[seen].Key == boat.LuffTest {
					asked = at
				}
			}
			share := 0.8
			if helps && at-asked > 8 && at-asked < 50 { // and forgets
				share = 0.95
			}
			s.pace(share)
		})
		n := 0
		for _, c := range sc.cues {
			if c.Key == boat.LuffTest {
				n++
			}
		}
		return n
	}
	helped, useless := count(true), count(false)
	if helped < 6 || useless > 4 {
		t.Errorf("in ten minutes asked %d times where it helps and %d where not, want at least 6 and at most 4", helped, useless)
	}
}
