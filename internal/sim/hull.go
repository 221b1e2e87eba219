package sim

import (
	"math"

	"helmcue/internal/force"
	"helmcue/internal/geo"
)

// hull is the boat: where she is and how she moves. Angles are degrees true,
// places metres east and north of the ramp, over the ground.
type hull struct {
	boat  force.Boat
	book  *force.Book // what she can do at her best
	state force.State

	eastM       float64
	northM      float64
	headingDeg  float64
	yawDps      float64
	speedKn     float64 // through the water, along the bow; astern negative
	leewayDeg   float64 // to leeward positive
	heelDeg     float64 // starboard side down positive
	sheetDeg    float64 // how far the boom may go off the centre line
	eastMS      float64 // velocity over the ground
	northMS     float64
	twaDeg      float64 // -180..180, starboard positive
	bestSheet   float64 // the boom angle that drives best here
	hike        float64 // -1..1, how much of the crew's weight is out to starboard
	agile       float64 // 0..1, how well the crew follows the heel by itself
	leanTill    float64 // seconds of step time until which the crew leans out as told
	engineKn    float64 // speed under engine, 0 under sail
	fast        bool    // made fast to the dock
	backed      bool    // jib or boom held to windward
	backedDps   float64 // turn wanted of the backed sail
	steeringDps float64 // turn asked of the rudder
	helm        float64 // of the rudder, radians: what is held against her own turning
}

// Helm and hands (common practice, no source).
const (
	mostRudder  = 0.6 // radians; beyond, it stalls
	helmGain    = 2.0 // radians of rudder for a radian a second
	helmHold    = 0.8 // how soon a steady error is taken up, a second
	subSteps    = 2
	engineTauS  = 4.0
	engineTurnS = 0.4
)

func newHull(p *Prepared, headingDeg float64) hull {
	h := hull{boat: p.boat, book: p.book, headingDeg: headingDeg, sheetDeg: 50}
	h.fast = p.with.Course == Docked
	h.agile = 0.4 + 0.6*p.with.Learner.Skill
	h.state.Heading = geo.Rad(headingDeg)
	return h
}

// boomDeg is the boom angle that drives best at a degrees off a wind.
func (h *hull) boomDeg(a, windKn float64) float64 {
	return geo.Deg(h.book.BestSheet(windKn*geo.KnotMS, geo.Rad(a)))
}

func (h *hull) step(b breeze, dt float64) {
	h.twaDeg = geo.Diff(h.headingDeg, b.dirDeg)
	h.bestSheet = h.boomDeg(math.Abs(h.twaDeg), b.kn)
	switch {
	case h.fast:
		h.swingAtDock(dt)
	case h.engineKn > 0:
		h.motor(dt)
	default:
		h.sail(b, dt)
	}
	h.drift(b, dt)
}

// sail lets the forces work.
func (h *hull) sail(b breeze, dt float64) {
	h.crew(dt)
	w := force.Wind{From: geo.Rad(b.dirDeg), MS: b.kn * geo.KnotMS}
	c := force.Controls{Sheet: geo.Rad(math.Max(h.sheetDeg, geo.Deg(force.LeastSheet))), Rudder: h.rudder(dt), Hike: h.hike}
	if h.backed {
		c.Back = 0.7
	}
	for range subSteps {
		h.boat.Step(&h.state, c, w, dt/subSteps)
	}
	h.headingDeg = geo.Wrap360(geo.Deg(h.state.Heading))
	h.yawDps = geo.Deg(h.state.R)
	h.speedKn = h.state.U / geo.KnotMS
	h.heelDeg = geo.Deg(h.state.Heel)
	h.leewayDeg = 0
	if h.speedKn > 0.3 {
		h.leewayDeg = -geo.Deg(math.Atan2(h.state.V, h.state.U)) * math.Copysign(1, h.twaDeg)
	}
}

// rudder is what the hand does to turn her as it wants to: against the error of the
// turn, and slowly against what is left of it. Astern it works the other way.
func (h *hull) rudder(dt float64) float64 {
	want := geo.Rad(h.steeringDps)
	if h.backed {
		want = geo.Rad(h.backedDps)
	}
	miss := want - h.state.R
	h.helm = clamp(h.helm+float64(helmHold*miss*dt), -0.25, 0.25)
	r := clamp(float64(helmGain*miss)+float64(0.7*want)+h.helm, -mostRudder, mostRudder)
	if h.state.U < -0.05 {
		return -r
	}
	return r
}

// crew shifts the weight: by itself as well as it knows, or out because it was told.
func (h *hull) crew(dt float64) {
	lean := math.Abs(h.heelDeg)
	want := clamp((lean-3)*0.07, 0, 1) * h.agile
	if h.leanTill > 0 {
		h.leanTill -= dt
		want = math.Max(want, clamp(lean*0.08, 0, 1))
	}
	want = math.Copysign(want, -h.heelDeg)
	h.hike += float64((want - h.hike) * math.Min(1, dt/1.2))
}

// motor is a hull under engine: it goes where it is steered.
func (h *hull) motor(dt float64) {
	h.yawDps += float64((h.steeringDps - h.yawDps) * math.Min(1, dt/engineTurnS))
	h.headingDeg = geo.Wrap360(h.headingDeg + float64(h.yawDps*dt))
	h.speedKn += float64((h.engineKn - h.speedKn) * dt / engineTauS)
	h.heelDeg -= float64(h.heelDeg * math.Min(1, dt/0.8))
	h.state = force.State{Heading: geo.Rad(h.headingDeg), U: h.speedKn * geo.KnotMS}
}

func (h *hull) swingAtDock(dt float64) {
	h.yawDps = h.steeringDps
	h.headingDeg = geo.Wrap360(h.headingDeg + float64(h.yawDps*dt))
	h.speedKn, h.heelDeg = 0, 0
	h.state = force.State{Heading: geo.Rad(h.headingDeg)}
}

// drift carries her along over the ground: her way through the water and the current.
func (h *hull) drift(b breeze, dt float64) {
	h.eastMS, h.northMS = 0, 0
	if h.fast {
		return
	}
	sin, cos := math.Sin(h.state.Heading), math.Cos(h.state.Heading)
	h.eastMS = float64(h.state.U*sin) + float64(h.state.V*cos) + b.currentEastMS
	h.northMS = float64(h.state.U*cos) - float64(h.state.V*sin) + b.currentNorthMS
	h.eastM += h.eastMS * dt
	h.northM += h.northMS * dt
}
