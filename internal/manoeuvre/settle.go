package manoeuvre

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

const (
	withinDeg = 8.0
	partOf    = 0.85 // of target: settled
	proveS    = 4.0  // a course held so long is held
	stretchS  = 12.0 // and no more than this of it is looked at
	gridS     = 0.3
	riseS     = 4.0
)

// settle looks for the first moment from which she held her new course with her
// speed back or no longer rising. What is found stands; a moment whose whole
// stretch has been seen is not asked again.
func (w *Watch) settle(o *open) {
	if o.settled != 0 {
		return
	}
	last := w.past.last().t
	from := max(o.eye, o.passed)
	for _, m := range w.past.between(from, last) {
		if last.Seconds(m.t) < proveS+o.lagS {
			return
		}
		if m.t < from {
			continue
		}
		from = m.t.After(gridS)
		if m.off*o.old > 0 || fromEye(o.kind, m.off) < 10 {
			continue
		}
		if c, ok := held(w.past.between(m.t, m.t.After(stretchS))); ok && w.going(o, m.t) {
			o.settled, o.after = m.t, c
			return
		}
		if last.Seconds(m.t) > stretchS {
			o.passed = from
		}
	}
}

// held is the course she held over all of ms, unwrapped, where she did.
func held(ms []moment) (boat.Reading, bool) {
	f := heading
	c := mean(ms, f)
	if !c.OK { // no heading: by the wind angle, which is as good a course
		f = func(m moment) (float64, bool) { return -geo.Wrap360(m.off), true }
		c = mean(ms, f)
	}
	for _, m := range ms {
		if v, ok := f(m); ok && math.Abs(v-c.Val) > withinDeg {
			return c, false
		}
	}
	if _, ok := heading(ms[0]); !ok {
		return boat.Reading{}, true
	}
	return c, true
}

// going says whether at t her speed was back or had stopped rising.
func (w *Watch) going(o *open, t boat.Time) bool {
	at := t.After(o.lagS)
	now := w.speedAt(at)
	want := w.wanted(o, t)
	if !now.OK || now.Val >= partOf*want {
		return now.OK
	}
	next := mean(w.past.between(at.After(riseS-1), at.After(riseS)), speed)
	return next.OK && now.Val > 0.3*o.entry.Val && next.Val <= 1.04*now.Val
}

// speedAt is the speed about t, or the last before it where readings are sparse.
func (w *Watch) speedAt(t boat.Time) boat.Reading {
	if v := mean(w.past.between(t.After(-0.5), t.After(0.5)), speed); v.OK {
		return v
	}
	return mean(w.past.between(t.After(-10), t), speed)
}

// wanted is the speed she should come back to, at time t; the entry speed where no
// polar says.
func (w *Watch) wanted(o *open, t boat.Time) float64 {
	ms := w.past.between(t.After(-1), t)
	if len(ms) > 0 && ms[len(ms)-1].want > 0 {
		return ms[len(ms)-1].want
	}
	return o.entry.Or(math.Inf(1))
}
