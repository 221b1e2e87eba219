package manoeuvre

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// open is a turn that went through its eye and is not yet told.
type open struct {
	kind     string
	old      float64
	start    boat.Time
	eye      boat.Time
	startOff float64
	course   boat.Reading // held before, unwrapped
	entry    boat.Reading // knots
	entryUp  boat.Reading // knots made good towards the wind
	want     float64      // knots the polar asked for at the start; 0: not known
	lagS     float64
	newDeg   float64

	early   bool      // told for a word
	looked  boat.Time // last time it was asked whether she has settled
	passed  boat.Time // no moment before this was the one
	settled boat.Time // 0: not yet
	after   boat.Reading
}

const (
	again = 0.95 // of target: recovered
	// So far off the wind with so much of her entry speed at least once on the new
	// side, or she did not sail there and it was no manoeuvre.
	wideDeg  = 30.0
	sailPart = 0.4
)

// finish tells the open turn when its time has come.
func (w *Watch) finish() []boat.Manoeuvre {
	o := w.open
	if o == nil {
		return nil
	}
	age := w.now.Seconds(o.eye)
	if w.now.Seconds(o.looked) < 0.5 {
		return nil
	}
	o.looked = w.now
	w.settle(o)
	if age >= earlyS && !o.early && (o.settled != 0 || age >= lateS) {
		o.early = true
		if m, ok := w.soFar(o); ok {
			w.early = append(w.early, m)
		}
	}
	full := o.settled != 0 && w.recovered(o, w.now).OK && age >= earlyS
	if !full && age < longestS-0.5 {
		return nil
	}
	w.open = nil
	w.live.over(o, w.now)
	if m, ok := w.score(o, w.now); ok {
		return []boat.Manoeuvre{m}
	}
	return nil
}

// Early returns the scores of turns since the last call that are old enough for a
// word, each once: earlyS past the eye where she has settled by then, at the latest
// lateS past it. Step tells them again, later and better: what a boat that is not yet
// back to speed will still lose is reckoned here, as though she went on gathering way
// as she has so far. RecoveredS is absent where she is not back.
func (w *Watch) Early() []boat.Manoeuvre {
	out := w.early
	w.early = nil
	return out
}

// soFar scores a turn whose end may be still to come.
func (w *Watch) soFar(o *open) (boat.Manoeuvre, bool) {
	m, ok := w.score(o, w.now)
	if _, back := w.back(o, w.now, w.goal(o)); !ok || back || !m.LostM.OK {
		return m, ok
	}
	now := mean(w.past.between(w.now.After(-2), w.now), upwind)
	lacks := o.entryUp.Val - now.Or(o.entryUp.Val)
	if o.kind == gybe {
		lacks = -lacks
	}
	m.LostM = boat.Some(m.LostM.Val + float64(math.Max(0, lacks)*w.gathers(o)*geo.KnotMS)).Round(0.1)
	if w.lengthM > 0 {
		m.LostLen = boat.Some(m.LostM.Val / w.lengthM).Round(0.1)
	}
	return m, true
}

// gathers is the time constant with which she has gathered way since her slowest,
// seconds; between one and four of the boat's own, since sheet and helm may be wrong.
func (w *Watch) gathers(o *open) float64 {
	ms := w.past.between(o.eye, w.now)
	low := ms[slowest(ms, w.now)]
	lacked, lacks := o.entry.Val-low.kn, o.entry.Val-mean(w.past.between(w.now.After(-2), w.now), speed).Or(low.kn)
	if lacked <= 0 || lacks <= 0 || lacks >= lacked {
		return float64(2 * w.tauS)
	}
	return math.Min(4*w.tauS, math.Max(w.tauS, w.now.Seconds(low.t)/math.Log(lacked/lacks)))
}

// goal is the speed from which on nothing more is lost: the lesser of what the wind
// allows and her entry speed.
func (w *Watch) goal(o *open) func(moment) float64 {
	return func(m moment) float64 {
		if m.want > 0 {
			return math.Min(m.want, o.entry.Val)
		}
		return o.entry.Val
	}
}

// recovered is the seconds from the start until she had 95 % of the polar's speed
// again, looking no further than end.
func (w *Watch) recovered(o *open, end boat.Time) boat.Reading {
	t, ok := w.back(o, end, func(m moment) float64 {
		if m.want > 0 {
			return m.want
		}
		return o.entry.Or(math.Inf(1))
	})
	if !ok {
		return boat.Reading{}
	}
	return boat.Some(t.Seconds(o.start))
}

// back is the first time past the eye and the least speed at which she had 95 % of
// what goal asks, by the boat's clock, not the receiver's.
func (w *Watch) back(o *open, end boat.Time, goal func(moment) float64) (boat.Time, bool) {
	ms := w.past.between(o.eye.After(o.lagS), end)
	low := slowest(ms, o.eye.After(o.lagS+15))
	for _, m := range ms[min(low, len(ms)):] {
		if m.knOK && fromEye(o.kind, m.off) > 10 && m.kn >= again*goal(m) {
			return max(m.t.After(-o.lagS), o.eye), true
		}
	}
	return 0, false
}

// slowest is the index of the least speed up to t.
func slowest(ms []moment, t boat.Time) int {
	best := 0
	for i, m := range ms {
		if m.t > t {
			break
		}
		if m.knOK && m.kn < ms[best].kn {
			best = i
		}
	}
	return best
}

// score tells how the turn went, by what is known up to end. False where it turns
// out to have been none.
func (w *Watch) score(o *open, end boat.Time) (boat.Manoeuvre, bool) {
	after := w.past.between(o.eye, end)
	if !w.real(o, after, end) {
		return boat.Manoeuvre{}, false
	}
	out := boat.Manoeuvre{T: w.now, Kind: o.kind, Start: o.start, Eye: o.eye, To: sideName(-o.old),
		EntryKn: o.entry.Round(0.01), RecoveredS: w.recovered(o, end).Round(0.1)}
	until := end
	if o.settled != 0 {
		settled := o.settled
		out.Settled, until = &settled, settled
		at := settled.After(o.lagS)
		out.ExitKn = w.speedAt(at).Round(0.01)
	}
	if o.after.OK && o.course.OK {
		out.TurnDeg = boat.Some(math.Abs(o.after.Val - o.course.Val)).Round(0.1)
		out.OverDeg = overshoot(o, w.past.between(o.eye, until)).Round(0.1)
	}
	out.LeastKn = least(w.past.between(o.start, until.After(o.lagS))).Round(0.01)
	lost := w.lost(o, end)
	out.LostM = lost.Round(0.1)
	if lost.OK && w.lengthM > 0 {
		out.LostLen = boat.Some(lost.Val / w.lengthM).Round(0.1)
	}
	return out, true
}

// real says whether the turn was a manoeuvre after all: she sailed on the new
// side, and not by engine.
func (w *Watch) real(o *open, after []moment, end boat.Time) bool {
	sailed := false
	for _, m := range after {
		if m.off*o.old < 0 && math.Abs(m.off) >= wideDeg && m.knOK && m.kn >= sailPart*o.entry.Val {
			sailed = true
		}
	}
	if o.after.OK && o.course.OK && math.Abs(o.after.Val-o.course.Val) < leastTurn(o.kind) {
		return false
	}
	return sailed && !w.past.pushed(o) && !w.engine.drives(end)
}

// leastTurn is how far the course comes round at least, degrees.
func leastTurn(kind string) float64 {
	if kind == gybe {
		return 12
	}
	return 35
}

// overshoot is how far beyond the new course she swung, degrees, 0 or more.
func overshoot(o *open, ms []moment) boat.Reading {
	dir := math.Copysign(1, o.after.Val-o.course.Val)
	most := 0.0
	for _, m := range ms {
		if m.hdgOK {
			most = math.Max(most, dir*(m.hdg-o.after.Val))
		}
	}
	return boat.Some(most)
}

func least(ms []moment) boat.Reading {
	out := boat.Reading{}
	for _, m := range ms {
		if m.knOK && (!out.OK || m.kn < out.Val) {
			out = boat.Some(m.kn)
		}
	}
	return out
}

// comparable says whether keeping on would have led the same way: from a beat to a
// beat, from a run to a run. A turn from a reach onto the wind gains where keeping on
// gained nothing, and no loss can be told from that.
func comparable(o *open, last moment) bool {
	before, after := math.Abs(o.startOff), math.Abs(last.off)
	if o.kind == gybe {
		return before > 105 && after > 105
	}
	return before < 75 && after < 75
}

// lost is the metres made good that the turn cost: see Step.
func (w *Watch) lost(o *open, end boat.Time) boat.Reading {
	if !o.entryUp.OK || !o.entry.OK {
		return boat.Reading{}
	}
	limit := o.eye.After(longestS)
	if t, ok := w.back(o, end, w.goal(o)); ok {
		limit = t
	}
	limit = min(limit, end)
	ms := w.past.between(o.start.After(o.lagS), limit.After(o.lagS))
	made, seconds := 0.0, 0.0
	for i := 1; i < len(ms); i++ {
		dt := ms[i].t.Seconds(ms[i-1].t)
		made += float64((ms[i-1].upKn + ms[i].upKn) / 2 * dt)
		seconds += dt
	}
	if seconds <= 0 || !comparable(o, ms[len(ms)-1]) {
		return boat.Reading{}
	}
	lost := float64(o.entryUp.Val*seconds) - made
	if o.kind == gybe {
		lost = -lost
	}
	return boat.Some(lost * geo.KnotMS)
}
