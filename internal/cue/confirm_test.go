package cue

import (
	"testing"

	"helmcue/internal/boat"
)

func TestTheAnswerIsConfirmed(t *testing.T) {
	for _, tc := range []struct {
		name   string
		before func(*Situation, float64)
		asked  boat.Key
		after  func(*Situation, float64)
		good   bool
	}{
		{"came up", low(12, 0.96), boat.HeadUp, low(2, 0.9), true},
		{"did nothing", low(12, 0.96), boat.HeadUp, low(12, 0.96), false},
		{"went the wrong way", low(12, 0.96), boat.HeadUp, low(16, 0.9), false},
		{"came up far too much", low(12, 0.96), boat.HeadUp, low(-14, 0.9), false},
		{"leaned out", func(s *Situation, _ float64) { s.State.HeelDeg = boat.Some(-22) }, boat.SitOut,
			func(s *Situation, _ float64) { s.State.HeelDeg = boat.Some(-8) }, true},
		{"trimmed and faster", func(s *Situation, _ float64) { s.mode(boat.Reaching); s.angle(80); s.pace(0.8) }, boat.LuffTest,
			func(s *Situation, _ float64) { s.pace(0.9) }, true},
		{"trimmed and no faster", func(s *Situation, _ float64) { s.mode(boat.Reaching); s.angle(80); s.pace(0.8) }, boat.LuffTest,
			func(s *Situation, _ float64) {}, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			sc := newScene(t, boat.Improver)
			if tc.asked == boat.LuffTest {
				sc.onAReach()
			}
			for range 60 {
				sc.run(1, tc.before)
				if len(sc.cues) > 0 {
					break
				}
			}
			asked := sc.first(tc.asked)
			sc.run(14, tc.after)
			if tc.good != contains(sc.keys(), "good") {
				t.Errorf("said %v", sc.keys())
			}
			for _, c := range sc.cues {
				if c.Key == boat.Good && (c.WhyCode != "answered" || c.T.Seconds(asked.T) > 14) {
					t.Errorf("good for %s (%s)", c.WhyCode, c.Why)
				}
			}
		})
	}
}

// onAReach settles her on a reach, long enough for her trim to be no news.
func (sc *scene) onAReach() *scene {
	sc.run(60, func(s *Situation, _ float64) { s.mode(boat.Reaching); s.angle(80); s.pace(0.94) })
	sc.cues = nil
	return sc
}

func TestSilenceThatNobodyHeardIsNotPraised(t *testing.T) {
	sc := newScene(t, boat.Improver).run(8, low(12, 0.96))
	c := sc.first(boat.HeadUp)
	sc.c.Spoken(sc.s.Now, c.ID, "failed")
	sc.run(12, low(2, 0.9)).never(boat.Good)
	heard := newScene(t, boat.Improver).run(8, low(12, 0.96))
	heard.c.Spoken(heard.s.Now, heard.cues[0].ID, "started")
	heard.c.Spoken(heard.s.Now, heard.cues[0].ID, "dropped") // by another loudspeaker
	if heard.run(12, low(2, 0.9)); !contains(heard.keys(), "good") {
		t.Errorf("said %v, want the answer to what was heard confirmed", heard.keys())
	}
}

func TestADeadLoudspeakerGetsNoFlood(t *testing.T) {
	sc := newScene(t, boat.Improver)
	for range 600 {
		n := len(sc.cues)
		sc.run(0.1, low(12, 0.96))
		for _, c := range sc.cues[n:] {
			sc.c.Spoken(sc.s.Now, c.ID, "failed")
		}
	}
	if len(sc.cues) > 4 {
		t.Errorf("%d cues in a minute to a loudspeaker that fails, want 4 at most", len(sc.cues))
	}
}

func TestDoneByTheSailor(t *testing.T) {
	sc := newScene(t, boat.Improver).onAReach()
	reach := func(s *Situation, _ float64) { s.mode(boat.Reaching); s.angle(80); s.pace(0.8) }
	sc.run(40, reach)
	sc.first(boat.LuffTest)
	sc.cues = nil
	sc.c.Answer(sc.s.Now, boat.Answer{Done: true})
	sc.c.mem.asked = &ask{key: boat.LuffTest, aim: sheet, t: sc.s.Now}
	sc.run(1, reach).first(boat.Good)
}

func TestFreePraise(t *testing.T) {
	praises := func(level boat.Level, share float64) int {
		sc := newScene(t, level).run(600, low(0, share))
		n := 0
		for _, c := range sc.cues {
			if c.Key == boat.Good {
				n++
			}
		}
		return n
	}
	// One came before the ten minutes begin, and each is rarer than the last.
	if n := praises(boat.Beginner, 1); n < 1 || n > 3 {
		t.Errorf("%d times in ten good minutes, want a few", n)
	}
	if n := praises(boat.Expert, 1); n != 0 {
		t.Errorf("an expert was praised %d times for nothing new", n)
	}
	if n := praises(boat.Beginner, 0.9); n != 0 {
		t.Errorf("praised %d times at 90 %%", n)
	}
}

func TestGoodTackIsPraised(t *testing.T) {
	settled := t0
	for _, tc := range []struct {
		name string
		m    boat.Manoeuvre
		good bool
	}{
		{"quick", boat.Manoeuvre{Kind: "tack", Settled: &settled, RecoveredS: boat.Some(10), LostLen: boat.Some(2.5), OverDeg: boat.Some(6)}, true},
		{"slow", boat.Manoeuvre{Kind: "tack", Settled: &settled, RecoveredS: boat.Some(30), LostLen: boat.Some(2.5)}, false},
		{"dear", boat.Manoeuvre{Kind: "tack", Settled: &settled, RecoveredS: boat.Some(10), LostLen: boat.Some(7)}, false},
		{"turned too far", boat.Manoeuvre{Kind: "tack", Settled: &settled, RecoveredS: boat.Some(10), LostLen: boat.Some(2), OverDeg: boat.Some(25)}, false},
		{"never settled", boat.Manoeuvre{Kind: "tack", RecoveredS: boat.Some(10), LostLen: boat.Some(2)}, false},
		{"cost not known", boat.Manoeuvre{Kind: "tack", Settled: &settled, RecoveredS: boat.Some(10)}, false},
		{"a gybe", boat.Manoeuvre{Kind: "gybe", Settled: &settled, RecoveredS: boat.Some(10), LostLen: boat.Some(1)}, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			sc := newScene(t, boat.Beginner).run(35, low(0, 0.9))
			sc.cues = nil
			sc.s.Scored = []boat.Manoeuvre{tc.m}
			sc.run(5, nil)
			if tc.good != contains(sc.keys(), "good") {
				t.Errorf("said %v", sc.keys())
			}
		})
	}
}

func TestLookEveryFewQuietMinutes(t *testing.T) {
	sc := newScene(t, boat.Expert).run(1200, nil)
	if n := len(sc.cues); n < 3 || n > 5 {
		t.Errorf("said %v in twenty quiet minutes, want a look about each four", sc.keys())
	}
	for i := 1; i < len(sc.cues); i++ {
		if sc.cues[i].Variant == sc.cues[i-1].Variant {
			t.Errorf("looked at %s twice running", sc.cues[i].Variant)
		}
	}
	reach := newScene(t, boat.Expert).run(1200, func(s *Situation, _ float64) { s.mode(boat.Reaching); s.angle(90) })
	for _, c := range reach.cues {
		if c.Variant == "luff" {
			t.Error("told to look at the luff on a reach")
		}
	}
}

// Where the sheet brought her to all she can do, the word is to leave it.
func TestARightSheetIsLeftAlone(t *testing.T) {
	for _, level := range []boat.Level{boat.Beginner, boat.Improver, boat.Expert} {
		sc := newScene(t, level).onAReach()
		for range 60 {
			sc.run(1, func(s *Situation, _ float64) { s.mode(boat.Reaching); s.angle(80); s.pace(0.8) })
			if len(sc.cues) > 0 {
				break
			}
		}
		sc.first(boat.LuffTest)
		sc.run(14, func(s *Situation, _ float64) { s.pace(1) })
		if !contains(sc.keys(), "hold") || contains(sc.keys(), "good") {
			t.Errorf("%v: said %v, want hold and not good", level, sc.keys())
		}
	}
}
