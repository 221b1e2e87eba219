package sim

import (
	"math"

	"helmcue/internal/geo"
)

// hull is the boat: where she is and how she moves. Angles are degrees true,
// places metres east and north of the ramp.
type hull struct {
	lengthM     float64
	eastM       float64
	northM      float64
	headingDeg  float64
	yawDps      float64
	speedKn     float64 // through the water, along the bow; astern negative
	heelDeg     float64 // starboard side down positive
	sheetDeg    float64 // angle of the boom off the centre line
	eastMS      float64 // velocity over the ground
	northMS     float64
	twaDeg      float64 // -180..180, starboard positive
	bestSheet   float64 // the boom angle that drives best here
	hike        float64 // 0..1, how much of the crew's weight is out
	engineKn    float64 // speed under engine, 0 under sail
	fast        bool    // made fast to the dock
	backedDps   float64 // turn by backing the sail, which needs no way on
	steeringDps float64 // turn asked of the rudder
}

// Turning and inertia (common practice, no source: dinghies of about four metres).
const (
	quickTauS = 4.0  // gathering way
	slowTauS  = 7.0  // losing it
	mostDps   = 20.0 // turn at full rudder with way on
	steerKn   = 1.6  // way the rudder needs for that
)

// fullKn is the speed on the best reach: it grows with the wind towards a little
// over the speed at which a hull of this length makes waves as long as itself
// (1.34 knots per root foot, the common rule of thumb).
func (h *hull) fullKn(windKn float64) float64 {
	limit := 1.34 * math.Sqrt(h.lengthM/0.3048) * 1.15
	return limit * (1 - math.Exp(-windKn/7.5))
}

// drive is the share of fullKn at a degrees off the wind: nothing inside 25°, most
// around 105°, best made good near 47° up and 155° down.
func drive(a float64) float64 {
	switch {
	case a <= 25:
		return 0
	case a <= 105:
		return (1 - math.Exp(-(a-25)/16)) / (1 - math.Exp(-80.0/16))
	}
	x := (a - 105) / 75
	return 1 - float64(0.3*x*x)
}

// bestBoom is the boom angle that drives best at a degrees off the wind.
func bestBoom(a float64) float64 { return clamp(10+0.68*(a-45), 6, 85) }

// trimmed is the share of drive left when the boom is errDeg from the best, in too
// far positive. Out too far shakes and loses sooner.
func trimmed(errDeg float64) float64 {
	width := 34.0
	if errDeg < 0 {
		width = 24
	}
	x := errDeg / width
	return math.Max(0, 1-float64(x*x))
}

func (h *hull) step(b breeze, dt float64) {
	h.twaDeg = geo.Diff(h.headingDeg, b.dirDeg)
	a := math.Abs(h.twaDeg)
	h.bestSheet = bestBoom(a)
	h.turn(dt)
	pull := drive(a) * trimmed(h.bestSheet-h.sheetDeg)
	h.gather(float64(h.fullKn(b.kn)*pull), dt)
	h.lean(b, a, dt)
	h.move(b, a, pull, dt)
}

func (h *hull) turn(dt float64) {
	if h.fast {
		h.yawDps = h.steeringDps
	} else {
		most := mostDps * math.Min(1, math.Abs(h.speedKn)/steerKn)
		if h.engineKn > 0 {
			most = mostDps
		}
		want := clamp(h.steeringDps, -most, most) + h.backedDps
		h.yawDps += float64((want - h.yawDps) * math.Min(1, dt/0.4))
	}
	h.headingDeg = geo.Wrap360(h.headingDeg + float64(h.yawDps*dt))
}

// gather moves the speed towards what the sail asks; a hard turn costs way.
func (h *hull) gather(goalKn, dt float64) {
	if h.fast {
		h.speedKn = 0
		return
	}
	if h.engineKn > 0 {
		goalKn = h.engineKn
	}
	tau := slowTauS
	if goalKn > h.speedKn {
		tau = quickTauS
	}
	h.speedKn += float64((goalKn - h.speedKn) * dt / tau)
	h.speedKn -= float64(h.speedKn * math.Abs(h.yawDps) / mostDps * 0.05 * dt)
}

// lean heels her to leeward as the wind loads the sail, less what the crew's
// weight takes out.
func (h *hull) lean(b breeze, a, dt float64) {
	goal := 0.0
	if h.engineKn == 0 && !h.fast {
		load := clamp((a-20)/25, 0, 1)
		if a > 60 {
			load = clamp(1-(a-60)/110, 0.12, 1)
		}
		load *= clamp(1+(h.bestSheet-h.sheetDeg)/30, 0, 1.25)
		goal = float64(0.16*b.kn*b.kn) * load * (1 - float64(0.6*h.hike))
		goal = -math.Copysign(math.Min(goal, 38), h.twaDeg)
	}
	h.heelDeg += float64((goal - h.heelDeg) * math.Min(1, dt/0.8))
	h.hike = clamp(h.hike+float64((clamp((math.Abs(h.heelDeg)-6)/12, 0, 1)-h.hike)*dt/2.5), 0, 1)
}

// move carries her along: ahead through the water, sideways by leeway, and
// downwind when nothing drives her.
func (h *hull) move(b breeze, a, pull, dt float64) {
	h.eastMS, h.northMS = 0, 0
	if h.fast {
		return
	}
	leeway := 0.0
	if h.engineKn == 0 && h.speedKn > 0.3 {
		leeway = clamp(4*(130-a)/85, 0, 5) * clamp(2/h.speedKn, 0.7, 2.5)
	}
	track := geo.Rad(h.headingDeg - math.Copysign(leeway, h.twaDeg))
	ms := h.speedKn * geo.KnotMS
	h.eastMS, h.northMS = ms*math.Sin(track), ms*math.Cos(track)
	if h.engineKn == 0 && pull < 0.2 {
		down := geo.Rad(b.dirDeg + 180)
		drift := 0.04 * b.kn * geo.KnotMS * (1 - pull/0.2) * clamp(1.3-h.speedKn, 0, 1)
		h.eastMS += drift * math.Sin(down)
		h.northMS += drift * math.Cos(down)
	}
	h.eastM += h.eastMS * dt
	h.northM += h.northMS * dt
}
