package water

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Course is a straight way to be looked along.
type Course struct {
	From geo.Position
	Deg  float64 // over the ground, true
	Kn   float64
	AccM float64 // how far off the position may be
	Wind Wind
	S    float64 // how long, seconds

	Sailed *Sailed // counts as water for Free where the chart is silent; nil: nothing does
}

// Run is what lies on a Course.
type Run struct {
	ShoreS boat.Reading // seconds to the shore, where it is met; the position's doubt taken off
	EdgeS  boat.Reading // seconds to where she is within twelve and a half heights more likely than not: dead air may begin there
	EntryS boat.Reading // seconds to dead air, where it is more likely than not
	Dead   float64      // greatest probability of dead air in the stretch that begins at the edge
	Deep   float64      // greatest probability there of being within eight heights
	Outer  float64      // greatest probability there of being within twelve and a half
	Behind geo.Position // what takes the wind there; means nothing without EdgeS
}

const (
	aheadStepS = 4.0
	stretchS   = 32.0 // from the entry, how far the stretch is looked along; from the edge, twice as far
	likely     = 0.5
)

// Ahead looks along a course. A boat that hardly moves meets nothing.
func (c *Chart) Ahead(k Course) Run {
	var out Run
	ms := k.Kn * geo.KnotMS
	if !(ms > 0.2) || !c.Has(k.From) {
		return out
	}
	shore := c.ShoreM(k.From, k.Deg, float64(ms*k.S)+k.AccM) - k.AccM
	if !math.IsInf(shore, 1) {
		out.ShoreS = boat.Some(math.Max(0, shore/ms))
	}
	p := c.at(k.From)
	sin, cos := math.Sincos(geo.Rad(k.Deg))
	for s := 0.0; s < out.ShoreS.Or(math.Inf(1)); s += aheadStepS {
		if s > out.lastS(k.S) {
			break
		}
		d := float64(ms * s)
		at := point{p.x + float64(sin*d), p.y + float64(cos*d)}
		if !c.grid.has(at) {
			break
		}
		l := c.lee(at, k.Wind)
		if !out.EdgeS.OK && l.Outer > likely {
			out.EdgeS, out.Behind = boat.Some(s), l.Behind
		}
		if !out.EntryS.OK && l.Dead > likely {
			out.EntryS, out.Behind = boat.Some(s), l.Behind
		}
		if out.EdgeS.OK {
			out.Dead, out.Deep, out.Outer = math.Max(out.Dead, l.Dead), math.Max(out.Deep, l.Deep), math.Max(out.Outer, l.Outer)
		}
	}
	return out
}

// lastS is how many seconds ahead there is still something to be learned.
func (r *Run) lastS(most float64) float64 {
	switch {
	case r.EntryS.OK:
		return r.EntryS.Val + stretchS
	case r.EdgeS.OK:
		return r.EdgeS.Val + 2*stretchS
	}
	return most
}

// Free says whether a course can be sailed for S seconds without shore and without
// dead air that is more likely than not, as far as the chart tells. It begins within
// the chart; where it leads out of it, only water that was sailed before is free.
func (c *Chart) Free(k Course) bool {
	if !c.Has(k.From) {
		return false
	}
	r := c.Ahead(k)
	return !r.ShoreS.OK && !r.EntryS.OK && c.sailedOut(k)
}

// sailedOut says whether the part of a course that leads out of the chart, if any,
// was sailed before.
func (c *Chart) sailedOut(k Course) bool {
	p := c.at(k.From)
	sin, cos := math.Sincos(geo.Rad(k.Deg))
	far := k.Kn * geo.KnotMS * k.S
	_, inside := c.grid.clip(p, point{sin, cos}, far)
	if inside >= far {
		return true
	}
	out := c.frame.From(p.x+float64(sin*inside), p.y+float64(cos*inside))
	return k.Sailed != nil && k.Sailed.Along(out, k.Deg, far-inside)
}
