package cue

import (
	"math"
	"testing"

	"helmcue/internal/boat"
)

// reach holds a course on a reach and lets the wind go to another direction.
func reach(from, to, share float64) func(*Situation, float64) {
	return func(s *Situation, at float64) {
		s.mode(boat.Reaching)
		s.angle(from)
		s.pace(1)
		if at > 60 {
			s.TWADeg = boat.Some(to)
			s.Wind.DirDeg = boat.Some(to - from)
			s.Wind.LoDeg, s.Wind.HiDeg = to-from-5, to-from+5
			s.pace(share)
		}
	}
}

func TestShiftOnAHeldCourse(t *testing.T) {
	for _, tc := range []struct {
		name            string
		level           boat.Level
		from, to, share float64
		want            string
	}{
		{"lifted", boat.Improver, 80, 92, 0.85, "ease:little"},
		{"lifted far", boat.Improver, 70, 92, 0.85, "ease:more"},
		{"headed", boat.Improver, 92, 80, 0.85, "trim:little"},
		{"headed on port tack", boat.Improver, -92, -80, 0.85, "trim:little"},
		{"lifted, beginner", boat.Beginner, 80, 92, 0.85, "ease"},
		{"lifted and done already", boat.Improver, 80, 92, 1, ""},
		{"a little", boat.Improver, 80, 84, 0.85, ""},
		{"headed into the dead sector", boat.Improver, 75, 37, 0.7, ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			sc := newScene(t, tc.level).run(85, reach(tc.from, tc.to, tc.share))
			sc.never(boat.HeadUp)
			if math.Abs(tc.to) > 44 { // higher than her best angle, she has to bear away
				sc.never(boat.BearAway)
			}
			if tc.want == "" {
				sc.never(boat.Ease, boat.Trim)
				return
			}
			if !contains(sc.keys(), tc.want) {
				t.Fatalf("said %v, want %s", sc.keys(), tc.want)
			}
			for _, c := range sc.cues {
				if (c.Key == boat.Ease || c.Key == boat.Trim) && c.WhyCode != "shift" {
					t.Errorf("why %s (%s), want the shift", c.WhyCode, c.Why)
				}
			}
		})
	}
}

func TestChangedCourseExplainsTheSheet(t *testing.T) {
	sc := newScene(t, boat.Improver).run(90, func(s *Situation, at float64) {
		s.mode(boat.Reaching)
		s.angle(80)
		s.pace(1)
		if at > 60 {
			s.angle(100)
			s.pace(0.8)
		}
	})
	if c := sc.first(boat.Ease); c.WhyCode != "course" || c.Size != boat.More {
		t.Errorf("cue %+v", c)
	}
}

func TestNoSheetWordsInLightAir(t *testing.T) {
	sc := newScene(t, boat.Improver).run(100, func(s *Situation, at float64) {
		reach(80, 95, 0.7)(s, at)
		s.Target.BeatKn, s.Target.HereKn = 1.2, 1.4
	})
	sc.never(boat.Ease, boat.Trim, boat.LuffTest, boat.SitIn)
}

func TestEaseWhenLeaningOutWasNotEnough(t *testing.T) {
	sc := newScene(t, boat.Improver).run(20, func(s *Situation, _ float64) { s.State.HeelDeg = boat.Some(-22) })
	if got := sc.keys(); len(got) < 2 || got[0] != "sit_out" || got[1] != "ease:little" {
		t.Errorf("said %v, want sit_out and then ease", got)
	}
}

// What the watch for shifts tells of wind and helm goes before what the last half
// minute looks like.
func TestTheWatchForShiftsTellsWhy(t *testing.T) {
	for _, tc := range []struct {
		name  string
		shift boat.Shift
		want  string
	}{
		{"untold", boat.Shift{}, "course"},
		{"a lift that was called", boat.Shift{Kind: boat.Persistent, ID: 1, LiftDeg: 12, CalledT: t0.After(140)}, "shift"},
		{"the helm did it", boat.Shift{Helm: "foot"}, "course"},
		{"a header does not bring the wind aft", boat.Shift{Kind: boat.Persistent, ID: 1, LiftDeg: -12, CalledT: t0.After(140)}, "course"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			sc := newScene(t, boat.Improver).run(95, func(s *Situation, at float64) {
				s.mode(boat.Reaching)
				s.angle(80)
				s.pace(1)
				if at > 60 {
					s.angle(95)
					s.pace(0.8)
					s.Shift = tc.shift
				}
			})
			if c := sc.first(boat.Ease); c.WhyCode != tc.want {
				t.Errorf("why %s (%s), want %s", c.WhyCode, c.Why, tc.want)
			}
		})
	}
}
