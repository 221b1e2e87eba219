package manoeuvre

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// live is the turn as it looks while it is under way.
type live struct {
	phase   boat.TurnPhase
	kind    string
	old     float64 // side she comes from
	start   boat.Time
	eye     boat.Time
	settled boat.Time
	entry   boat.Reading
	toEye   boat.Reading
	newDeg  float64
	idle    boat.Time // since when the turn has not gone on; 0 when it does
}

// When a swing of the bow is taken for the beginning of a turn.
const (
	offDeg  = 12.0 // off the course she held
	turnDps = 5.0
	slowDps = 3.5 // enough where she is already higher than she can sail
	// A turn this far off its eye, in seconds, may still be meant to end before it.
	bowS, sternS = 4.5, 2.5
)

func (l *live) drop() { *l = live{} }

// passed takes over a crossing that has lasted, where the turn was not seen coming.
func (l *live) passed(o *open) {
	if l.phase != boat.PastEye || l.kind != o.kind {
		*l = live{kind: o.kind, old: o.old, start: o.start, entry: o.entry, newDeg: o.newDeg}
	}
	l.phase, l.eye = boat.PastEye, o.eye
}

func (l *live) see(w *Watch, in Sight) {
	m := *w.past.last()
	l.toEye = boat.Reading{}
	switch l.phase {
	case boat.Turning:
		l.turning(w, m)
	case boat.PastEye:
		l.beyond(w, m)
	case boat.JustSteady:
		if m.t.Seconds(l.settled) > steadyS {
			l.drop()
		}
	}
	if l.phase == boat.NoTurn || l.phase == boat.JustSteady {
		l.begins(w, in, m)
	}
}

// begins looks whether a turn begins.
func (l *live) begins(w *Watch, in Sight, m moment) {
	side := math.Copysign(1, m.off)
	if w.sides.side != side || w.engine.drives(m.t) {
		return
	}
	rate := w.past.rate(1) * side // towards the wind positive
	kind := tack
	if rate < 0 {
		kind, rate = gybe, -rate
	}
	if !near(kind, fromEye(kind, m.off), rate, in.Target) {
		return
	}
	held := mean(w.past.between(m.t.After(-10), m.t.After(-2)), heading)
	if held.OK && m.hdgOK && math.Abs(m.hdg-held.Val) < offDeg {
		return
	}
	o := &open{kind: kind, old: side, eye: m.t, start: w.past.began(m.t, kind, m.t.After(-20))}
	w.measure(o)
	if !enough(o.entry, o.want) {
		return
	}
	*l = live{phase: boat.Turning, kind: kind, old: side, start: o.start, entry: o.entry,
		newDeg: newCourse(o, m, in)}
	l.predict(w, m)
}

// near says whether the bow, a degrees from the eye and turning to it at rate, is
// on its way through.
func near(kind string, a, rate float64, target boat.Target) bool {
	if kind == gybe {
		return rate >= turnDps && a < 60 && a < sternS*rate
	}
	high := 35.0
	if target.OK {
		high = target.BeatDeg - 11
	}
	return rate >= slowDps && a < high || rate >= turnDps && a < 75 && a < bowS*rate
}

func (l *live) predict(w *Watch, m moment) {
	rate := w.past.rate(0.7) * l.old
	if l.kind == gybe {
		rate = -rate
	}
	if rate < 2 {
		return
	}
	lag := 0.0
	if m.course {
		lag = gpsLagS
	}
	l.toEye = boat.Some(math.Max(0, fromEye(l.kind, m.off)/rate-lag))
}

// turning follows the bow to the eye, or notices that the turn was broken off.
func (l *live) turning(w *Watch, m moment) {
	a := fromEye(l.kind, m.off)
	if m.off*l.old < 0 && a > 3 && a < 90 {
		l.phase, l.idle = boat.PastEye, 0
		l.eye = lastEye(&w.past, l.kind, l.old, m.t)
		return
	}
	rate := w.past.rate(1.5) * l.old
	if l.kind == gybe {
		rate = -rate
	}
	l.predict(w, m)
	stays := l.kind == tack && a <= stuckDeg && rate > -3
	if rate >= 2 || stays {
		l.idle = 0
		if m.t.Seconds(l.start) > 40 && w.irons.since == 0 {
			l.drop()
		}
		return
	}
	if l.idle == 0 {
		l.idle = m.t
	}
	patience := 3.0
	if rate < -3 {
		patience = 1.2
	}
	if m.t.Seconds(l.idle) >= patience {
		l.drop()
	}
}

// beyond follows her from the eye until she has settled, or falls back.
func (l *live) beyond(w *Watch, m moment) {
	a := fromEye(l.kind, m.off)
	// The last turn may still be open, waiting for her speed: what is said of it is
	// not said of this one.
	proved := w.open != nil && w.open.kind == l.kind && w.open.old == l.old
	if m.off*l.old > 0 && a > 8 && a < 90 && !proved {
		l.phase, l.idle = boat.Turning, 0
		return
	}
	if proved && w.open.settled != 0 {
		l.over(w.open, m.t)
		return
	}
	if m.t.Seconds(l.eye) > 30 && w.irons.since == 0 {
		l.drop()
	}
}

// over goes on to JustSteady, or to nothing where she settled long ago or never.
func (l *live) over(o *open, now boat.Time) {
	if l.phase != boat.PastEye {
		return
	}
	if o.settled == 0 || now.Seconds(o.settled) > steadyS {
		l.drop()
		return
	}
	l.phase, l.settled = boat.JustSteady, o.settled
}

// lastEye is the latest time up to t at which the angle left the old side.
func lastEye(p *past, kind string, old float64, t boat.Time) boat.Time {
	ms := p.between(t.After(-keepS), t)
	for i := len(ms) - 1; i > 0; i-- {
		if ms[i-1].off*old >= 0 && ms[i].off*old < 0 {
			return eye(kind, ms[i-1], ms[i])
		}
	}
	return t
}

// newCourse is the heading to expect after the turn, true, 0..360: the best angle
// on the other tack after a tack from near it, else the same angle as before.
func newCourse(o *open, m moment, in Sight) float64 {
	a := math.Abs(o.startOff)
	if o.kind == tack && in.Target.OK && a < in.Target.BeatDeg+15 {
		a = in.Target.BeatDeg
	}
	switch {
	case in.Wind.Known && in.Wind.DirDeg.OK:
		return geo.Wrap360(in.Wind.DirDeg.Val + float64(o.old*a))
	case m.hdgOK:
		return geo.Wrap360(m.hdg + m.off + float64(o.old*a))
	}
	return 0
}

// turn is what the watch tells of the turn under way.
func (w *Watch) turn() boat.Turn {
	l := &w.live
	out := boat.Turn{Phase: l.phase, StuckSince: w.irons.since}
	if l.phase == boat.NoTurn {
		return out
	}
	out.Kind, out.Start, out.EntryKn = l.kind, l.start, l.entry.Val
	out.NewSide, out.NewDeg, out.ToEyeS = sideName(-l.old), l.newDeg, l.toEye
	if l.phase >= boat.PastEye {
		out.Eye = l.eye
	}
	if l.phase == boat.JustSteady {
		out.Settled = l.settled
	}
	return out
}

func sideName(side float64) string {
	if side > 0 {
		return "starboard"
	}
	return "port"
}
