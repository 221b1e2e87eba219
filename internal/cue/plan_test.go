package cue

import (
	"slices"
	"strings"
	"testing"

	"helmcue/internal/boat"
)

func noted(c *Coach, code string) bool {
	return slices.ContainsFunc(c.Notes(), func(n boat.Note) bool { return n.Code == code })
}

func TestATackThatWasAskedFor(t *testing.T) {
	for _, tc := range []struct {
		level boat.Level
		want  []string
	}{
		{boat.Beginner, []string{"prepare_tack", "turn_now"}},
		{boat.Improver, []string{"prepare_tack:heading", "look:windward_shoulder", "turn_now"}},
		{boat.Expert, []string{"prepare_tack:heading", "look:windward_shoulder", "turn_now"}},
	} {
		t.Run(tc.level.String(), func(t *testing.T) {
			sc := newScene(t, tc.level)
			sc.c.Act(sc.s.Now, boat.Act{Act: "tack"})
			sc.run(15, nil)
			if !slices.Equal(sc.keys(), tc.want) {
				t.Fatalf("said %v, want %v", sc.keys(), tc.want)
			}
			if lead := sc.cues[len(sc.cues)-1].T.Seconds(sc.cues[0].T); lead < 8 {
				t.Errorf("%.1f s from prepare to turn, want 8 at least", lead)
			}
			// On starboard tack with wind from 000 true, the new heading is 044 true, 040 by a
			// compass with 4° east variation.
			if c := sc.cues[0]; tc.level != boat.Beginner && (c.Amount.Val != 40 || c.Ref != boat.Magnetic) {
				t.Errorf("new heading %v %s, want 40 mag", c.Amount.Val, c.Ref)
			}
		})
	}
}

func TestTurnsThatAreNotCalled(t *testing.T) {
	for _, tc := range []struct {
		name, act string
		each      func(*Situation, float64)
	}{
		{"wind unknown", "tack", func(s *Situation, _ float64) { s.noWind() }},
		{"tack on a run", "tack", func(s *Situation, _ float64) { s.mode(boat.Running); s.angle(150) }},
		{"gybe on a beat", "gybe", func(s *Situation, _ float64) {}},
		{"gybe over the limit", "gybe", func(s *Situation, _ float64) {
			s.mode(boat.Running)
			s.angle(150)
			s.Wind.SpeedKn = boat.Some(16)
		}},
		{"motoring", "tack", func(s *Situation, _ float64) { s.mode(boat.Motoring) }},
		{"much heel", "tack", func(s *Situation, _ float64) { s.State.HeelDeg = boat.Some(-26) }},
		{"deaf", "tack", func(s *Situation, _ float64) { s.Deaf = true }},
	} {
		t.Run(tc.name, func(t *testing.T) {
			sc := newScene(t, boat.Improver)
			sc.run(5, tc.each)
			sc.c.Act(sc.s.Now, boat.Act{Act: tc.act})
			sc.run(20, tc.each)
			sc.never(boat.PrepareTack, boat.PrepareGybe, boat.TurnNow)
			if !noted(sc.c, "turn_dropped") {
				t.Error("nobody is told why")
			}
		})
	}
}

func TestAGybeIsPreparedFirst(t *testing.T) {
	sc := newScene(t, boat.Beginner)
	onRun := func(s *Situation, _ float64) { s.mode(boat.Running); s.angle(150); s.pace(0.95) }
	sc.run(5, onRun)
	sc.c.Act(sc.s.Now, boat.Act{Act: "gybe"})
	sc.run(15, onRun)
	if got := strings.Join(sc.keys(), " "); got != "prepare_gybe turn_now:gybe" {
		t.Errorf("said %s", got)
	}
}

func TestSpeedBeforeTheTurn(t *testing.T) {
	sc := newScene(t, boat.Improver)
	sc.run(3, low(0, 0.6))
	sc.c.Act(sc.s.Now, boat.Act{Act: "tack"})
	sc.run(6, low(0, 0.6))
	sc.first(boat.BuildSpeed)
	sc.never(boat.PrepareTack, boat.TurnNow)
	sc.run(14, low(0, 0.9))
	if got := sc.keys(); got[len(got)-1] != "turn_now" {
		t.Errorf("said %v, want the turn once she has speed", got)
	}
}

func TestTooSlowToTurn(t *testing.T) {
	sc := newScene(t, boat.Improver)
	sc.c.Act(sc.s.Now, boat.Act{Act: "tack"})
	sc.run(4, nil)
	start := sc.s.Now
	sc.run(2, func(s *Situation, _ float64) {
		s.turn("tack", boat.Turning, start)
		s.Turn.EntryKn, s.Turn.ToEyeS = 1.5, boat.Some(5)
		s.angle(38)
	})
	if !contains(sc.keys(), "too_slow") {
		t.Errorf("said %v, want too_slow", sc.keys())
	}
}

func TestTheCoachStartsNoTurn(t *testing.T) {
	sc := newScene(t, boat.Expert)
	sc.run(200, func(s *Situation, at float64) { // a header that stays
		s.Wind.DirDeg, s.Wind.LoDeg, s.Wind.HiDeg = boat.Some(345), 340, 350
		s.angle(44)
	})
	sc.never(boat.PrepareTack, boat.TurnNow, boat.PrepareGybe)
	if !noted(sc.c, "no_chart") {
		t.Error("no note says that the water is not known")
	}
}
