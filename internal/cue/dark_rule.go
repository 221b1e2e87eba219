package cue

import (
	"fmt"

	"helmcue/internal/boat"
)

// darkRule: time to head back, so as to be in by sunset. Who goes out after it knows
// that it is dark.
type darkRule struct {
	day  bool // she was seen before sunset
	time spell
}

const (
	darkAgainS = 900.0
	lateS      = -3600.0
)

func (r *darkRule) propose(v *view) (candidate, bool) {
	w := v.Water
	r.day = r.day || w.SunsetS.Or(-1) > 0
	r.time.see(v.Now, r.day && w.LeaveS.OK && w.LeaveS.Val <= 0 && w.SunsetS.Or(lateS) > lateS && v.moving())
	k := candidate{class: warning, since: r.time.since, life: 20, wait: 8, again: darkAgainS}
	if !r.time.lasted(v.Now, 5) || v.landing() {
		return k, false
	}
	k.cue = boat.Cue{Key: boat.Dark, Conf: 0.9, WhyCode: "sunset",
		Why: fmt.Sprintf("sunset is %.0f minutes off; %s", w.SunsetS.Val/60, w.LeaveText)}
	if w.SunsetS.Val < 0 {
		k.cue.Why = fmt.Sprintf("the sun has set %.0f minutes ago", -w.SunsetS.Val/60)
	}
	return k, true
}
