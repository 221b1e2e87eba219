package cue

import (
	"testing"

	"helmcue/internal/boat"
)

// low sails so far below the best angle, slower in what she makes good.
func low(off, share float64) func(*Situation, float64) {
	return func(s *Situation, _ float64) { s.angle(44 + off); s.pace(share) }
}

func TestOffTheBestAngle(t *testing.T) {
	both := func(fs ...func(*Situation, float64)) func(*Situation, float64) {
		return func(s *Situation, at float64) {
			for _, f := range fs {
				f(s, at)
			}
		}
	}
	set := func(f func(*Situation)) func(*Situation, float64) { return func(s *Situation, _ float64) { f(s) } }
	for _, tc := range []struct {
		name  string
		level boat.Level
		each  func(*Situation, float64)
		want  string // key:variant, or empty for silence on the helm
	}{
		{"12 low", boat.Improver, low(12, 0.96), "head_up:10"},
		{"8 low", boat.Improver, low(8, 0.9), "head_up:5"},
		{"12 low, beginner", boat.Beginner, low(12, 0.96), "head_up:little"},
		{"8 low, beginner", boat.Beginner, low(8, 0.85), ""},
		{"3 low", boat.Expert, low(3, 0.9), ""},
		{"on port tack", boat.Improver, func(s *Situation, _ float64) { s.angle(-56); s.pace(0.96) }, "head_up:10"},
		{"low and it pays", boat.Improver, low(8, 1.3), ""},
		{"low and slow", boat.Improver, low(12, 0.55), ""},
		{"low, speed not known", boat.Improver, both(low(12, 1), set(func(s *Situation) { s.Share = boat.Reading{} })), ""},
		{"low on a doubtful wind", boat.Improver, both(low(12, 0.9), set(func(s *Situation) { s.Wind.SDDeg, s.Wind.LoDeg, s.Wind.HiDeg = 9, 345, 15 })), ""},
		{"low on an unknown wind", boat.Improver, both(low(12, 0.9), set(func(s *Situation) { s.Wind.Known, s.TWADeg = false, boat.Reading{} })), ""},
		{"low, the interval reaches the dead sector", boat.Improver, both(low(12, 0.9), set(func(s *Situation) { s.Wind.LoDeg = 338 })), ""},
		{"pinching", boat.Improver, func(s *Situation, _ float64) { s.angle(36); s.pace(0.7) }, "bear_away:5"},
		{"pinching, beginner", boat.Beginner, func(s *Situation, _ float64) { s.angle(32); s.pace(0.6) }, "bear_away:little"},
		{"high with good speed", boat.Improver, func(s *Situation, _ float64) { s.angle(34); s.pace(1) }, ""},
		{"pinching, beyond the doubt about the wind", boat.Improver, both(func(s *Situation, _ float64) { s.angle(28); s.pace(0.6) }, set(func(s *Situation) { s.Wind.SDDeg = 6 })), "bear_away:10"},
		{"in the eye of the wind: luffing, or a turn unseen", boat.Improver, func(s *Situation, _ float64) { s.angle(8); s.pace(0.7) }, ""},
		{"19 low on a very doubtful wind", boat.Improver, both(low(19, 0.9), set(func(s *Situation) { s.Wind.SDDeg, s.Wind.LoDeg, s.Wind.HiDeg = 10, 344, 16 })), "head_up:5"},
		{"well sailed", boat.Expert, low(0, 1), ""},
		{"deep on the run", boat.Improver, func(s *Situation, _ float64) { s.mode(boat.Running); s.angle(172); s.pace(0.8) }, "head_up:little"},
		{"deep on the run, beginner", boat.Beginner, func(s *Situation, _ float64) { s.mode(boat.Running); s.angle(172); s.pace(0.8) }, ""},
		{"a reach has no best angle", boat.Improver, func(s *Situation, _ float64) { s.mode(boat.Reaching); s.angle(100); s.pace(1) }, ""},
		{"low over the limit", boat.Improver, both(low(12, 0.96), set(func(s *Situation) { s.Wind.SpeedKn = boat.Some(19) })), ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			sc := newScene(t, tc.level).run(14, tc.each)
			if tc.want == "" {
				sc.never(boat.HeadUp, boat.BearAway)
				return
			}
			if got := sc.keys(); len(got) == 0 || got[0] != tc.want {
				t.Fatalf("said %v, want %s", got, tc.want)
			}
			if at := sc.cues[0].T.Seconds(sc.s.Now) + 14; at < 5.5 || at > 9 {
				t.Errorf("said after %.1f s, want between 6 and 9", at)
			}
		})
	}
}

func TestWhatIsMendingIsNotTold(t *testing.T) {
	sc := newScene(t, boat.Improver)
	sc.run(6, func(s *Situation, at float64) { s.angle(44 + 2.5*at); s.pace(0.9) })
	sc.run(10, func(s *Situation, at float64) { s.angle(59 - 1.6*at); s.pace(0.9) })
	sc.never(boat.HeadUp)
}

func TestLowSaysItsNumbers(t *testing.T) {
	sc := newScene(t, boat.Improver).run(12, low(12, 0.96))
	c := sc.first(boat.HeadUp)
	if want := "12° below her best angle of 44° to the wind, speed is fine"; c.Why != want {
		t.Errorf("why %q, want %q", c.Why, want)
	}
	if c.Amount.Val != 10 || c.Urgency != boat.Steer || c.WhyCode != "low" {
		t.Errorf("cue %+v", c)
	}
}

func TestThreeGoodAnswersWidenTheBand(t *testing.T) {
	sc := newScene(t, boat.Improver)
	sc.c.mem.answers[helm] = 3
	sc.run(14, low(6, 0.9)).never(boat.HeadUp)
	sc.run(14, low(9, 0.9))
	sc.first(boat.HeadUp)
}

// Out of a tack she is let fall off for speed. With way on, or where she gains no
// more, it is time to come up; while she gathers way it is not.
func TestOutOfATackTheCourseIsJudgedByHerWay(t *testing.T) {
	for _, tc := range []struct {
		name string
		pace func(at float64) float64
		says bool
	}{
		{"way on", func(float64) float64 { return 0.9 }, true},
		{"gathering way", func(at float64) float64 { return 0.6 + at*0.02 }, false},
		{"slowish, and gains no more", func(float64) float64 { return 0.82 }, true},
		{"too slow to come up", func(float64) float64 { return 0.5 }, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			sc := newScene(t, boat.Improver)
			start := sc.s.Now
			sc.run(3, func(s *Situation, _ float64) { s.turn("tack", boat.Turning, start) })
			sc.cues = nil
			sc.run(11.5, func(s *Situation, at float64) {
				s.turn("tack", boat.NoTurn, start)
				s.mode(boat.CloseHauled)
				s.angle(-58)
				s.pace(tc.pace(at))
			})
			if !tc.says {
				sc.never(boat.HeadUp)
				return
			}
			if c := sc.first(boat.HeadUp); c.T.Seconds(start) < 3+cameOutS+offForS-0.2 {
				t.Errorf("said %.1f s after the turn began", c.T.Seconds(start))
			}
		})
	}
}

// Who came up in part is told the rest; who did not is told ever more seldom.
func TestWhoAnswersInPartIsToldTheRest(t *testing.T) {
	gap := func(answers float64) float64 {
		sc := newScene(t, boat.Improver)
		sc.run(120, func(s *Situation, at float64) {
			told := 0.0
			for _, c := range sc.cues {
				if c.Key == boat.HeadUp && s.Now.Seconds(c.T) > 4 {
					told++
				}
			}
			low(22-answers*told, 0.9)(s, at)
		})
		var at []float64
		for _, c := range sc.cues {
			if c.Key == boat.HeadUp {
				at = append(at, c.T.Seconds(t0))
			}
		}
		if len(at) < 3 {
			t.Fatalf("said %v, want head_up three times", sc.keys())
		}
		return at[2] - at[1]
	}
	if part, none := gap(5), gap(0); part > 20 || none < 28 {
		t.Errorf("the third word after %.0f s where she answers, %.0f s where not", part, none)
	}
}

// Low she would be fast: where she is slow, the luff is asked and not the helm.
func TestLowAndSlowTheLuffGoesFirst(t *testing.T) {
	sc := newScene(t, boat.Improver).run(60, low(14, 0.7))
	sc.never(boat.HeadUp)
	if !contains(sc.keys(), "luff_test") {
		t.Errorf("said %v, want the luff test", sc.keys())
	}
}
