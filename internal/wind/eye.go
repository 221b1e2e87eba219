package wind

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// The eye of the wind from heel (physics: the sail changes sides there, and pushes
// to the other). It needs no heading that anyone asked for. A hull answers about a
// second late, and what reads the heel half a second (common practice, no source).
const (
	heelLagS = 1.2
	eyeHeel  = 3.0  // on both sides of the level, or waves do as much
	quarter  = 0.25 // of the heel before: less is neither side
)

// eye is the heading, true, at which her heel changed sides in a tack from a to b.
// Without a compass, or with little heel, there is none: the course lags.
func (p *past) eye(a, b course, from, to boat.Time) (deg float64, ok bool) {
	if !a.heel.OK || !b.heel.OK || b.byCOG {
		return 0, false
	}
	level := (a.heel.Val + b.heel.Val) / 2
	half := (a.heel.Val - b.heel.Val) / 2
	if math.Abs(half) < eyeHeel {
		return 0, false
	}
	out, outOK := p.when(from, to, func(g glimpse) float64 { return (g.heel.Val-level)/half - quarter })
	in, inOK := p.when(from, to, func(g glimpse) float64 { return (g.heel.Val-level)/half + quarter })
	if !outOK || !inOK {
		return 0, false
	}
	return p.heading(out.After(in.Seconds(out)/2 - heelLagS))
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
