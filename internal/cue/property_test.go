package cue

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"

	"pgregory.net/rapid"
)

// leg is a stretch of a random session: what holds for so many seconds.
type leg struct {
	sec   int
	s     Situation
	knock int
	act   string
	turns bool
}

func drawLeg(t *rapid.T, level boat.Level) leg {
	s := wellSailed(level)
	s.Mode = rapid.SampledFrom(boat.Modes()).Draw(t, "mode")
	if rapid.Bool().Draw(t, "sails") {
		s.Mode = rapid.SampledFrom([]boat.Mode{boat.CloseHauled, boat.Reaching, boat.Running}).Draw(t, "way")
	}
	dir := rapid.Float64Range(0, 359.9).Draw(t, "dir")
	sd := rapid.Float64Range(1, 8).Draw(t, "sd")
	if rapid.Bool().Draw(t, "doubt") {
		sd *= 3
	}
	s.Wind.DirDeg, s.Wind.SDDeg = boat.Some(dir), sd
	s.Wind.LoDeg, s.Wind.HiDeg = geo.Wrap360(dir-1.6*sd), geo.Wrap360(dir+1.8*sd)
	s.Wind.SpeedKn = boat.Some(rapid.Float64Range(1, 22).Draw(t, "wind"))
	s.Wind.By = rapid.SampledFrom([]string{"fix", "instrument", "motion"}).Draw(t, "by")
	s.angle(rapid.Float64Range(-180, 180).Draw(t, "twa"))
	if s.Mode == boat.CloseHauled || rapid.Bool().Draw(t, "near") {
		s.angle(math.Copysign(rapid.Float64Range(25, 75).Draw(t, "beat"), s.TWADeg.Val))
	}
	s.pace(rapid.Float64Range(0, 1.3).Draw(t, "share"))
	s.State.HeelDeg = boat.Some(rapid.Float64Range(-45, 45).Draw(t, "heel"))
	s.State.YawDps = boat.Some(rapid.Float64Range(-30, 30).Draw(t, "yaw"))
	s.Settings.Jib = rapid.Bool().Draw(t, "jib")
	if rapid.IntRange(0, 3).Draw(t, "light") == 0 {
		s.Target.BeatKn, s.Target.HereKn = 1, 1.2
	}
	l := leg{sec: rapid.IntRange(1, 60).Draw(t, "sec"), knock: rapid.SampledFrom([]int{0, 0, 0, 2, 3}).Draw(t, "knocks")}
	l.act = rapid.SampledFrom([]string{"", "", "tack", "gybe", "say", "quiet", "resume"}).Draw(t, "act")
	l.turns = s.Mode == boat.Tacking || s.Mode == boat.Gybing
	if rapid.IntRange(0, 2).Draw(t, "exercise") == 0 {
		s.Guide = drawGuide(t, level)
	}
	switch rapid.IntRange(0, 5).Draw(t, "fault") {
	case 0:
		s.Wind.Known, s.TWADeg = false, boat.Reading{}
	case 1:
		s.State.HeelDeg, s.Share = boat.Reading{}, boat.Reading{}
	case 2:
		s.Deaf = rapid.Bool().Draw(t, "deaf")
		s.State.PosOK = false
	case 3:
		s.Target = boat.Target{}
	}
	l.s = s
	if rapid.IntRange(0, 2).Draw(t, "tempts") > 0 {
		l.tempt(t, level)
	}
	return l
}

// tempt makes a leg in which a wrong word would be dangerous and is near at hand: at
// the border of the dead sector or of a gybe, under an exercise or an instructor who
// asks for more, or in a turn on an unknown wind.
func (l *leg) tempt(t *rapid.T, level boat.Level) {
	s := &l.s
	s.Target = wellSailed(level).Target
	s.State.HeelDeg, s.Deaf = boat.Some(5), false
	s.pace(rapid.Float64Range(0.5, 1).Draw(t, "pace"))
	s.Wind.Known, s.Wind.SpeedKn = true, boat.Some(8)
	s.Guide, s.Mode, l.turns = drawGuide(t, level), boat.CloseHauled, false
	l.sec = rapid.SampledFrom([]int{10, 40}).Draw(t, "stretch")
	if rapid.Bool().Draw(t, "sure") {
		s.Wind.SDDeg, s.Wind.LoDeg, s.Wind.HiDeg = 0.5, geo.Wrap360(s.Wind.DirDeg.Val-1), geo.Wrap360(s.Wind.DirDeg.Val+1)
	}
	twa := rapid.Float64Range(30, 60).Draw(t, "close")
	if rapid.Bool().Draw(t, "broad") {
		s.Mode, twa = boat.Reaching, rapid.Float64Range(135, 165).Draw(t, "broad angle")
	}
	s.angle(twa)
	if rapid.IntRange(0, 2).Draw(t, "unknown") == 0 {
		s.Wind.Known, s.TWADeg = false, boat.Reading{}
		s.Mode = rapid.SampledFrom([]boat.Mode{boat.Tacking, boat.Gybing, boat.CloseHauled}).Draw(t, "turning")
		l.turns = s.Mode != boat.CloseHauled
	}
}

// drawGuide is an exercise that asks for what may be dangerous here.
func drawGuide(t *rapid.T, level boat.Level) boat.Guide {
	id := rapid.IntRange(1, 1000).Draw(t, "wish")
	g := boat.Guide{Name: "exercise", Turn: boat.TurnWish{ID: id, Kind: rapid.SampledFrom([]string{"", "tack", "gybe"}).Draw(t, "wished"), Call: true, Why: "asked"}}
	key := rapid.SampledFrom([]boat.Key{boat.HeadUp, boat.BearAway}).Draw(t, "asks")
	g.Prompt = &boat.Prompt{ID: id, Key: key, Variant: "10", Amount: boat.Some(10), WhyCode: "exercise", Why: "asked"}
	if level == boat.Beginner {
		g.Prompt.Variant, g.Prompt.Amount = "little", boat.Some(5)
	}
	return g
}

// heard is a cue with the situation it was given in.
type heard struct {
	cue boat.Cue
	s   Situation
}

// play runs the legs through a new coach at five steps a second.
func play(legs []leg, each func(Situation, []boat.Cue)) []heard {
	c, now := New(3), t0
	var out []heard
	for _, l := range legs {
		if l.knock > 0 {
			c.Answer(now, boat.Answer{Knocks: l.knock})
		}
		if l.act != "" {
			c.Act(now, boat.Act{Act: l.act, Phrase: "well_done"})
		}
		since := now
		for n := range l.sec * 5 {
			now += 200
			s := l.s
			s.Now, s.State.T, s.ModeSince = now, now, since
			if l.turns {
				s.Turn = boat.Turn{Phase: boat.TurnPhase(1 + min(2, n/10)), Kind: map[bool]string{true: "tack", false: "gybe"}[s.Mode == boat.Tacking],
					Start: since, Eye: since.After(2), Settled: since.After(6), EntryKn: 3, ToEyeS: boat.Some(2 - float64(n)/5)}
			}
			cues := c.Decide(s)
			for _, q := range cues {
				out = append(out, heard{q, s})
			}
			if each != nil {
				each(s, cues)
			}
		}
	}
	return out
}

func drawLegs(t *rapid.T) []leg {
	level := rapid.SampledFrom(boat.Levels()).Draw(t, "level")
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) leg { return drawLeg(t, level) }), 2, 8).Draw(t, "legs")
}

// off is the least and the greatest angle of the bow to the wind's interval.
func off(s Situation) (near, far float64) {
	a := math.Abs(s.TWADeg.Val)
	lo := geo.Wrap360(s.Wind.DirDeg.Val - s.Wind.LoDeg)
	hi := geo.Wrap360(s.Wind.HiDeg - s.Wind.DirDeg.Val)
	return a - math.Max(lo, hi), a + math.Max(lo, hi)
}

func TestWordsNeverPushIntoDanger(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, h := range play(drawLegs(t), nil) {
			sound(t, h.cue)
			near, far := off(h.s)
			known := h.s.Wind.Known
			switch h.cue.Key {
			case boat.HeadUp:
				least := math.Max(h.s.Target.NoSailUp+5, h.s.Target.NoSailUp+h.cue.Amount.Val)
				if !known || !h.s.Target.OK || near < least || h.s.Share.Or(0) < 0.6 {
					t.Errorf("head up by %.0f° at %.0f° at the nearest, share %v, wind known %v", h.cue.Amount.Val, near, h.s.Share, known)
				}
			case boat.BearAway:
				if !known || far+h.cue.Amount.Val > 160 || math.Abs(h.s.TWADeg.Val) > 150 {
					t.Errorf("bear away by %.0f° at %.0f° at the farthest, wind known %v", h.cue.Amount.Val, far, known)
				}
			case boat.TurnNow, boat.PrepareTack, boat.PrepareGybe, boat.SheetIn, boat.EaseOut, boat.SteerTo,
				boat.Straighten, boat.LetRun, boat.MindBoom, boat.Lifted, boat.Headed, boat.Trim, boat.SitIn, boat.BuildSpeed, boat.TooSlow:
				if !known {
					t.Errorf("%s on an unknown wind", h.cue.Key)
				}
			}
			if h.cue.Key == boat.SteerTo {
				to := h.s.State.FromCompass(h.cue.Amount.Val, h.cue.Ref)
				if off := math.Abs(geo.Diff(to, h.s.Wind.DirDeg.Val)); off < h.s.Target.NoSailUp+2.5 {
					t.Errorf("a heading named that lies %.0f° off the wind", off)
				}
			}
			if h.cue.Variant == "gybe" && h.s.Wind.SpeedKn.Val > h.s.Settings.LimitKn {
				t.Errorf("a gybe called in %.0f kn", h.s.Wind.SpeedKn.Val)
			}
			if h.cue.T != h.s.Now {
				t.Errorf("cue at %d in a situation at %d", h.cue.T, h.s.Now)
			}
		}
	})
}

func TestBoatsThatDoNotSailAreNotCoached(t *testing.T) {
	idle := []boat.Mode{boat.Waiting, boat.Stopped, boat.Capsized, boat.Motoring, boat.Drifting}
	may := []boat.Key{boat.System, boat.OverLimit, boat.WindLost, boat.Say}
	rapid.Check(t, func(t *rapid.T) {
		last := boat.Unknown
		for _, h := range play(drawLegs(t), nil) {
			step := h.cue.Key == boat.InIrons && h.cue.Variant == "bow_turned" && h.s.Mode == boat.Waiting
			letGo := h.cue.Key == boat.LetGo && h.s.Mode == boat.Waiting
			if slices.Contains(idle, h.s.Mode) && !slices.Contains(may, h.cue.Key) && !step && !letGo {
				t.Errorf("%s while %v after %v", h.cue.Key, h.s.Mode, last)
			}
			last = h.s.Mode
		}
	})
}

func TestBudgetsAndContradictions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := play(drawLegs(t), nil)
		spoken := 0.0
		for i, h := range all {
			spoken += speakS(h.cue)
			minute := 0
			for j := i; j >= 0; j-- {
				p := all[j]
				ago := h.cue.T.Seconds(p.cue.T)
				if j < i && ago < 20 && opposite(p.cue, h.cue) && h.cue.Urgency != boat.Danger {
					t.Errorf("%s %.0f s after %s", h.cue.Key, ago, p.cue.Key)
				}
				if j == i-1 && h.cue.Urgency != boat.Danger && ago < speakS(p.cue) {
					t.Errorf("%s begun while %s is spoken", h.cue.Key, p.cue.Key)
				}
				exercise := p.cue.WhyCode == "exercise" // a lesson of its own, held by air time alone
				if ago <= 60 && (p.cue.Urgency == boat.Steer || p.cue.Urgency == boat.Teach) && !exercise {
					minute++
				}
			}
			if minute > perMinute(h.s.Settings.Level) {
				t.Errorf("%d corrections in a minute", minute)
			}
		}
	})
}

func TestMuchHeelIsAlwaysCalled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var since, last boat.Time
		play(drawLegs(t), func(s Situation, cues []boat.Cue) {
			for _, c := range cues {
				if c.Key == boat.LetGo {
					last = s.Now
				}
			}
			over := math.Abs(s.State.HeelDeg.Or(0)) > 30.5 && (s.Mode.Sailing() || s.Mode == boat.Irons) && !s.Deaf
			if !over {
				since = 0
				return
			}
			if since == 0 {
				since = s.Now
			}
			if s.Now.Seconds(since) > 2 && s.Now.Seconds(last) > 4.3 {
				t.Errorf("heel %.0f° for %.1f s and nothing said for %.1f s", s.State.HeelDeg.Val, s.Now.Seconds(since), s.Now.Seconds(last))
			}
		})
	})
}

func TestSameSessionSameWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		legs := drawLegs(t)
		if a, b := fmt.Sprint(play(legs, nil)), fmt.Sprint(play(legs, nil)); a != b {
			t.Errorf("two runs differ:\n%s\n%s", a, b)
		}
	})
}

// Turning the whole world must change no word but the headings, and mirroring it
// none at all.
func TestTurnedWorld(t *testing.T) {
	strip := func(all []heard) (out []string) {
		for _, h := range all {
			out = append(out, fmt.Sprint(h.cue.T, h.cue.Key, h.cue.Variant))
		}
		return out
	}
	rapid.Check(t, func(t *rapid.T) {
		legs := drawLegs(t)
		turned, mirrored := slices.Clone(legs), slices.Clone(legs)
		for i := range legs {
			w := &turned[i].s
			for _, d := range []*float64{&w.Wind.DirDeg.Val, &w.Wind.LoDeg, &w.Wind.HiDeg, &w.State.HeadingDeg.Val} {
				*d = geo.Wrap360(*d + 37)
			}
			m := &mirrored[i].s
			lo, hi := m.Wind.LoDeg, m.Wind.HiDeg
			m.Wind.DirDeg.Val, m.Wind.LoDeg, m.Wind.HiDeg = geo.Wrap360(-m.Wind.DirDeg.Val), geo.Wrap360(-hi), geo.Wrap360(-lo)
			m.State.HeadingDeg.Val = geo.Wrap360(-m.State.HeadingDeg.Val)
			m.TWADeg.Val, m.State.HeelDeg.Val, m.State.YawDps.Val = -m.TWADeg.Val, -m.State.HeelDeg.Val, -m.State.YawDps.Val
		}
		want := strip(play(legs, nil))
		if got := strip(play(turned, nil)); !slices.Equal(got, want) {
			t.Errorf("turned by 37°:\n%v\nwant\n%v", got, want)
		}
		if got := strip(play(mirrored, nil)); !slices.Equal(got, want) {
			t.Errorf("mirrored:\n%v\nwant\n%v", got, want)
		}
	})
}
