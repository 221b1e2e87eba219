package sim

import (
	"math"
	"math/rand/v2"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// order is a cue on its way from the ear to the hand.
type order struct {
	cue  boat.Cue
	due  float64
	part float64 // how much of what was asked is done, about 1
	true float64 // the heading named, true, where one was
}

// hear puts a cue on its way. A sheet to be let go and a way out of irons are
// never missed; the rest is, one time in six or so.
func (l *learner) hear(r *rand.Rand, t float64, c boat.Cue, varDeg float64) {
	if c.Key == boat.Intro || c.Key == boat.Result {
		l.practise(r, t, c)
		return
	}
	urgent := c.Key == boat.LetGo || c.Key == boat.InIrons
	delay, part := between(r, 1, 4), between(r, 0.6, 1.3)
	missed := r.Float64() < 0.08+0.15*(1-l.of.Learner.Skill)+l.of.Learner.Misses
	delay += l.of.Learner.SlowS
	if r.Float64() < l.of.Learner.MixesUp {
		c.Key = mixedUp(c.Key)
	}
	if urgent {
		delay = math.Min(delay, 1.5)
	} else if missed {
		return
	}
	if c.Key == boat.SheetIn || c.Key == boat.EaseOut {
		delay = math.Min(delay, 1.2)
	}
	heading := c.Amount.Or(0)
	if c.Ref == boat.Magnetic {
		heading = geo.Wrap360(heading + varDeg)
	}
	l.heard = append(l.heard, order{cue: c, due: t + delay, part: part, true: heading})
}

// mixedUp is what a cue is taken for by one who mixes up its words.
func mixedUp(k boat.Key) boat.Key {
	switch k {
	case boat.HeadUp:
		return boat.BearAway
	case boat.BearAway:
		return boat.HeadUp
	case boat.Ease:
		return boat.Trim
	case boat.Trim:
		return boat.Ease
	}
	return k
}

// obey does what is due.
func (l *learner) obey(r *rand.Rand, t float64, h *hull) {
	rest := l.heard[:0]
	for _, o := range l.heard {
		if o.due > t {
			rest = append(rest, o)
			continue
		}
		if l.act == sailing {
			l.helm(r, t, h, o)
		}
		l.sheet(r, t, h, o)
		if o.cue.Key == boat.InIrons && l.act == stuck {
			l.freeAt = math.Min(l.freeAt, t)
		}
	}
	l.heard = rest
}

// helm does what a cue asks of the tiller.
func (l *learner) helm(r *rand.Rand, t float64, h *hull, o order) {
	change := o.cue.Amount.Or(5) * o.part
	switch o.cue.Key {
	case boat.HeadUp:
		l.lower(r, t, -change)
	case boat.BearAway:
		l.lower(r, t, change)
	case boat.MindBoom:
		l.lower(r, t, -12)
	case boat.SteerTo:
		if math.Abs(geo.Diff(o.true, l.feltDeg)) > 38 {
			l.holdDeg, l.holdTill = geo.Wrap360(o.true+3*r.NormFloat64()), t+20
		}
	case boat.Straighten:
		l.holdDeg, l.holdTill = h.headingDeg, t+8
	case boat.BuildSpeed, boat.TooSlow:
		l.gather(t, 12)
	case boat.LetRun:
		l.offDeg, l.offUntil = 10, t+7
	case boat.PrepareGybe:
		l.toGybe = l.leg == run
	case boat.PrepareTack:
		l.toGybe = false
		if l.drill.name != "" { // the moment is the sailor's own, unless it is said
			l.turnAt = t + between(r, 9, 12)
		}
	case boat.DeadAir:
		if l.leg == beat {
			l.tryTack(r, t, h)
		}
	case boat.Shore: // looks up, and turns away from what is seen
		if math.Abs(h.twaDeg) < 120 {
			l.beginTurn(r, tacking, t)
		}
	case boat.TurnNow:
		if l.toGybe {
			l.beginTurn(r, gybing, t)
		} else if math.Abs(h.twaDeg) < 120 {
			l.beginTurn(r, tacking, t)
		}
	}
}

// lower changes how far below the goal the learner steers, and lets that stand for
// a while.
func (l *learner) lower(r *rand.Rand, t, byDeg float64) {
	l.offDeg = clamp(l.offDeg+byDeg, -15-l.biasDeg, 40)
	l.biasDeg += float64(l.of.Learner.Keeps * byDeg)
	l.habit.val /= 2
	l.holdTill = 0
	l.offUntil = math.Max(l.offUntil, t+l.remembers(r))
}

// remembers is for how long a correction is kept to.
func (l *learner) remembers(r *rand.Rand) float64 { return l.of.forgetS() * between(r, 0.6, 1.4) }

// sheet does what a cue asks of the sheet and of the crew's weight.
func (l *learner) sheet(r *rand.Rand, t float64, h *hull, o order) {
	step := 6.0
	switch o.cue.Size {
	case boat.Hair:
		step = 3
	case boat.More:
		step = 11
	}
	step *= o.part
	switch o.cue.Key {
	case boat.LetGo:
		l.freeTill = t + between(r, 3, 6)
	case boat.Ease:
		l.pay(r, t, step)
	case boat.Trim:
		l.pay(r, t, -step)
	case boat.Good:
		if o.cue.Variant == "once_more" {
			l.pay(r, t, math.Copysign(3*o.part, l.lastTrim))
		}
	case boat.Back:
		l.pay(r, t, -l.lastTrim/2)
	case boat.LuffTest:
		l.inDeg = 2 * r.NormFloat64()
		l.sheetGoal = l.boom(math.Abs(h.twaDeg)) - l.inDeg
		l.biasIn -= float64(l.of.Learner.Keeps * l.biasIn)
		l.trimAt = math.Max(l.trimAt, t+1.3*l.remembers(r))
	case boat.SheetIn:
		if l.turning() {
			l.sheetGoal = 3
			return
		}
		l.pay(r, t, -turnStep*o.part)
	case boat.EaseOut:
		if l.turning() {
			l.easeDeg = turnStep * o.part
			return
		}
		l.pay(r, t, turnStep*o.part)
	case boat.SitOut:
		h.leanTill = 25
	case boat.OverLimit:
		l.pay(r, t, 8)
	}
}

// turnStep is what the words within a turn move the sheet by, degrees: they say
// nothing of a little.
const turnStep = 8.0

// turning says whether the helm is down for a tack or up for a gybe.
func (l *learner) turning() bool { return l.act == tacking || l.act == gybing }

func (l *learner) pay(r *rand.Rand, t, outDeg float64) {
	l.lastTrim = outDeg
	l.inDeg -= outDeg
	l.biasIn -= float64(l.of.Learner.Keeps * outDeg)
	l.sheetGoal = clamp(l.sheetGoal+outDeg, 3, 85)
	l.trimAt = math.Max(l.trimAt, t+1.2*l.remembers(r))
}
