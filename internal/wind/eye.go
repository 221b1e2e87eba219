package wind

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// The eye of the wind from heel (physics: the sail changes sides there, and pushes
// to the other). It needs no heading that anyone asked for. A hull answers half a
// second late; what reads heel and heading is one phone, and late with both (common
// practice, no source). The faster she turns, the less the moment is worth.
const (
	heelLagS = 0.5
	eyeLeast = 8.0  // degrees, of an eye passed slowly
	eyeLateS = 0.7  // deviation of the moment
	eyeHeel  = 3.0  // on both sides of the level, or waves do as much
	quarter  = 0.25 // of the heel before: less is neither side
)

// eye is the heading, true, at which her heel changed sides in a tack from a to b,
// and its deviation.
// Without a compass, or with little heel, there is none: the course lags.
func (p *past) eye(a, b course, from, to boat.Time) (deg, sd float64, ok bool) {
	if !a.heel.OK || !b.heel.OK || b.byCOG {
		return 0, 0, false
	}
	level := (a.heel.Val + b.heel.Val) / 2
	half := (a.heel.Val - b.heel.Val) / 2
	if math.Abs(half) < eyeHeel {
		return 0, 0, false
	}
	out, outOK := p.when(from, to, func(g glimpse) float64 { return (g.heel.Val-level)/half - quarter })
	in, inOK := p.when(from, to, func(g glimpse) float64 { return (g.heel.Val-level)/half + quarter })
	if !outOK || !inOK {
		return 0, 0, false
	}
	at := out.After(in.Seconds(out)/2 - heelLagS)
	deg, ok = p.heading(at)
	was, wasOK := p.heading(at.After(-1))
	is, isOK := p.heading(at.After(1))
	rate := geo.Diff(was, is) / 2
	return deg, math.Hypot(eyeLeast, eyeLateS*rate), ok && wasOK && isOK
}

// when is the last moment at which f falls through zero.
func (p *past) when(from, to boat.Time, f func(glimpse) float64) (boat.Time, bool) {
	for k := 1; k < p.len(); k++ {
		g, next := p.ago(k), p.ago(k-1)
		if g.t < from {
			break
		}
		if next.t > to || !g.heel.OK || !next.heel.OK {
			continue
		}
		if x, y := f(*g), f(*next); x > 0 && y <= 0 {
			return g.t.After(next.t.Seconds(g.t) * x / (x - y)), true
		}
	}
	return 0, false
}

// heading is the bow at a time between two glimpses.
func (p *past) heading(t boat.Time) (float64, bool) {
	for k := 1; k < p.len(); k++ {
		g, next := p.ago(k), p.ago(k-1)
		if g.t > t {
			continue
		}
		gap := next.t.Seconds(g.t)
		if next.t < t || gap > 3 {
			return 0, false
		}
		return geo.Wrap360(g.bow + float64(geo.Diff(g.bow, next.bow)*t.Seconds(g.t)/gap)), true
	}
	return 0, false
}
