package cue

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// irons: stuck head to wind. Three steps by what the boat does: let the sheet go;
// then boom and tiller away (with a jib, jib to windward); then, once the bow has
// fallen off, bring both in. No word of it has a side.
type irons struct {
	since  boat.Time // this time in irons
	stuckT boat.Time
	pushT  boat.Time
	doneT  boat.Time
	out    boat.Time // left irons
}

const (
	actS       = 5.0  // for a step to be done
	pushAgainS = 12.0 // a step that did not help is said again
	offWindDeg = 30.0 // from which the sail can fill again
	helpS      = 12.0 // after irons, the last step still helps
)

func (r *irons) propose(v *view) (candidate, bool) {
	r.follow(v)
	k := candidate{class: turning, since: r.since, life: 3, wait: 4, again: actS}
	k.cue = boat.Cue{Key: boat.InIrons, Conf: 0.8}
	if r.since == 0 || r.doneT != 0 {
		return k, false
	}
	step := r.step(v)
	if step == "" {
		return k, false
	}
	k.cue.Variant, k.cue.WhyCode = step, step
	k.cue.Why = fmt.Sprintf("in irons, %.0f° to the wind: %s", math.Abs(v.TWADeg.Or(0)), ironsReason(step))
	now := v.Now
	k.done = func() {
		switch step {
		case "stuck":
			r.stuckT = now
		case "bow_turned":
			r.doneT = now
		default:
			r.pushT = now
		}
	}
	return k, true
}

// follow keeps this time in irons from its beginning until a while after.
func (r *irons) follow(v *view) {
	switch {
	case v.Mode == boat.Irons && (r.since == 0 || r.out != 0 && r.doneT != 0):
		*r = irons{since: v.Now}
	case v.Mode == boat.Irons:
		r.out = 0
	case r.since != 0 && r.out == 0:
		r.out = v.Now
	}
	if r.out != 0 && v.Now.Seconds(r.out) > helpS {
		*r = irons{}
	}
}

// step returns what to do now, or "" for nothing.
func (r *irons) step(v *view) string {
	free := v.Wind.Known && v.TWADeg.OK && math.Abs(v.TWADeg.Val) >= offWindDeg && math.Abs(v.TWADeg.Val) < 110
	if free && r.stuckT != 0 && r.pushT != 0 && v.Now.Seconds(r.pushT) > 2 && v.Share.Or(0) < slowShare {
		return "bow_turned"
	}
	if v.Mode != boat.Irons {
		return ""
	}
	if r.stuckT == 0 {
		return "stuck"
	}
	if v.Now.Seconds(r.stuckT) < actS || r.pushT != 0 && v.Now.Seconds(r.pushT) < pushAgainS || free {
		return ""
	}
	if v.Settings.Jib {
		return "jib"
	}
	return "sheet_loose"
}

func ironsReason(step string) string {
	switch step {
	case "stuck":
		return "she does not answer the helm, a loose sheet comes first"
	case "bow_turned":
		return "the bow has fallen off, the sail can fill"
	case "jib":
		return "the sheet is loose, a jib held to windward turns the bow"
	}
	return "the sheet is loose, a backed boom turns the bow"
}
