package lesson

import (
	"math"
	"slices"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/sim"
)

// The judge's allowances: what best means (angle, sheet) is the simulated boat's own,
// never the polar that the engine believes in.
const (
	heeledDeg   = 14.0 // from here on, weight out or a loose sheet is right
	steepDeg    = 15.0 // from here on, easing for heel is
	steerDeg    = 12.0 // a heading named is near the best angle
	praiseDeg   = 6.0  // so near its best the sheet is right
	nearerDeg   = 2.0  // or so much nearer than it was
	liftDeg     = 2.0  // less is no shift
	takeInMostS = 3.5  // sheet in is heard so long before the eye of the wind at most, and not after
	easeOutS    = 2.5  // ease is heard so long before or after it at most
	hearS       = 0.3  // from word to ear
	farDeg      = 110.0
	boomDeg     = 130.0
)

// Right judges the cue by the truth when it was begun. What is no order with a
// direction is not directed: a look, a question of the trim search, an exercise.
func (l *Log) Right(c Spoken) (right, directed bool) { return l.rightAt(c, c.T) }

func (l *Log) rightAt(c Spoken, t boat.Time) (right, directed bool) {
	last := l.Over(t, -3, 0.1)
	off := meanOf(last, func(x sim.Truth) float64 { return math.Abs(x.TWADeg) })
	beat := meanOf(last, func(x sim.Truth) float64 { return x.BeatDeg })
	tooFarIn := meanOf(last, sim.Truth.SheetErrDeg)
	heel := meanOf(last, func(x sim.Truth) float64 { return math.Abs(x.HeelDeg) })
	if c.Size == boat.Hair {
		return false, false
	}
	switch c.Key {
	case boat.Ease:
		return tooFarIn > 0 || c.WhyCode == "heel" && heel > steepDeg, true
	case boat.Trim:
		return tooFarIn < 0, true
	case boat.HeadUp:
		return off > beat && off < farDeg || off > c.Now.RunDeg, true
	case boat.BearAway:
		return off < beat, true
	case boat.SteerTo:
		return l.steersRight(c, off), true
	case boat.Lifted, boat.Headed:
		return l.shifted(c), true
	case boat.LetGo, boat.SitOut:
		return heel > heeledDeg, true
	case boat.SheetIn, boat.EaseOut:
		return l.inTurn(c), true
	case boat.InIrons:
		return l.stuck(c), true
	case boat.MindBoom:
		return off > boomDeg, true
	case boat.Good, boat.Hold:
		return l.Praised(c)
	case boat.LetRun, boat.Straighten:
		eye, ok := l.Eye(c.T)
		return ok && eye < 0, true
	}
	return false, false
}

// Late says whether an order that was right when it was begun was no longer right
// when its last word was heard: it came too late.
func (l *Log) Late(c Spoken) bool {
	switch c.Key {
	case boat.Ease, boat.Trim, boat.HeadUp, boat.BearAway, boat.SitOut, boat.LetGo:
	default:
		return false
	}
	was, directed := l.Right(c)
	is, _ := l.rightAt(c, c.T.After(c.Seconds+hearS))
	return directed && was && !is
}

// Praised says whether praise for a change of sheet was earned: the sheet had come
// near its best, or nearer than it was. Other praise is not judged.
func (l *Log) Praised(c Spoken) (right, judged bool) {
	switch c.WhyCode {
	case "answered", "sheet_right", "trim_search":
	default:
		return false, false
	}
	miss := func(s Spoken) float64 { return math.Abs(meanOf(l.Over(s.T, -3, 0.1), sim.Truth.SheetErrDeg)) }
	for _, asked := range slices.Backward(l.Cues) {
		if asked.T >= c.T || asked.Key != boat.Ease && asked.Key != boat.Trim && asked.Key != boat.LuffTest {
			continue
		}
		if c.T.Seconds(asked.T) > 40 {
			break
		}
		if c.WhyCode == "trim_search" && c.Key == boat.Hold {
			return false, false // no difference that counts, and no praise
		}
		return miss(c) < math.Max(praiseDeg, miss(asked)-nearerDeg), true
	}
	return false, false
}

// steersRight: the heading named turns her the right way, to near the best angle.
func (l *Log) steersRight(c Spoken, off float64) bool {
	named := c.Amount.Val
	if c.Ref == boat.Magnetic {
		named += l.VarDeg
	}
	then := math.Abs(geo.Diff(named, meanDir(l.Over(c.T, -10, 0.1))))
	best := c.Now.BeatDeg
	return math.Abs(then-best) < steerDeg && (then-off)*(best-off) > 0
}

// shifted: the wind really went that way since she settled on this tack.
func (l *Log) shifted(c Spoken) bool {
	back := 0.0
	for back < 300 {
		ts := l.Over(c.T, -back-1, -back)
		if len(ts) == 0 || ts[0].TWADeg*c.Now.TWADeg < 0 {
			break
		}
		back++
	}
	lift := geo.Diff(meanDir(l.Over(c.T, -back, -back/3)), meanDir(l.Over(c.T, -10, 0.1))) * math.Copysign(1, c.Now.TWADeg)
	if c.Key == boat.Headed {
		lift = -lift
	}
	return lift > liftDeg
}

func meanDir(ts []sim.Truth) float64 {
	var x, y float64
	for _, s := range ts {
		x += math.Cos(geo.Rad(s.TWDDeg))
		y += math.Sin(geo.Rad(s.TWDDeg))
	}
	return geo.Wrap360(geo.Deg(math.Atan2(y, x)))
}

// inTurn: the word is heard by the hand at the eye: taken in before; eased about it, or
// after it while the sheet is in too far.
func (l *Log) inTurn(c Spoken) bool {
	eye, ok := l.Eye(c.T)
	heard := hearS - eye
	if c.Key == boat.SheetIn {
		return ok && heard >= -takeInMostS && heard <= 0
	}
	tooFarIn := meanOf(l.Over(c.T, hearS, hearS+easeOutS), sim.Truth.SheetErrDeg)
	return ok && (math.Abs(heard) <= easeOutS || heard > 0 && tooFarIn > 0)
}

// stuck: she truly lies near the wind without way, or has just come out of it.
func (l *Log) stuck(c Spoken) bool {
	back := -1.0
	if c.Variant == "bow_turned" {
		back = -15
	}
	return slices.ContainsFunc(l.Over(c.T, back, 0.1), func(x sim.Truth) bool {
		return x.Mode == boat.Irons || math.Abs(x.TWADeg) < 30 && math.Abs(x.STWKn) < 0.7
	})
}
