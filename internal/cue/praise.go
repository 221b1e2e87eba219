package cue

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// goodTack: the tack that was finished just now went well.
type goodTack struct {
	turn boat.Manoeuvre
	till boat.Time
}

const (
	praiseS     = 180.0 // free praise at most so often
	wellS       = 60.0  // sailed well before it
	wellShare   = 0.95
	goodOverDeg = 12.0
	goodLengths = 4.0
	goodWideDeg = 25.0 // beyond twice the best angle: out low, but not lost
)

func (r *goodTack) propose(v *view) (candidate, bool) {
	for _, m := range v.Scored {
		if m.Kind == "tack" && m.Settled != nil && m.RecoveredS.OK && m.RecoveredS.Val <= math.Max(12, 4*v.TauS) &&
			m.OverDeg.Or(0) <= goodOverDeg && m.LostLen.OK && m.LostLen.Val <= goodLengths &&
			v.Target.OK && m.TurnDeg.Or(0) <= float64(2*v.Target.BeatDeg)+goodWideDeg &&
			!v.mem.saidSince(m.Start, boat.Straighten, boat.LetRun) { // no praise for what was found wanting
			r.turn, r.till = m, v.Now.After(8)
		}
	}
	k := candidate{class: praising, since: r.turn.Start, life: 1.5, wait: 4, again: 30}
	if r.till == 0 || v.Now > r.till {
		return k, false
	}
	k.cue = boat.Cue{Key: boat.Good, Conf: 0.8, WhyCode: "good_tack",
		Why: fmt.Sprintf("the tack cost %s and she was back to speed in %.0f s", lengths(r.turn.LostLen.Val), r.turn.RecoveredS.Val)}
	k.done = func() { r.till = 0 }
	return k, !v.expert() || v.mem.since(boat.Good) > praiseS
}

// lengths is a loss as a person would say it: tenths of a length are not known.
func lengths(n float64) string {
	switch n = math.Round(n); {
	case n < 1:
		return "hardly a boat length"
	case n == 1:
		return "one boat length"
	}
	return fmt.Sprintf("%.0f boat lengths", n)
}

func howLong(s float64) string {
	if s < 90 {
		return fmt.Sprintf("%.0f s", s)
	}
	return fmt.Sprintf("%.0f minutes", s/60)
}

// praise: she has been sailed well for a while. Experts are spared it. Said ever
// more seldom while nothing else need be said: praise by the clock is none.
type praise struct {
	well spell
	told int // in this stretch
	from boat.Time
}

func (r *praise) propose(v *view) (candidate, bool) {
	off := v.offDeg()
	r.well.see(v.Now, v.straight() && v.Share.OK && v.Share.Val >= wellShare && leanDeg(v) < leanOutDeg &&
		(v.Mode == boat.Reaching || off.OK && math.Abs(off.Val) < v.steerBand()))
	if r.well.since != r.from {
		r.from, r.told = r.well.since, 0
	}
	k := candidate{class: praising, since: r.well.since, life: 1.5, wait: 4, again: praiseS * float64(int(1)<<min(r.told, 3))}
	k.done = func() { r.told++ }
	if v.expert() || !r.well.lasted(v.Now, wellS) {
		return k, false
	}
	k.cue = boat.Cue{Key: boat.Good, Conf: 0.7, WhyCode: "sailed_well",
		Why: fmt.Sprintf("%s for %s", v.speedWords(), howLong(v.Now.Seconds(r.well.since)))}
	return k, true
}
