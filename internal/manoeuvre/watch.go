package manoeuvre

import (
	"math"

	"helmcue/internal/boat"
)

// The two kinds, as outputs name them.
const (
	tack = "tack"
	gybe = "gybe"
)

const (
	gapS     = 30.0 // a longer silence ends everything
	steadyS  = 10.0 // how long JustSteady is told
	returnS  = 15.0 // a turn taken back within this was none
	earlyS   = 16.0 // after the eye a word may be said of a turn
	lateS    = 24.0 // and also of one in which she has not settled
	longestS = 60.0 // after the eye a manoeuvre is told at the latest
)

// Watch follows one boat. Make it with New.
type Watch struct {
	past    past
	lengthM float64
	tauS    float64
	early   []boat.Manoeuvre // to be handed out by Early
	sides   sides
	engine  engine
	live    live
	irons   irons
	open    *open // a turn that went through, not yet told
	now     boat.Time
	course  boat.Time // of the last course taken in
}

// New makes a Watch that has seen nothing.
func New() *Watch { return &Watch{} }

// Step takes the sight at in.State.T, which must not lie before the last one, and
// returns the turn under way and the manoeuvres told now. A manoeuvre is told
// when she has settled and has her speed again, else when the next one begins or
// a minute after its eye; never sooner than 15 s after it, since a turn that is
// taken back was none.
//
// Scores: turn angle from settled course to settled course; overshoot beyond the
// new one; entry speed as the mean of the 5 s before the start; time from the
// start to 95 % of the polar's speed (of the entry speed where there is no polar).
// Metres lost are what keeping on would have made good to windward (tack) or to
// leeward (gybe) from the start until she has 95 % of the lesser of that speed and
// her entry speed again, less what she made good; at most a minute past the eye
// is counted. A turn from or to a reach has no loss: keeping on led elsewhere.
func (w *Watch) Step(in Sight) (boat.Turn, []boat.Manoeuvre) {
	t := in.State.T
	w.lengthM, w.tauS = in.LengthM, in.TauS
	if last := w.past.last(); last != nil && t.Seconds(last.t) > gapS {
		*w = Watch{lengthM: in.LengthM, tauS: in.TauS}
	}
	if t <= w.now {
		return w.turn(), nil
	}
	w.now = t
	if s := in.State; s.HeadingBy == "course" && s.HeadingT != 0 {
		// A course that came seconds ago and still stands is no second reading: she
		// would seem to hold it in the middle of a turn.
		if s.HeadingT == w.course {
			return w.turn(), w.finish()
		}
		w.course = s.HeadingT
	}
	m, ok := look(in, w.past.last())
	if !ok {
		return w.turn(), w.finish()
	}
	if last := w.past.last(); last != nil && m.t <= last.t {
		return w.turn(), w.finish() // the compass has just been lost
	}
	w.past.add(m)
	w.engine.see(&w.past, in)
	var out []boat.Manoeuvre
	if c, ok := w.sides.see(&w.past, in.Wind); ok {
		out = w.through(c, in)
	}
	w.live.see(w, in)
	w.irons.see(w, m)
	out = append(out, w.finish()...)
	return w.turn(), out
}

// through takes a crossing that has proved lasting.
func (w *Watch) through(c crossing, in Sight) []boat.Manoeuvre {
	var out []boat.Manoeuvre
	if o := w.open; o != nil {
		w.open = nil
		if o.kind == c.kind && o.old == -c.old && c.eye.Seconds(o.eye) < returnS {
			w.live.drop() // taken back: neither was a manoeuvre
			return nil
		}
		if done, ok := w.score(o, c.last); ok {
			out = append(out, done)
		}
	}
	o := w.opened(c)
	if o == nil {
		w.live.drop()
		return out
	}
	o.newDeg = newCourse(o, *w.past.last(), in)
	w.open = o
	w.live.passed(o)
	return out
}

// opened is the turn that led through the crossing, or nil where it was none: no
// way on, or an engine at work.
func (w *Watch) opened(c crossing) *open {
	from := c.eye.After(-60)
	if c.from > from {
		from = c.from
	}
	o := &open{kind: c.kind, old: c.old, eye: c.eye, start: w.past.began(c.last, c.kind, from)}
	w.measure(o)
	if !enough(o.entry, o.want) || w.engine.drives(c.eye) {
		return nil
	}
	return o
}

// measure fills in how she sailed before the start.
func (w *Watch) measure(o *open) {
	i := min(w.past.from(o.start), len(w.past.all)-1)
	m := w.past.all[i]
	lag := m.lagS
	o.lagS, o.want = lag, m.want
	before := w.past.between(o.start.After(lag-5), o.start.After(lag))
	o.entry, o.entryUp = mean(before, speed), mean(before, upwind)
	o.course = mean(w.past.between(o.start.After(-5), o.start), heading)
	if !o.course.OK && m.hdgOK {
		o.course = boat.Some(m.hdg)
	}
	o.startOff = m.off
}

// enough says whether there was way on for a turn to be a manoeuvre: under 0.8 kn,
// or 15 % of what the wind allows, she wanders. Where the wind allows little, less
// will do.
func enough(entry boat.Reading, want float64) bool {
	least := 0.8
	if want > 0 {
		least = math.Max(0.15*want, math.Min(least, math.Max(0.4, 0.45*want)))
	}
	return entry.OK && entry.Val >= least
}
