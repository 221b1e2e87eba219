package force

import "math"

// Settled is how she sails when nothing changes any more.
type Settled struct {
	MS     float64 // through the water
	Leeway float64 // to leeward positive, radians
	Heel   float64 // to leeward positive
	Hike   float64
}

// crew brings the weight to where the heel asks for it, as a good crew does.
func crew(hike, leeHeel, dt float64) float64 {
	want := clamp((leeHeel-0.05)*4, -0.2, 1)
	return hike + (want-hike)*math.Min(1, dt/0.8)
}

// Settle finds how she settles on a course twa off the wind (radians, positive) with
// the sheet, the helm holding the course. From is where the search begins; its zero
// value begins from rest.
func (b Boat) Settle(twa, windMS, sheet float64, from Settled) Settled {
	const dt = 0.12
	s := State{U: math.Max(0.3, from.MS*math.Cos(from.Leeway)), V: -from.MS * math.Sin(from.Leeway), Heel: -from.Heel}
	s.Boom = sheet
	w := Wind{From: twa, MS: windMS}
	hike := from.Hike
	before := 0.0
	for i := range 600 {
		awa, ms := b.apparent(s, w)
		c := Controls{Sheet: sheet, Hike: hike}
		b.swing(&s, c, awa, dt)
		f := b.forces(s, c, awa, ms)
		// The rudder that holds the course costs what its lift induces.
		f.ahead -= b.holding(f.yaw, s.U)
		f.yaw, s.R = 0, 0
		b.move(&s, f, dt)
		s.Heading, s.R = 0, 0
		hike = crew(hike, -s.Heel, dt)
		if i%20 == 19 {
			if math.Abs(s.U-before) < 0.003 {
				break
			}
			before = s.U
		}
	}
	return Settled{MS: math.Hypot(s.U, s.V) * math.Copysign(1, s.U), Leeway: math.Atan2(-s.V, s.U), Heel: -s.Heel, Hike: hike}
}

// holding is the drag of a rudder that holds a yaw moment at a speed.
func (b Boat) holding(yaw, u float64) float64 {
	side := yaw / (0.5 * b.LengthM)
	q := 0.5 * waterDensity * math.Max(0.25, u*u) * b.RudderM2
	cl := math.Min(1.2, math.Abs(side)/q)
	return q * cl * cl / (math.Pi * b.rudder().aspect)
}

// LeastSheet is how near to the centre line the boom can be hauled, radians.
const LeastSheet = 0.10

// Trim finds the sheet that makes most speed on a course, and the speed. The search
// begins from how she sails on a course nearby; its zero value begins from rest.
func (b Boat) Trim(twa, windMS float64, from Settled) (sheet float64, at Settled) {
	lo, hi := LeastSheet, math.Min(1.5, math.Max(0.3, twa))
	g := (math.Sqrt(5) - 1) / 2
	x1, x2 := hi-g*(hi-lo), lo+g*(hi-lo)
	a, c := b.Settle(twa, windMS, x1, from), Settled{}
	c = b.Settle(twa, windMS, x2, a)
	for range 7 {
		if a.MS > c.MS {
			hi, x2, c = x2, x1, a
			x1 = hi - g*(hi-lo)
			a = b.Settle(twa, windMS, x1, c)
		} else {
			lo, x1, a = x1, x2, c
			x2 = lo + g*(hi-lo)
			c = b.Settle(twa, windMS, x2, a)
		}
	}
	if a.MS > c.MS {
		return x1, a
	}
	return x2, c
}
