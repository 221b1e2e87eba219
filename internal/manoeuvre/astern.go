package manoeuvre

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// astern is the last time a boat seen by her course alone lost her way near the wind
// and began to drift astern. Her course then points down the wind, and when she sails
// again it comes round by the stern: a gybe by the look of it, while in truth she was
// in irons and fell off to one side or the other.
type astern struct {
	t    boat.Time // when her course turned over
	last boat.Time // the last moment before it
	side float64   // she came from
}

const (
	asternS    = 40.0  // until she sails again
	flipS      = 8.0   // in which the course turns over; slow as she is, it may be missing meanwhile
	flipDeg    = 100.0 // by as much at least
	flipNear   = 45.0  // from so near the wind
	flipFar    = 120.0 // to so far from it
	flipPart   = 0.45  // of the speed she came with, and no more: she loses her way
	flipCameS  = 15.0
	flipMostKn = 1.5
)

// see looks whether she begins to drift astern now; side is the one she was last on.
func (a *astern) see(p *past, side float64) {
	n := len(p.all)
	if n < 2 || !p.all[n-1].course {
		return
	}
	m := p.all[n-1]
	if math.Abs(m.off) < flipFar || !m.knOK || m.kn > flipMostKn {
		return
	}
	came, slowest, near := 0.0, math.Inf(1), -1
	for i := n - 1; i >= 0 && m.t.Seconds(p.all[i].t) <= flipCameS; i-- {
		q := p.all[i]
		if !q.knOK {
			continue
		}
		came = math.Max(came, q.kn)
		if m.t.Seconds(q.t) > flipS {
			continue
		}
		slowest = math.Min(slowest, q.kn)
		if near < 0 && math.Abs(q.off) < flipNear && math.Abs(geo.Diff(q.off, m.off)) > flipDeg {
			near = i
		}
	}
	if near < 0 || slowest > flipPart*came {
		return
	}
	last := p.all[near].t
	if last.Seconds(a.last) < flipS { // the same time, seen on
		return
	}
	*a = astern{t: m.t, last: last, side: a.cameFrom(p, near, side)}
}

// cameFrom is the side she sailed on before she came up into the wind, where the
// moment near is the last before her course turned over.
func (a *astern) cameFrom(p *past, near int, side float64) float64 {
	for i := near; i >= 0 && p.all[near].t.Seconds(p.all[i].t) <= flipCameS; i-- {
		if off := p.all[i].off; math.Abs(off) >= leaveDeg(tack) {
			return math.Copysign(1, off)
		}
	}
	return side
}

// crossing is what she did when she sails again on the side: a tack, or nothing where
// it is the side that she came from.
func (a *astern) crossing(side float64) (crossing, bool) {
	c := crossing{kind: tack, old: a.side, eye: a.last, last: a.last}
	return c, a.side == -side
}
