package sim

import (
	"math"
	"math/rand/v2"

	"helmcue/internal/geo"
)

// leg is a part of the round: to windward, across and back, downwind, or straight to a mark.
type leg int

const (
	beat leg = iota
	reach
	run
	toMark
)

// The round, metres.
const (
	beatM = 380.0
	laneM = 90.0
)

const mostLegS = 900.0 // a leg that never ends, in a calm, is given up

func (l *learner) enter(r *rand.Rand, g leg, t float64) {
	l.leg, l.legSince, l.lookAt = g, t, t
	l.offDeg = 0
	switch g {
	case beat:
		l.goalDeg = l.beatDeg()
		l.turnAt = t + between(r, 50, 80)
	case reach:
		l.goalDeg = between(r, 80, 112)
		l.turnAt = t + between(r, 45, 80)
	case toMark:
		l.turnAt = t + 12
	case run:
		l.goalDeg = between(r, 148, 160)
		l.turnAt = math.Inf(1)
		if r.Float64() < l.of.Learner.Gybes {
			l.turnAt = t + between(r, 50, 90)
		}
	}
	l.trimAt = t
}

// beatDeg is the angle that makes most to windward, as a good helm finds it by the luff.
func (l *learner) beatDeg() float64 { return geo.Deg(l.hull.book.BestBeat(l.windKn * geo.KnotMS)) }

// sail steers the leg and decides when to turn.
func (l *learner) sail(r *rand.Rand, t float64, h *hull, b breeze) {
	l.feel(r, t, h, b)
	l.slip(r, t, h)
	want := l.feltDeg - l.side*(l.goalDeg+l.offDeg+l.biasDeg+l.side*l.of.Learner.AsymDeg+l.habit.val)
	if t < l.holdTill {
		want = l.holdDeg
	}
	l.steer(h, want)
	l.minds(r, t, h)
	if l.act == sailing {
		l.decide(r, t, h)
	}
}

// feel is how the learner tells the wind: on a beat all the time by the luff, on
// other legs by a glance now and then, steering a straight course between.
func (l *learner) feel(r *rand.Rand, t float64, h *hull, b breeze) {
	if l.leg == beat {
		l.feltDeg = geo.Wrap360(l.feltDeg + geo.Diff(l.feltDeg, b.dirDeg)*stepS/10)
		return
	}
	if t < l.lookAt && !(l.leg == run && math.Abs(h.twaDeg) > 172) {
		return
	}
	l.lookAt = t + between(r, 25, 50)
	l.feltDeg = geo.Wrap360(b.dirDeg + 5*(1-l.of.Learner.Skill)*r.NormFloat64())
}

// slip lets the learner fall into and out of steering too low or too high, and of
// keeping the sheet too far in or out.
func (l *learner) slip(r *rand.Rand, t float64, h *hull) {
	w := 1 - l.of.Learner.Skill
	if t >= l.offUntil {
		l.offUntil = t + between(r, 45, 110)
		switch x := r.Float64(); {
		case x < 0.15+0.4*w:
			l.offDeg = between(r, 8, 18)
		case x < 0.2+0.7*w && l.leg == beat:
			l.offDeg = -between(r, 4, 8)
		default:
			l.offDeg = 0
		}
	}
	if t >= l.trimAt {
		l.trimAt = t + between(r, 45, 110)
		l.inDeg = l.slackness(r)
		a := math.Max(math.Abs(h.twaDeg), l.goalDeg-5)
		if t-l.legSince < 10 { // still coming round to the new leg
			a = l.goalDeg
		}
		l.sheetGoal = l.boom(a) - l.inDeg
	}
	flaps := h.sheetDeg-h.bestSheet > 8+5*w
	if (flaps || h.bestSheet-h.sheetDeg > 28) && t >= l.freeTill {
		l.trimAt = math.Min(l.trimAt, t+3+3*w) // even a learner sees a flapping or a dead sail
	}
}

// slackness is how far in too far the sheet is made fast this time: mostly in, since a
// sail that flaps is seen and one that is dead is not.
func (l *learner) slackness(r *rand.Rand) float64 {
	w := 1 - l.of.Learner.Skill
	return clamp(l.biasIn+float64(w*(6+11*r.NormFloat64())), -7, 35)
}

// decide turns when the leg or the lane ends. With too little way the learner
// mostly waits, and sometimes turns all the same.
func (l *learner) decide(r *rand.Rand, t float64, h *hull) {
	sin, cos := math.Sin(geo.Rad(l.axisDeg)), math.Cos(geo.Rad(l.axisDeg))
	up := float64(h.eastM*sin) + float64(h.northM*cos)
	across := float64(h.eastM*cos) - float64(h.northM*sin)
	long := t-l.legSince > mostLegS
	if l.drills(r, t, h) {
		return
	}
	switch {
	case l.of.Course == OneTack:
		return
	case l.of.Course == Reaches:
		if t >= l.turnAt {
			l.tryTack(r, t, h)
		}
		return
	}
	switch l.leg {
	case beat:
		if up > or(l.of.BeatM, beatM) || long {
			l.toppedOut(r, t)
			return
		}
		out := l.side*across < 0 && math.Abs(across) > laneM && t-l.since > 20
		if (t >= l.turnAt || out) && math.Abs(h.twaDeg) < 70 {
			l.tryTack(r, t, h)
		}
	case reach:
		if t < l.turnAt {
			return
		}
		if l.of.Course == Ramp {
			l.headFor(r, mark{}, t)
			return
		}
		if l.reaches++; l.reaches%2 == 1 {
			l.tryTack(r, t, h)
			return
		}
		l.enter(r, run, t)
	case toMark:
		l.home(r, t, h)
	case run:
		if up < 0 || long {
			l.enter(r, beat, t)
		} else if t >= l.turnAt {
			l.beginTurn(r, gybing, t)
		}
	}
}

// toppedOut leaves the windward mark.
func (l *learner) toppedOut(r *rand.Rand, t float64) {
	if l.of.Course == Triangle {
		l.headFor(r, l.wing(), t)
		return
	}
	l.enter(r, reach, t)
}

func (l *learner) tryTack(r *rand.Rand, t float64, h *hull) {
	enough := math.Min(1.6, 0.6*h.book.Speed(l.windKn*geo.KnotMS, geo.Rad(l.goalDeg))/geo.KnotMS)
	if h.speedKn < enough && r.Float64() < 0.2+0.6*l.of.Learner.Skill {
		l.gather(t, 8)
		if l.leg == reach {
			l.reaches--
		}
		return
	}
	l.beginTurn(r, tacking, t)
}

// gather bears off for way before a turn.
func (l *learner) gather(t, forS float64) {
	l.offDeg = math.Max(l.offDeg, 8)
	l.offUntil = t + forS
	l.turnAt = t + forS
}

func (l *learner) beginTurn(r *rand.Rand, a act, t float64) {
	l.begin(a, t)
	l.slowFrom = t
	l.holdTill, l.easeDeg = 0, 0
	l.ratedps = clamp((20+4*r.NormFloat64())*math.Min(1, 0.4+l.windKn/12), 8, 28)
	if r.Float64() < 0.12*(1-l.of.Learner.Skill) {
		l.ratedps = 7 // puts the helm over timidly
	}
	l.outDeg = l.goalDeg + clamp(3+6*(1-l.of.Learner.Skill)*(1+r.NormFloat64()), -4, 18)
	if a == gybing {
		l.outDeg = math.Min(l.outDeg, 160)
		l.turnAt = math.Inf(1)
		l.toGybe = false
	}
}

// afterTurn draws how the new tack begins: often low, the sheet seldom right.
func (l *learner) afterTurn(r *rand.Rand, t float64) {
	w := 1 - l.of.Learner.Skill
	l.slowFrom = t
	l.offDeg, l.offUntil = between(r, 4, 8+14*w), t+between(r, 8, 25)
	l.trimAt = t + between(r, 30, 70)
	l.inDeg = l.slackness(r) - l.easeDeg
	l.sheetGoal, l.easeDeg = l.boom(l.goalDeg)-l.inDeg, 0
	switch l.leg {
	case beat:
		l.turnAt = t + float64(between(r, 45, 100)*math.Sqrt(math.Max(1, 9/math.Max(2, l.windKn))))
	case reach:
		l.turnAt = t + between(r, 45, 80)
		if l.drill.name != "" {
			l.turnAt = t + drillLegS
		}
	case toMark:
		l.turnAt = t + 20
	}
	l.lookAt = t
}
