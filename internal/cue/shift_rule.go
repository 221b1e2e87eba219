package cue

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// shiftRule: the wind has shifted while she beats: a two-sided cumulative-sum
// test of the believed direction against its mean on this tack. At the drift and
// bar below, a direction that wanders by 2° over ten seconds gives less than one
// false call an hour (see the test), and a step of 10° is called within 30 s of
// the wind being believed there.
type shiftRule struct {
	ref    boat.Reading // mean direction on this tack, true
	n      float64      // seconds it was taken over
	up     float64      // sums, in units of scale
	down   float64
	lastT  boat.Time
	turned boat.Time
	by     string
	ageS   float64
}

const (
	shiftRefS  = 300.0 // the mean forgets so slowly
	shiftRefIn = 20.0  // taken over at least so long before anything is called
	shiftDrift = 1.5   // scales a second that are not a shift
	shiftBar   = 25.0
	shiftLeast = 5.0 // degrees
)

func (r *shiftRule) propose(v *view) (candidate, bool) {
	k := candidate{class: steering, since: v.Now, life: 6, wait: 15, again: 30}
	// Somebody's word about the wind is news about it and no shift.
	told := v.Wind.By == "fix" && (r.by != "fix" || v.Wind.AgeS+1 < r.ageS)
	r.by, r.ageS = v.Wind.By, v.Wind.AgeS
	if r.turned != v.mem.turned || told || !v.Wind.Known {
		*r = shiftRule{turned: v.mem.turned, by: r.by, ageS: r.ageS, lastT: v.Now}
	}
	// Off the wind for a moment, the test waits and forgets nothing.
	if !v.angled() || !v.Wind.DirDeg.OK || v.Mode != boat.CloseHauled || !v.straight() || v.Wind.SDDeg > 10 {
		r.lastT = v.Now
		return k, false
	}
	if v.Now.Seconds(r.lastT) < 0.95 {
		return k, false
	}
	dt := math.Min(v.Now.Seconds(r.lastT), 2)
	r.lastT = v.Now
	// A boat that swings shows her own turning as a shift of the wind: not so much
	// as a word on it until she holds a course, and never from within the dead sector.
	if !v.past.steady(v.Now, 6, heldDeg) || math.Abs(v.twa.Val) < v.Target.NoSailUp {
		return k, false
	}
	off := r.follow(v.Wind.DirDeg.Val, v.Wind.SDDeg, dt)
	if off == 0 || v.mem.since(boat.Ease, boat.Trim) < namedS { // said by the sheet
		return k, false
	}
	return r.call(v, k, off)
}

// follow takes one second's direction in and returns how far the wind has gone,
// clockwise positive, when the test says that it has; else 0.
func (r *shiftRule) follow(dir, sd, dt float64) float64 {
	if !r.ref.OK {
		r.ref = boat.Some(dir)
	}
	off := geo.Diff(r.ref.Val, dir)
	r.n += dt
	r.ref.Val = geo.Wrap360(r.ref.Val + float64(off*dt/math.Min(r.n, shiftRefS)))
	if r.n < shiftRefIn {
		return 0
	}
	z := off / math.Max(2.5, sd/2)
	r.up = math.Min(2*shiftBar, math.Max(0, r.up+float64((z-shiftDrift)*dt)))
	r.down = math.Min(2*shiftBar, math.Max(0, r.down+float64((-z-shiftDrift)*dt)))
	if math.Abs(off) < shiftLeast || r.up < shiftBar && r.down < shiftBar {
		return 0
	}
	return off
}

func (r *shiftRule) call(v *view, k candidate, off float64) (candidate, bool) {
	lift := off * math.Copysign(1, v.twa.Val)
	amount := math.Min(15, math.Max(5, 5*math.Round(math.Abs(lift)/5)))
	key, word := boat.Lifted, "lifted"
	if lift < 0 {
		key, word = boat.Headed, "headed"
	}
	k.cue = boat.Cue{Key: key, Variant: fmt.Sprintf("%.0f", amount), Amount: boat.Some(amount), Conf: v.angleConf(), WhyCode: "shift",
		Why: fmt.Sprintf("%s by %.0f° against the mean of the last %.0f s on this tack", word, math.Abs(lift), math.Min(r.n, shiftRefS))}
	dir := v.Wind.DirDeg
	k.done = func() { r.ref, r.n, r.up, r.down = dir, shiftRefIn/2, 0, 0 }
	return k, true
}
