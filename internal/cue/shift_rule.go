package cue

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// shiftRule names a shift of the wind that will last, while she beats. Swings back
// and forth stay unsaid: they are gone before they are of use. On a held course the
// sheet rule speaks instead. A beginner hears no number: what to do about it, the
// rules of helm and sheet say.
type shiftRule struct {
	said int // the last shift named
}

const (
	shiftNewS = 15.0 // a shift called longer ago is no news
	shiftLow  = 5.0  // the words there are
	shiftHigh = 15.0
)

func (r *shiftRule) propose(v *view) (candidate, bool) {
	k := candidate{class: steering, since: v.Shift.CalledT, life: 6, wait: 15, again: 30}
	s := v.Shift
	if s.Kind != boat.Persistent || s.ID == r.said || v.Now.Seconds(s.CalledT) > shiftNewS {
		return k, false
	}
	if !v.angled() || v.Mode != boat.CloseHauled || !v.straight() || s.Unclear || s.Helm != "" {
		return k, false
	}
	// A boat that swings says nothing sure, nor does one within the dead sector.
	if !v.past.steady(v.Now, 6, heldDeg) || math.Abs(v.twa.Val) < v.Target.NoSailUp {
		return k, false
	}
	if v.mem.since(boat.Ease, boat.Trim) < namedS { // said by the sheet
		return k, false
	}
	amount := math.Min(shiftHigh, math.Max(shiftLow, 5*math.Round(math.Abs(s.LiftDeg)/5)))
	key := boat.Lifted
	if s.LiftDeg < 0 {
		key = boat.Headed
	}
	k.cue = boat.Cue{Key: key, Variant: fmt.Sprintf("%.0f", amount), Amount: boat.Some(amount), Conf: v.angleConf(), WhyCode: "shift", Why: s.Why}
	k.done = func() { r.said = s.ID }
	return k, true
}
