package wind

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// The eye of the wind from heel (physics: the sail changes sides there, and pushes
// to the other). It needs no heading that anyone asked for. The sail is soft for some
// way on both sides of it, a hull answers late, and a crew that still sits out brings
// her upright early: by how much her heel is early goes with crew and boat, is the
// other way round in a turn to the other side, and is learned from turns to both. The
// faster she turns, the less the moment is worth (common practice, no source).
const (
	eyeLeast = 10.0 // degrees, of an eye passed slowly
	eyeLateS = 0.5  // deviation of the moment
	eyeHeel  = 3.0  // on both sides of the level, or waves do as much
	quarter  = 0.25 // of the heel before: less is neither side
	eyeWild  = 0.2
	earlySD  = 10.0 // of what is learned, before the first turn
	sternSD  = 25.0 // in a gybe the boom comes over when it will
)

// early is by how many degrees her heel changes sides before the bow is in the eye,
// and the variance of that; the prior stands for a crew nobody has seen yet.
type early struct{ deg, gained float64 }

func (a early) variance() float64 { return 1 / (1/(earlySD*earlySD) + a.gained) }

// learn takes one turn in which she was early by deg, give or take sd.
func (a *early) learn(deg, sd float64) {
	gain := a.variance() / (a.variance() + float64(sd*sd))
	a.deg += float64(gain * (deg - a.deg))
	a.gained += 1 / (sd * sd)
}

// eyeTells takes the heading at which her heel changed sides.
func (e *Estimator) eyeTells(b *block, eye, sd float64) {
	m := &e.motion
	way := math.Copysign(1, m.arc.sweptDeg)
	at := geo.Wrap360(eye + float64(way*m.early.deg))
	bow := near(at, math.Sqrt(m.early.variance()+float64(sd*sd)), eyeWild)
	stern := near(geo.Wrap360(at+180), sternSD, eyeWild)
	e.moved(b.t, false, func(dir float64) float64 { return bow(dir) + float64(stern(dir)*sd/sternSD) })
	now := e.dir.belief(false)
	if m.arc.holds(now.dirDeg) > turnProof && now.widthDeg < knownDeg {
		m.early.learn(way*geo.Diff(eye, now.dirDeg), math.Hypot(sd, now.widthDeg/2/sdOfWithin))
	}
}

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
	at := out.After(in.Seconds(out) / 2)
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
