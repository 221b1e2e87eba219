package engine

import (
	"math"
	"slices"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/sim"
)

// judge compares a cue with the truth. What is not an order with a direction is
// only counted.
func (l *lesson) judge(t *testing.T, y tally, c spoken) {
	right, directed := l.right(c)
	if !directed {
		y.add(string(c.Key), true)
		return
	}
	y.add(string(c.Key), right)
	y.add("all that has a direction", right)
	if !right {
		t.Logf("wrong: %s %6.1f s: %q (%s); truly %.0f° off the wind, sheet in too far by %.0f°, %.1f kn, %s",
			l.name, c.T.Seconds(scriptStart), c.Words, c.Why, c.now.TWADeg, c.now.SheetErrDeg(), c.now.STWKn, c.now.Mode)
	}
}

func (l *lesson) right(c spoken) (right, directed bool) {
	last := l.over(c.Cue, -3, 0.1)
	off := meanOf(last, func(x sim.Truth) float64 { return math.Abs(x.TWADeg) })
	tooFarIn := meanOf(last, sim.Truth.SheetErrDeg)
	beat := meanOf(last, func(x sim.Truth) float64 { return x.BeatDeg })
	heel := meanOf(last, func(x sim.Truth) float64 { return math.Abs(x.HeelDeg) })
	if c.Size == boat.Hair {
		return false, false // a question of the trim search, which looks for its answer
	}
	switch c.Key {
	case boat.Ease:
		return tooFarIn > 0 || c.WhyCode == "heel" && heel > 15, true
	case boat.Trim:
		return tooFarIn < 0, true
	case boat.HeadUp:
		return off > beat && off < 110 || off > 155, true
	case boat.BearAway:
		return off < beat, true
	case boat.SteerTo:
		return l.steersRight(c, off), true
	case boat.Lifted, boat.Headed:
		return l.shifted(c), true
	case boat.LetGo, boat.SitOut:
		return heel > 14, true
	case boat.SheetIn, boat.EaseOut:
		return l.inTurn(c), true
	case boat.InIrons:
		return l.stuck(c), true
	case boat.MindBoom:
		return off > 130, true
	case boat.Good, boat.Hold:
		return l.praisesRightly(c)
	case boat.LetRun, boat.Straighten:
		eye, ok := l.eye(c.Cue)
		return ok && eye < 0, true
	}
	return false, false
}

// praisesRightly: praise for a change of sheet is earned where the sheet came
// nearer to its best.
func (l *lesson) praisesRightly(c spoken) (right, directed bool) {
	if c.WhyCode != "answered" && c.WhyCode != "sheet_right" {
		return false, false
	}
	for i := len(l.cues) - 1; i >= 0; i-- {
		asked := l.cues[i]
		if asked.T >= c.T || asked.Key != boat.Ease && asked.Key != boat.Trim && asked.Key != boat.LuffTest {
			continue
		}
		if c.T.Seconds(asked.T) > 40 {
			break
		}
		miss := func(s spoken) float64 { return math.Abs(meanOf(l.over(s.Cue, -3, 0.1), sim.Truth.SheetErrDeg)) }
		return miss(c) < math.Max(6, miss(asked)-2), true
	}
	return false, false
}

// steersRight: the heading named turns her the right way, to near the best angle.
func (l *lesson) steersRight(c spoken, off float64) bool {
	named := c.Amount.Val
	if c.Ref == boat.Magnetic {
		s, _ := sim.New("first-lesson", 1, scriptStart)
		named += s.VarDeg()
	}
	then := math.Abs(geo.Diff(named, meanDir(l.over(c.Cue, -10, 0.1))))
	return math.Abs(then-c.now.BeatDeg) < 12 && (then-off)*(c.now.BeatDeg-off) > 0
}

// shifted: the wind really went that way since she settled on this tack.
func (l *lesson) shifted(c spoken) bool {
	back := 0.0
	for back < 300 {
		ts := l.over(c.Cue, -back-1, -back)
		if len(ts) == 0 || ts[0].TWADeg*c.now.TWADeg < 0 {
			break
		}
		back++
	}
	lift := geo.Diff(meanDir(l.over(c.Cue, -back, -back/3)), meanDir(l.over(c.Cue, -10, 0.1))) * math.Copysign(1, c.now.TWADeg)
	if c.Key == boat.Headed {
		lift = -lift
	}
	return lift > 2
}

func meanDir(ts []sim.Truth) float64 {
	var x, y float64
	for _, s := range ts {
		x += math.Cos(geo.Rad(s.TWDDeg))
		y += math.Sin(geo.Rad(s.TWDDeg))
	}
	return geo.Wrap360(geo.Deg(math.Atan2(y, x)))
}

// inTurn: the word is heard by the hand at the eye: taken in before, eased after.
func (l *lesson) inTurn(c spoken) bool {
	eye, ok := l.eye(c.Cue)
	heard := -eye + 0.3
	if c.Key == boat.SheetIn {
		return ok && heard >= -3.5 && heard <= 0
	}
	return ok && heard >= -2.5 && heard <= 2.5
}

// stuck: she truly lies near the wind without way, or has just come out of it.
func (l *lesson) stuck(c spoken) bool {
	back := -1.0
	if c.Variant == "bow_turned" {
		back = -15
	}
	return slices.ContainsFunc(l.over(c.Cue, back, 0.1), func(x sim.Truth) bool {
		return x.Mode == boat.Irons || math.Abs(x.TWADeg) < 30 && math.Abs(x.STWKn) < 0.7
	})
}

func (l *lesson) sails() bool {
	return slices.ContainsFunc(l.truths, func(x sim.Truth) bool { return x.Mode.Sailing() })
}

func (l *lesson) staysQuietWhereNothingSails(t *testing.T) {
	if l.sails() {
		return
	}
	for _, c := range l.cues {
		if c.Key != boat.System {
			t.Errorf("%s: nobody sails, and %q is said (%s)", l.name, c.Words, c.Why)
		}
	}
}

// beginsInTime: within a minute of getting under way she hears the coach; counted
// only where she sails. Who sails well from the start is rightly told nothing.
func (l *lesson) beginsInTime(y tally) {
	under := slices.IndexFunc(l.truths, func(x sim.Truth) bool { return x.Mode.Sailing() && x.STWKn > 1 })
	if under >= 0 {
		y.add("heard in the first minute", len(l.cues) > 0 && l.cues[0].T.Seconds(l.truths[under].T) <= 60)
	}
}

func correction(c boat.Cue) bool { return c.Urgency == boat.Steer || c.Urgency == boat.Teach }

// turnWord says whether the cue belongs to a turn or to danger, which the budget
// of words does not hold back.
func turnWord(c boat.Cue) bool { return c.Urgency == boat.InTurn || c.Urgency == boat.Danger }

func (l *lesson) keepsTheBudget(t *testing.T) {
	minute, ten := 4, 20
	if l.level == boat.Expert {
		minute, ten = 2, 10
	}
	for i, c := range l.cues {
		inMinute, inTen := 0, 0
		for _, d := range l.cues[:i+1] {
			if ago := c.T.Seconds(d.T); correction(d.Cue) && ago < 600 {
				inTen++
				if ago < 60 {
					inMinute++
				}
			}
		}
		if inMinute > minute || inTen > ten {
			t.Errorf("%s, %.0f s: %d corrections in a minute, %d in ten", l.name, c.T.Seconds(scriptStart), inMinute, inTen)
		}
	}
	for from := 0.0; from+600 <= lessonMin*60; from += 60 {
		if air := l.air(from, from+600); air > 0.08*600 {
			t.Errorf("%s: from %.0f s on %.1f s of ten minutes are talk outside turns", l.name, from, air)
		}
	}
}

// air is the seconds of speech outside turns between two times.
func (l *lesson) air(from, to float64) float64 {
	sum := 0.0
	for _, c := range l.cues {
		if at := c.T.Seconds(scriptStart); at >= from && at < to && !turnWord(c.Cue) {
			sum += c.seconds
		}
	}
	return sum
}

// way is what a cue works on and which way.
func way(k boat.Key) (on string, dir int) {
	switch k {
	case boat.Ease:
		return "sheet", -1
	case boat.Trim:
		return "sheet", 1
	case boat.HeadUp:
		return "helm", 1
	case boat.BearAway:
		return "helm", -1
	case boat.SitOut:
		return "weight", 1
	case boat.SitIn:
		return "weight", -1
	}
	return "", 0
}

func (l *lesson) contradictions(t *testing.T) int {
	n := 0
	for i, c := range l.cues {
		for _, d := range l.cues[:i] {
			onC, dirC := way(c.Key)
			onD, dirD := way(d.Key)
			if onC == onD && dirC*dirD < 0 && c.T.Seconds(d.T) < 20 {
				n++
				t.Logf("%s: %q at %.0f s and %q at %.0f s", l.name, d.Words, d.T.Seconds(scriptStart), c.Words, c.T.Seconds(scriptStart))
			}
		}
	}
	return n
}
