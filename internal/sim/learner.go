package sim

import (
	"math"
	"math/rand/v2"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// act is what the learner is doing.
type act int

const (
	lying   act = iota // head to wind with flapping sails, before setting off
	sailing            // on a leg
	tacking            // bow going through the wind
	gybing             // stern going through the wind
	stuck              // in irons
	backing            // turning her out of the wind with a backed sail
	engined            // under engine
	moored             // made fast
)

// turnMostS is how long a learner keeps trying to get through the wind.
const turnMostS = 14.0

// learner steers and trims. Times are seconds since the start; side is +1 on
// starboard tack (the wind from starboard) and -1 on port tack.
type learner struct {
	of       Conditions
	hull     *hull // what the hands know of her: where the sheet belongs
	windKn   float64
	biasDeg  float64 // steers so far too low always, what was learned taken off
	biasIn   float64 // holds the sheet so far in too far always, likewise
	act      act
	since    float64
	side     float64
	axisDeg  float64 // from the ramp to the windward mark
	feltDeg  float64 // where the learner takes the wind to come from
	leg      leg
	legSince float64
	goalDeg  float64 // wind angle of the leg, unsigned
	reaches  int
	to       mark // of the leg to a mark

	offDeg   float64 // how far below the goal the learner steers just now
	habit    noise   // the same, always a little
	wander   noise
	offUntil float64
	lookAt   float64
	turnAt   float64 // next tack or gybe
	ratedps  float64 // rate of the turn under way
	outDeg   float64 // angle off the wind at which it ends
	slowFrom float64 // since when she lies near the wind without way
	freeAt   float64 // when the learner knows how to get out of irons

	sheetGoal float64
	easeDeg   float64 // to be eased on the new tack, as a word within the turn told
	inDeg     float64 // how far the sheet is kept in too far
	trimAt    float64
	lastTrim  float64 // the last change asked of the sheet, out positive
	freeTill  float64 // sheet let go until
	holdDeg   float64
	holdTill  float64
	toGybe    bool // told to prepare a gybe
	heard     []order
	drill     drill
	guess     boat.Reading // the wind's speed by eye, knots
}

func newLearner(r *rand.Rand, c Conditions, h *hull, dirDeg float64) learner {
	w := 1 - c.Learner.Skill
	guess := boat.Some(math.Max(1, math.Round(c.Wind.Kn+clamp(1.2*r.NormFloat64(), -2, 2))))
	if !c.Learner.GuessesWind {
		guess = boat.Reading{}
	}
	l := learner{
		of: c, hull: h, windKn: c.Wind.Kn, side: 1, axisDeg: dirDeg, feltDeg: dirDeg, guess: guess,
		biasDeg: c.Learner.BiasDeg, biasIn: c.Learner.InDeg,
		habit: noise{sd: 1 + 3*w, tauS: 40}, wander: noise{sd: 1 + 2*w, tauS: 6}, sheetGoal: 50,
	}
	if r.Float64() < 0.5 {
		l.side = -1
	}
	if c.Course == Docked {
		l.act = moored
	}
	return l
}

func (l *learner) step(r *rand.Rand, t float64, h *hull, b breeze) {
	l.wander.step(r, stepS)
	l.habit.step(r, stepS)
	h.backed, h.backedDps = false, 0
	l.windKn = b.kn
	switch l.act {
	case lying:
		h.steeringDps = 0
		if t >= sailS {
			l.setOff(r, t, h)
		}
	case sailing:
		l.sail(r, t, h, b)
	case tacking, gybing:
		l.turn(r, t, h)
	case stuck:
		h.steeringDps = 0
		if t >= l.freeAt {
			l.begin(backing, t)
		}
	case backing:
		l.back(t, h)
	case engined:
		l.motor(r, t, h, b)
	case moored:
		h.steeringDps = 2.4*math.Cos(2*math.Pi*t/40) + 0.1*geo.Diff(h.headingDeg, b.dirDeg) + l.wander.val
	}
	l.handSheet(t, h)
}

func (l *learner) begin(a act, t float64) { l.act, l.since = a, t }

func (l *learner) setOff(r *rand.Rand, t float64, h *hull) {
	if l.of.Course == Motored {
		h.engineKn = 4.5
		l.begin(engined, t)
		l.holdDeg, l.turnAt = h.headingDeg, t+between(r, 80, 120) // straight out, into the wind
		return
	}
	l.begin(backing, t)
	first := beat
	if l.of.Course == Reaches || l.of.Course == Ramp {
		first = reach
	}
	l.enter(r, first, t)
	l.offDeg, l.inDeg = l.of.Learner.FootDeg, l.of.Learner.TrimDeg
	l.offUntil, l.trimAt = t+between(r, 55, 80), t+between(r, 70, 100)
	l.turnAt = t + between(r, 75, 100)
	l.sheetGoal = l.boom(l.goalDeg+l.offDeg) - l.inDeg
}

// boom is where the sheet belongs at a degrees off the wind, as the learner knows it
// by the luff.
func (l *learner) boom(a float64) float64 { return l.hull.boomDeg(a, l.windKn) }

// back turns her off the wind with the sail held aback until she can sail.
func (l *learner) back(t float64, h *hull) {
	h.steeringDps = 0
	h.backed, h.backedDps = true, -l.side*8
	if math.Abs(h.twaDeg) > l.goalDeg+12 { // on whichever side she fell off
		l.side = math.Copysign(1, h.twaDeg)
	}
	if l.side*h.twaDeg > l.goalDeg+8 {
		h.backed, h.backedDps = false, 0
		l.begin(sailing, t)
		l.turnAt = math.Max(l.turnAt, t+30)
	}
}

// steer puts the helm so that she comes to the heading, gently.
func (l *learner) steer(h *hull, wantDeg float64) {
	h.steeringDps = clamp(geo.Diff(h.headingDeg, wantDeg+l.wander.val)/1.5, -8, 8)
}

// handSheet pays out or hauls in towards where the learner wants the sheet.
func (l *learner) handSheet(t float64, h *hull) {
	goal := clamp(l.sheetGoal, 3, 85)
	if l.act == lying || l.act == stuck || l.act == backing {
		goal = 85
	}
	if t < l.freeTill {
		goal = 85
	}
	h.sheetDeg += clamp(goal-h.sheetDeg, -10*stepS, 14*stepS)
}

// turn carries a tack or gybe through. A tack that dies in the wind is irons.
func (l *learner) turn(r *rand.Rand, t float64, h *hull) {
	dir := l.side
	if l.act == gybing {
		dir = -l.side
	}
	h.steeringDps = dir * l.ratedps
	beyond := -l.side * h.twaDeg // on the new side from here on up
	done := l.act == tacking && beyond >= l.outDeg ||
		l.act == gybing && beyond > 60 && beyond <= l.outDeg
	if done {
		l.side = -l.side
		l.begin(sailing, t)
		l.afterTurn(r, t)
		return
	}
	l.minds(r, t, h)
}

// minds notices that she lies near the wind without way.
func (l *learner) minds(r *rand.Rand, t float64, h *hull) {
	if h.speedKn > math.Min(0.4, 0.06*l.windKn) {
		l.slowFrom = t
	}
	stalls := l.act == tacking && t-l.since > turnMostS
	if t-l.slowFrom < 2 && !stalls {
		return
	}
	if math.Abs(h.twaDeg) > 28 { // no way on, but the sail can be filled where she lies
		if l.act != sailing {
			l.side = math.Copysign(1, h.twaDeg)
			l.begin(sailing, t)
		}
		l.trimAt = math.Min(l.trimAt, t+1)
		l.turnAt = math.Max(l.turnAt, t+15)
		return
	}
	if l.act == tacking && r.Float64() < 0.6 {
		l.side = -l.side
	}
	l.begin(stuck, t)
	l.freeAt = t + between(r, 6, 8+10*(1-l.of.Learner.Skill))
	l.sheetGoal = 50
	l.offDeg, l.offUntil = 12, l.freeAt+15
	l.trimAt = l.freeAt + 8
}

// motor steers straight legs, some of them into the wind where no sail goes.
func (l *learner) motor(r *rand.Rand, t float64, h *hull, b breeze) {
	if t >= l.turnAt {
		offs := []float64{0, 4, -18, 65, -75, 150, -3, 20}
		l.holdDeg = geo.Wrap360(b.meanDeg + offs[r.IntN(len(offs))])
		l.turnAt = t + between(r, 60, 150)
	}
	l.steer(h, l.holdDeg)
}

func (l *learner) mode(h *hull) boat.Mode {
	switch l.act {
	case lying:
		return boat.Waiting
	case tacking:
		return boat.Tacking
	case gybing:
		return boat.Gybing
	case stuck, backing:
		return boat.Irons
	case engined:
		return boat.Motoring
	case moored:
		return boat.Stopped
	}
	switch a := math.Abs(h.twaDeg); {
	case a < 62:
		return boat.CloseHauled
	case a > 140:
		return boat.Running
	}
	return boat.Reaching
}

// aimDeg is the wind angle that the leg asks for, unsigned.
func (l *learner) aimDeg() float64 { return l.goalDeg }
