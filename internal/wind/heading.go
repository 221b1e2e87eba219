package wind

import (
	"math"

	"helmcue/internal/geo"
)

// Headings (common practice, no source). A boat that holds a course sails as close
// to the wind as she can more often than not; the rest are anywhere outside the
// dead sector.
const (
	firstBeat   = 46.0 // dinghies beat at 38 to 55 degrees
	firstBeatSD = 5.0
	beatObsSD   = 5.0
	beatDriftSD = 0.5
	footGain    = 0.4 // a wide turn may be one leg or both sailed too low; a narrow one shows what she can
	closeShare  = 0.6
	footTailDeg = 10.0 // lower than best: an exponential tail
	pinchSD     = 4.5
	footShare   = 0.4
	deadDeg     = 30.0
	// A learner's helm wanders by some degrees for a minute at a time: 20 s on one
	// tack is worth so much about where on it the wind stands.
	holdSD    = 5.0
	elsewhere = 0.3 // against the peak
	awayDeg   = 35.0
	lobeLoDeg = 15.0
	lobeHiDeg = 85.0
)

// pointing is how close to the wind this boat is sailed, learned from tacks.
type pointing struct{ off, variance float64 }

func (p pointing) deg() float64 { return firstBeat + p.off }

func (p *pointing) learn(halfDeg float64) {
	if p.variance == 0 {
		p.variance = firstBeatSD * firstBeatSD
	}
	p.variance += beatDriftSD * beatDriftSD
	gain := p.variance / (p.variance + beatObsSD*beatObsSD)
	if halfDeg > p.deg() {
		gain *= footGain
	}
	p.off += float64(gain * (halfDeg - p.deg()))
	p.variance *= 1 - gain
	p.off = math.Min(55-firstBeat, math.Max(38-firstBeat, p.off))
}

// close is how likely an angle off the wind is for a boat on a beat, peak 1, when
// the helm wanders by helmSD besides.
func (p pointing) close(a, helmSD float64) float64 {
	sd := math.Hypot(pinchSD, helmSD)
	if a < p.deg() {
		return bell(a, p.deg(), sd)
	}
	return float64((1-footShare)*bell(a, p.deg(), sd)) + float64(footShare*math.Exp(-(a-p.deg())/footTailDeg))
}

// firstHeading takes a new leg's heading where the wind is not known. Boats that
// run or reach do so for several legs on end, so each after the first is worth the
// root of what it would be alone. Where the wind is known it tells nothing new about the side.
func (e *Estimator) firstHeading(in Sight, g glimpse) {
	if e.known(g.t) || in.Coached {
		return
	}
	c := e.motion.past.mean(g.t.After(-factEveryS), g.t)
	p := e.motion.beat
	// Mass of the shape above, for one side, degrees.
	mass := 1.2533*pinchSD*(2-footShare) + footShare*footTailDeg
	floor := (1 - closeShare) / (360 - 2*deadDeg)
	alone := !e.begun
	e.moved(g.t, c.byCOG, func(dir float64) float64 {
		a := math.Abs(geo.Diff(c.hdg, dir))
		v := closeShare / 2 * p.close(a, 0) / mass
		if a > deadDeg {
			v += floor
		} else {
			v += floor / 10
		}
		if alone {
			return v
		}
		return math.Sqrt(v)
	})
}

// heading takes another stretch of a leg that may be a beat. Whether it is one was
// weighed when the leg began and is not weighed again; what is learned is where in
// each of its two places the wind stands, so the weight of each stays as it was.
func (e *Estimator) heading(c course) {
	p := e.motion.beat
	if e.known(c.t) && math.Abs(math.Abs(geo.Diff(c.hdg, e.told.dirDeg))-p.deg()) > awayDeg {
		return // on another course than a beat
	}
	e.step(c.t, 0.001)
	shape := func(off float64) float64 { return p.close(math.Abs(off), holdSD) + elsewhere }
	var scale [2]float64
	for i := range scale {
		before, after := 0.0, 0.0
		for k := range bins {
			off := geo.Diff(c.hdg, float64(k)*binDeg)
			if lobe(off) == i {
				before += e.dir.p[k]
				after += float64(e.dir.p[k] * shape(off))
			}
		}
		scale[i] = 1
		if after > 0 {
			scale[i] = before / after
		}
	}
	e.motion.headed = c.t
	e.moved(c.t, c.byCOG, func(dir float64) float64 {
		off := geo.Diff(c.hdg, dir)
		if i := lobe(off); i >= 0 {
			return shape(off) * scale[i]
		}
		return 1
	})
}

// lobe is 0 to starboard and 1 to port, -1 where no beat puts the wind.
func lobe(off float64) int {
	switch a := math.Abs(off); {
	case a < lobeLoDeg || a > lobeHiDeg:
		return -1
	case off > 0:
		return 0
	}
	return 1
}
