package cue

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// shoreRule: land ahead. A warning once an approach, a danger as long as it lasts.
type shoreRule struct {
	near, close spell
	warned      bool
	turned      boat.Time
	handed      bool
}

const (
	shoreAgainS = 8.0
	clearedS    = 80.0 // so far off again, the next approach is a new one
	roundDps    = 5.0  // degrees a second
)

func (r *shoreRule) propose(v *view) (candidate, bool) {
	w := v.Water
	if v.landing() {
		r.hand(v)
		return candidate{}, false
	}
	r.handed = r.handed && w.RampM < 2*handM
	on := w.AheadS.OK && v.moving()
	r.near.see(v.Now, on && w.AheadS.Val < nearShoreS && !v.inTurn()) // in a turn the course is none
	r.close.see(v.Now, on && w.AheadS.Val < closeShoreS && !v.swinging())
	if r.turned != v.mem.turned || !w.AheadS.OK || w.AheadS.Val > clearedS {
		r.turned, r.warned = v.mem.turned, false
	}
	k := candidate{class: warning, since: r.near.since, life: 2, wait: 4, again: shoreAgainS}
	k.cue = boat.Cue{Key: boat.Shore, Conf: 0.85, WhyCode: "shore",
		Why: fmt.Sprintf("the shore lies %.0f s ahead on this course by the chart", w.AheadS.Val)}
	switch {
	case r.close.lasted(v.Now, 1):
		k.class, k.since, k.cue.WhyCode, k.cue.Conf = danger, r.close.since, "shore_close", 0.9
	case !r.near.lasted(v.Now, 2) || r.warned:
		return k, false
	}
	k.done = func() { r.warned = true }
	return k, true
}

// swinging says whether her bow goes round so fast that she has no course even for the
// next seconds. A turn that is long past the eye and not settled is no swing.
func (v *view) swinging() bool {
	yaw := v.State.YawDps
	return v.turningMode() || v.inTurn() && (!yaw.OK || math.Abs(yaw.Val) > roundDps)
}

// hand says on the screen that the last stretch is the sailor's own.
func (r *shoreRule) hand(v *view) {
	if !r.handed {
		r.handed = true
		v.mem.note("handed_over", fmt.Sprintf("%.0f m to the ramp: the coach hands over and says no more of the shore", v.Water.RampM))
	}
}
