package cue

import (
	"fmt"

	"helmcue/internal/boat"
)

// bearingRule: where the ramp lies, once she is to go there: the light or the
// instructor says so. Again now and then while she does not make for it.
type bearingRule struct {
	sent boat.Time // when she was last told to go in, of those that were answered
	told boat.Time
}

const (
	bearingAfterS = 6.0
	bearingAgainS = 180.0
	bearingKn     = 0.3 // made good towards it, at least
)

func (r *bearingRule) propose(v *view) (candidate, bool) {
	k := candidate{class: teaching, life: 20, wait: 8, again: 20}
	w := v.Water
	sent := sentHome(v)
	if sent == 0 || !w.Ramp.OK || w.RampM <= handM || !v.straight() || v.Now.Seconds(sent) < bearingAfterS {
		return k, false
	}
	k.since = sent
	fresh := sent > r.sent
	if !fresh && (v.Now.Seconds(r.told) < bearingAgainS || !w.VMCKn.OK || w.VMCKn.Val > bearingKn) {
		return k, false
	}
	deg, ref, ok := v.heading(w.Ramp.Val)
	if !ok {
		return k, false
	}
	k.cue = boat.Cue{Key: boat.Bearing, Variant: "ramp", Amount: deg, Ref: ref, Conf: 0.9, WhyCode: "ramp",
		Why: fmt.Sprintf("the ramp is %.0f m off on %03.0f° true", w.RampM, w.Ramp.Val)}
	now := v.Now
	k.done = func() { r.sent, r.told = sent, now }
	return k, true
}

// sentHome returns when she was last told to go in, 0 for never of late.
func sentHome(v *view) boat.Time {
	for i := len(v.mem.said) - 1; i >= 0; i-- {
		c := v.mem.said[i].cue
		if c.Key == boat.Dark || c.Key == boat.Say && c.Variant == "to_the_ramp" {
			return c.T
		}
	}
	return 0
}
