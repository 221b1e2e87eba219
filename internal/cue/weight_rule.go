package cue

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// weightRule: too much heel without more speed, lean out; flat and slow, or
// heeled to windward, come in.
type weightRule struct{ out, flat, over spell }

const (
	leanOutDeg  = 18.0 // a small boat sails best nearly upright
	outS        = 3.0
	flatDeg     = 3.0
	flatS       = 6.0
	windwardDeg = 8.0
	windwardS   = 4.0
)

// leanDeg is the heel of the last three seconds, degrees: to leeward positive
// where the side of the wind is beyond doubt, else unsigned. It is 0 where not measured.
func leanDeg(v *view) float64 {
	if v.State.Mount == boat.Worn || !v.State.HeelDeg.OK {
		return 0
	}
	heel := boat.Mean(v.past.in(v.Now, span{2.5, 0}), heelOf)
	if !heel.OK {
		return 0
	}
	if !v.sided() {
		return math.Abs(heel.Val)
	}
	// Wind from starboard puts the port side down, which heel counts negative.
	return -heel.Val * math.Copysign(1, v.twa.Val)
}

func (r *weightRule) propose(v *view) (candidate, bool) {
	lean := leanDeg(v)
	measured := v.State.HeelDeg.OK && v.State.Mount != boat.Worn && v.straight()
	bar := leanOutDeg
	if r.out.on {
		bar -= hysterDeg
	}
	rising := v.risingKn()
	r.out.see(v.Now, measured && lean > bar && rising.OK && rising.Val < 0.3)
	r.flat.see(v.Now, measured && v.angled() && v.Mode != boat.Running && math.Abs(lean) < flatDeg &&
		v.Wind.SpeedKn.OK && v.Wind.SpeedKn.Val < 6 && v.Share.OK && v.Share.Val < 0.8)
	r.over.see(v.Now, measured && v.angled() && v.Mode != boat.Running && lean < -windwardDeg)
	k := candidate{class: steering, life: 2, wait: 4, again: 20}
	switch {
	case r.out.lasted(v.Now, outS) && lean > leanOutDeg-hysterDeg:
		k.since = r.out.since
		k.cue = boat.Cue{Key: boat.SitOut, Conf: 0.85, WhyCode: "heel", Why: fmt.Sprintf("heel %.0f° for %.0f s and she goes no faster for it", lean, v.Now.Seconds(k.since))}
	case r.over.lasted(v.Now, windwardS):
		k.since = r.over.since
		k.cue = boat.Cue{Key: boat.SitIn, Conf: 0.8, WhyCode: "heel_to_windward", Why: fmt.Sprintf("heel %.0f° to windward", -lean)}
	case r.flat.lasted(v.Now, flatS):
		k.since, k.again = r.flat.since, 120
		k.cue = boat.Cue{Key: boat.SitIn, Conf: 0.6, WhyCode: "flat_and_slow", Why: fmt.Sprintf("upright in %.0f kn of wind, %s", v.Wind.SpeedKn.Val, v.speedWords())}
	default:
		return k, false
	}
	return k, true
}
