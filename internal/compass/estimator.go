package compass

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Estimator is fed with a boat's compass and receiver. Make it with New.
type Estimator struct {
	learner *Learner
	lag     lag
	trail   trail
	steady  steady
	lean    lean
	before  glimpse        // the last course taken in
	wanted  boat.Deviation // as the facts prove it
	applied boat.Deviation // on its way there
}

// lean is what is known of the side the wind comes from.
type lean struct {
	at  boat.Time
	twa boat.Reading
}

// leanS is how long a word about the wind's side holds.
const leanS = 10.0

// New makes an Estimator that has seen nothing.
func New() *Estimator { return &Estimator{learner: NewLearner(), lag: newLag()} }

// Bow gives what the compass shows at time t, turned true by the variation but with
// its errors in it, degrees.
func (e *Estimator) Bow(t boat.Time, shownDeg float64) {
	if e.trail.n > 0 && t < e.trail.last().t || math.IsNaN(shownDeg) || math.IsInf(shownDeg, 0) {
		return
	}
	if e.trail.n > 0 {
		e.approach(t.Seconds(e.trail.last().t))
	}
	e.trail.add(t, shownDeg)
}

// approachS is how slowly a new deviation is put to use: no turn of the boat may
// come of a sum on paper.
const approachS = 15.0

func (e *Estimator) approach(dt float64) {
	share := math.Min(1, dt/approachS)
	e.applied.ADeg += float64((e.wanted.ADeg - e.applied.ADeg) * share)
	e.applied.BDeg += float64((e.wanted.BDeg - e.applied.BDeg) * share)
	e.applied.CDeg += float64((e.wanted.CDeg - e.applied.CDeg) * share)
}

// Deviation returns what to add to what the compass shows. It moves to what the
// facts prove over a quarter of a minute.
func (e *Estimator) Deviation() boat.Deviation { return e.applied }

// SD is the standard deviation of the heading after Deviation was added, degrees,
// where the compass shows shownDeg.
func (e *Estimator) SD(shownDeg float64) float64 { return e.learner.SD(shownDeg, e.applied) }

// CourseSD is the standard deviation, degrees, of the course over the ground taken
// for the heading, at a speed over the ground.
func (e *Estimator) CourseSD(sogKn float64) float64 {
	kn := math.Max(0.3, sogKn)
	lee, leeSD := e.learner.Leeway()
	water := geo.Deg(math.Hypot(e.learner.Current().SDKn, crossKn) / kn)
	return math.Min(90, math.Hypot(water, math.Hypot(lee, math.Hypot(leeSD, ownSD))))
}

// Lean gives the bow's angle to the wind, degrees, starboard positive, from whoever
// knows it; absent where nobody does. It holds for ten seconds. Only the side and
// roughly the angle are used, for leeway.
func (e *Estimator) Lean(t boat.Time, twaDeg boat.Reading) { e.lean = lean{t, twaDeg} }

// Course is what the receiver and the boat's other sensors show at one moment.
type Course struct {
	T       boat.Time
	COGDeg  float64 // true
	SOGKn   float64
	WaterKn boat.Reading // through the water
	HeelDeg boat.Reading // starboard down positive
}

// Course takes what the receiver sent. A reading that is word for word the last one
// is taken as the last one repeated.
func (e *Estimator) Course(c Course) {
	last := e.before
	if c.T <= last.t || c.COGDeg == last.cog && c.SOGKn == last.sogKn && c.T.Seconds(last.t) < 5 {
		return
	}
	g := glimpse{t: c.T, cog: c.COGDeg, sogKn: c.SOGKn, water: c.WaterKn, push: e.push(c)}
	if c.T.Seconds(e.lean.at) < leanS {
		g.twa = e.lean.twa
	}
	e.before = g
	if c.SOGKn < leastKn {
		e.lag.drop()
		return
	}
	if now, ok := e.trail.at(c.T); ok {
		e.lag.see(c.T, c.COGDeg, now, &e.trail)
	}
	deg, ok := e.trail.at(c.T.After(-e.lag.s))
	if !ok {
		e.steady = steady{}
		return
	}
	g.hdg = geo.Wrap360(deg)
	if f, ok := e.steady.add(g); ok {
		e.learner.Learn(f)
		e.wanted = e.learner.Deviation()
	}
}

// push is the share of a beat's leeway: the sail pushes her to leeward by what of
// its force points across, all of it close to the wind and none before it. Where
// the wind is not known, heel shows the side.
func (e *Estimator) push(c Course) boat.Reading {
	if e.lean.twa.OK && c.T.Seconds(e.lean.at) < leanS {
		sin, cos := math.Sincos(geo.Rad(e.lean.twa.Val))
		share := (1 + cos) / (1 + math.Sqrt2/2) // of that at 45 degrees
		return boat.Some(-math.Copysign(math.Min(1, float64(share*math.Min(1, 4*math.Abs(sin)))), sin))
	}
	if h := c.HeelDeg; h.OK && math.Abs(h.Val) > sideDeg && math.Abs(h.Val) < 60 {
		return boat.Some(math.Copysign(math.Min(1, math.Abs(h.Val)/15), h.Val))
	}
	return boat.Reading{}
}

// Learner returns what was learned of the compass, leeway and current.
func (e *Estimator) Learner() *Learner { return e.learner }

// LagS returns how late the receiver's course is, seconds, with its standard
// deviation.
func (e *Estimator) LagS() (s, sd float64) { return e.lag.s, math.Sqrt(e.lag.v) }
