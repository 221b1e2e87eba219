package force

import "math"

// push is a force in her own axes, and where it turns her.
type push struct{ ahead, starboard, yaw, heel float64 }

func (p *push) add(o push) {
	p.ahead += o.ahead
	p.starboard += o.starboard
	p.yaw += o.yaw
	p.heel += o.heel
}

func (b Boat) sail() foil {
	return foil{area: b.SailM2, aspect: b.SailSpanM * b.SailSpanM / b.SailM2, stall: 0.40, drag0: 0.09, plate: 1.25}
}

const (
	flogAngle = 0.15 // below this angle of attack the cloth shakes
	flogDrag  = 0.08
	luffWidth = 0.10
	twist     = 0.12 // between boom and the mean of the sail
	worn      = 0.75 // of what a clean foil of that area does: cloth, mast, two sails in each other's way
)

// apparent is the wind she feels at the sail: angle off the bow, starboard positive,
// and speed.
func (b Boat) apparent(s State, w Wind) (angle, ms float64) {
	from := wrap(w.From - s.Heading)
	// Where the air goes to, minus her own motion; the mast's roll adds to it.
	ahead := -w.MS*math.Cos(from) - s.U
	across := (-w.MS*math.Sin(from) - s.V - s.P*b.SailHighM*0.7) * math.Cos(s.Heel)
	return math.Atan2(-across, -ahead), math.Hypot(ahead, across)
}

// swing moves the boom: the wind takes it to leeward as far as the sheet lets it, or
// until the sail streams; a hand may hold it to windward.
func (b Boat) swing(s *State, c Controls, awa, dt float64) {
	const rate = 2.5 // rad/s: across in a second
	goal := clamp(awa, -c.Sheet, c.Sheet)
	if math.Abs(awa) > math.Pi/2 {
		goal = math.Copysign(c.Sheet, awa)
	}
	if c.Back != 0 {
		goal = -math.Copysign(c.Back, awa)
	}
	s.Boom += clamp(goal-s.Boom, -rate*dt, rate*dt)
}

// sailPush is what the sail does. The boom is to port positive, so that with the wind
// from starboard both angles have one sign and their difference is the angle at which
// the air meets the cloth.
func (b Boat) sailPush(s State, awa, ms float64) push {
	attack := wrap(awa - s.Boom)
	if c := math.Copysign(1, awa); attack*c > 0 { // the leech falls off to leeward above the boom
		attack = c * math.Max(0, math.Abs(attack)-twist*math.Cos(s.Boom))
	}
	f := b.sail()
	full := rise((math.Abs(attack) - flogAngle) / luffWidth)
	cl, cd := f.at(attack)
	cl, cd = cl*full, mix(flogDrag, cd, full)
	q := 0.5 * airDensity * ms * ms * b.SailM2 * worn
	lift, drag := q*cl, q*cd
	// Lift stands across the wind, towards the side of the boom's leech; drag along it.
	sin, cos := math.Sincos(awa)
	p := push{ahead: lift*sin - drag*cos, starboard: -lift*cos - drag*sin}
	p.starboard *= math.Cos(s.Heel)
	p.add(b.windage(awa, ms))
	lead := 0.02 * b.LengthM // the sail's centre stands so far ahead of the board's
	p.yaw = p.starboard*lead - p.ahead*b.SailHighM*math.Sin(s.Heel)
	p.heel = p.starboard * b.SailHighM * math.Cos(s.Heel)
	return p
}

// backed is the jib held to windward, or where there is none the boom pushed out: it
// turns the bow off the wind.
func (b Boat) backed(c Controls, awa, ms float64) push {
	if c.Back == 0 {
		return push{}
	}
	q := 0.5 * airDensity * ms * ms * math.Max(b.JibM2, 0.3*b.SailM2)
	side := -math.Copysign(q*0.9, awa)
	return push{starboard: side, yaw: side * 0.35 * b.LengthM}
}

// windage is the drag of hull, mast and crew.
func (b Boat) windage(awa, ms float64) push {
	q := 0.5 * airDensity * ms * ms
	front, side := 0.9*0.5*b.BeamM, 0.9*0.35*b.LengthM
	return push{ahead: -q * front * math.Cos(awa), starboard: -q * side * math.Sin(awa)}
}
