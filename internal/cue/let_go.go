package cue

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// letGo: too much heel. The one order that is right on every side and in every
// wind, and the one that nothing holds back.
type letGo struct {
	steep  spell
	rising spell
	lastT  boat.Time
	rate   float64 // degrees a second, smoothed over a fifth of a second
	heel   boat.Reading
	over   bool // she lay on her side and is not yet upright
}

const (
	steepS     = 1.5
	soonDeg    = 25.0
	risingDps  = 4.0
	risingS    = 0.5
	slapDps    = 40.0 // faster is a slap of a wave or a knock on the phone
	hysterDeg  = 3.0
	overturned = 70.0 // she lies on her side: the sheet is no longer the matter
)

func (r *letGo) propose(v *view) (candidate, bool) {
	heel := v.State.HeelDeg
	if !heel.OK || v.State.Mount == boat.Worn {
		*r = letGo{}
		return candidate{}, false
	}
	deg := math.Abs(heel.Val)
	r.follow(v.Now, deg)
	bar := steepDeg
	if r.steep.on {
		bar -= hysterDeg
	}
	r.over = deg > overturned || r.over && deg > steepDeg-hysterDeg
	r.steep.see(v.Now, deg > bar && !r.over)
	r.rising.see(v.Now, deg > soonDeg && r.rate > risingDps && !r.over)
	k := candidate{
		cue:   boat.Cue{Key: boat.LetGo, Conf: 0.95},
		class: danger, life: 1, wait: 4, again: 4,
	}
	switch {
	case v.Mode == boat.Capsized || r.over:
		return k, false
	case r.steep.lasted(v.Now, steepS) && deg > steepDeg-hysterDeg:
		k.since, k.cue.WhyCode = r.steep.since, "heel"
		k.cue.Why = fmt.Sprintf("heel %.0f°, over %.0f° for %.1f s", deg, steepDeg, v.Now.Seconds(r.steep.since))
	case r.rising.lasted(v.Now, risingS):
		k.since, k.cue.WhyCode = r.rising.since, "heel_rising"
		k.cue.Why = fmt.Sprintf("heel %.0f° and rising by %.0f° a second", deg, r.rate)
	default:
		return k, false
	}
	return k, true
}

// follow keeps the rate at which heel grows.
func (r *letGo) follow(t boat.Time, deg float64) {
	dt := t.Seconds(r.lastT)
	if r.heel.OK && dt > 0 && dt <= 1.5 {
		part := math.Min(1, dt/0.2)
		now := math.Max(-slapDps, math.Min(slapDps, (deg-r.heel.Val)/dt))
		r.rate += float64(part * (now - r.rate))
	} else if dt > 1.5 {
		r.rate = 0
	}
	r.lastT, r.heel = t, boat.Some(deg)
}
