package cue

import (
	"testing"

	"helmcue/internal/boat"
)

// tacks turns a scene through the wind at yaw degrees a second, from 44° to 50°
// on the other side, and returns when the eye was.
func (sc *scene) tacks(yaw float64, each func(*Situation)) boat.Time {
	return sc.tacksFrom(44, yaw, each)
}

// tacksFrom is tacks from another angle.
func (sc *scene) tacksFrom(from, yaw float64, each func(*Situation)) boat.Time {
	start := sc.s.Now
	eye := start.After(from / yaw)
	sc.run((from+50)/yaw, func(s *Situation, at float64) {
		off := from - float64(yaw*at)
		phase := boat.Turning
		if off < 0 {
			phase = boat.PastEye
		}
		s.turn("tack", phase, start)
		s.Turn.Eye = eye
		if off > 0 && from-off > 12 {
			s.Turn.ToEyeS = boat.Some(off / yaw)
		}
		s.State.YawDps = boat.Some(yaw)
		s.angle(off)
		s.pace(max(0.5, 1-at*0.1))
		if each != nil {
			each(s)
		}
	})
	return eye
}

// fromAReach is a boat that reaches at 75°.
func fromAReach(t *testing.T, level boat.Level) *scene {
	sc := newScene(t, level).run(8, func(s *Situation, _ float64) { s.mode(boat.Reaching); s.angle(75) })
	sc.cues = nil
	return sc
}

func TestOneWordInTheTurn(t *testing.T) {
	t.Run("slow turn from a reach: the sheet comes in before the eye", func(t *testing.T) {
		sc := fromAReach(t, boat.Beginner)
		eye := sc.tacksFrom(75, 10, nil)
		c := sc.first(boat.SheetIn)
		// Two seconds from sensing to hand, and the hand is to act about a second before the eye.
		if lead := eye.Seconds(c.T); lead < 2.5 || lead > 3.6 {
			t.Errorf("said %.1f s before the eye, want about 3.3", lead)
		}
		sc.never(boat.EaseOut)
		if c.Expires != c.T+700 || c.Urgency != boat.InTurn {
			t.Errorf("expires after %d ms at urgency %v", c.Expires-c.T, c.Urgency)
		}
	})
	t.Run("slow turn from a beat: it is in already, ease as it fills", func(t *testing.T) {
		sc := newScene(t, boat.Beginner)
		eye := sc.tacks(10, nil)
		c := sc.first(boat.EaseOut)
		fills := eye.After(30.0 / 10)
		if lead := fills.Seconds(c.T); lead < 1 || lead > 2.6 {
			t.Errorf("said %.1f s before the sail fills, want about 2.3", lead)
		}
		sc.never(boat.SheetIn)
	})
	t.Run("quick turn: too late to take it in, ease as it fills", func(t *testing.T) {
		sc := fromAReach(t, boat.Beginner)
		eye := sc.tacksFrom(75, 40, nil)
		c := sc.first(boat.EaseOut)
		fills := eye.After(30.0 / 40)
		if lead := fills.Seconds(c.T); lead < 1 || lead > 2.6 {
			t.Errorf("said %.1f s before the sail fills, want about 2.3", lead)
		}
	})
	t.Run("a late loudspeaker is spoken to earlier", func(t *testing.T) {
		lead := func(delay float64) float64 {
			sc := fromAReach(t, boat.Beginner)
			sc.s.Settings.DelayS = delay
			eye := sc.tacksFrom(75, 12, nil)
			return eye.Seconds(sc.first(boat.SheetIn).T)
		}
		if d := lead(1.0) - lead(0.1); d < 0.7 || d > 1.1 {
			t.Errorf("0.9 s more delay gave %.1f s more lead", d)
		}
	})
	t.Run("wind unknown", func(t *testing.T) {
		sc := newScene(t, boat.Beginner)
		sc.tacks(10, func(s *Situation) { s.Wind.Known, s.TWADeg = false, boat.Reading{} })
		sc.silent()
	})
	t.Run("quiet", func(t *testing.T) {
		sc := newScene(t, boat.Beginner)
		sc.c.Answer(sc.s.Now, boat.Answer{Knocks: 3})
		sc.tacks(10, nil)
		sc.silent()
	})
}

func TestLetRun(t *testing.T) {
	for _, tc := range []struct {
		name  string
		off   float64
		share float64
		says  bool
	}{
		{"higher than she can sail so slowly", -40, 0.6, true},
		{"at her best angle and slow gathers way by itself", -44, 0.6, false},
		{"low and slow gathers way by itself", -60, 0.6, false},
		{"way on", -44, 0.9, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			sc := newScene(t, boat.Improver)
			sc.tackTo(boat.JustSteady, func(s *Situation, _ float64) { s.angle(tc.off); s.pace(tc.share) })
			if tc.says {
				sc.first(boat.LetRun)
			} else {
				sc.never(boat.LetRun)
			}
		})
	}
}

// An expert whose last tack cost little hears no word on the sheet; others do.
func TestAnExpertWhoTacksWellIsSpared(t *testing.T) {
	for _, level := range boat.Levels() {
		for _, lengths := range []float64{1, 6} {
			sc := newScene(t, level)
			sc.s.Scored = []boat.Manoeuvre{{Kind: "tack", LostLen: boat.Some(lengths)}}
			sc.run(1, nil)
			sc.s.Scored = nil
			sc.tacks(10, nil)
			spared := level == boat.Expert && lengths < 2
			if said := contains(sc.keys(), "ease_out"); said == spared {
				t.Errorf("%v, last tack %g lengths: ease_out said is %v", level, lengths, said)
			}
		}
	}
}

// A tack that runs out of way is not trimmed for: with the sheet in she stays there.
func TestADyingTackIsNotTrimmedFor(t *testing.T) {
	sc := fromAReach(t, boat.Improver)
	sc.tacksFrom(75, 10, func(s *Situation) { s.pace(0.2) })
	sc.never(boat.SheetIn)
}

func TestLongAfterTheTackNobodyWaitsForSpeed(t *testing.T) {
	sc := newScene(t, boat.Improver)
	start := sc.s.Now
	sc.run(30, func(s *Situation, at float64) {
		phase := boat.NoTurn
		if at > 14 {
			phase = boat.JustSteady
		}
		s.turn("tack", phase, start)
		s.Turn.Eye = start.After(2)
		s.mode(boat.CloseHauled)
		s.pace(0.7)
	})
	sc.never(boat.LetRun)
}
