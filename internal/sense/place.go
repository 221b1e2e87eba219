package sense

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Faster than this over the ground is no small boat but a wrong position.
const jumpKn = 45

// place follows the position.
type place struct {
	at      boat.Time
	seen    bool
	pos     geo.Position
	acc     boat.Reading
	refused int
	other   geo.Position // the last one refused
}

func (p *place) read(t boat.Time) (geo.Position, boat.Reading, bool) {
	if !p.seen || t.Seconds(p.at) > 30 {
		return geo.Position{}, boat.Reading{}, false
	}
	return p.pos, p.acc, true
}

func (f *Filter) addPlace(t boat.Time, s boat.Sample) {
	if !s.LatDeg.OK || !s.LonDeg.OK || math.Abs(s.LatDeg.Val) > 90 || math.Abs(s.LonDeg.Val) > 180 {
		return
	}
	if f.pos.add(t, geo.Position{LatDeg: s.LatDeg.Val, LonDeg: s.LonDeg.Val}, s.AccM) {
		f.variation.update(t, f.pos.pos)
	}
}

// add takes a fix; one that no boat can have reached is refused until three in a
// row agree with each other.
func (p *place) add(t boat.Time, pos geo.Position, acc boat.Reading) bool {
	if p.seen && t <= p.at {
		return false
	}
	if p.seen && !p.near(t, p.pos, pos, acc) {
		if p.refused == 0 || !p.near(t, p.other, pos, acc) {
			p.refused = 0
		}
		p.refused++
		p.other = pos
		if p.refused < 3 {
			return false
		}
	}
	p.at, p.seen, p.pos, p.acc, p.refused = t, true, pos, acc, 0
	return true
}

func (p *place) near(t boat.Time, a, b geo.Position, acc boat.Reading) bool {
	dy := (b.LatDeg - a.LatDeg) * 60 * 1852
	dx := geo.Wrap180(b.LonDeg-a.LonDeg) * 60 * 1852 * math.Cos(geo.Rad(a.LatDeg))
	reach := float64(jumpKn*geo.KnotMS*math.Max(t.Seconds(p.at), 0.1)) + float64(3*acc.Or(10))
	return math.Hypot(dx, dy) <= reach
}
