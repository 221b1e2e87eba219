package cue

import "helmcue/internal/boat"

// closenessRule asks how close she will go when her heading has left its mean and
// her speed does not tell whether wind or helm did it. It is a small change of
// course towards the wind, so it is asked only where a correction upwards would be
// safe, with way on, and seldom.
type closenessRule struct {
	unclear spell
	asked   boat.Time // the last time; 0: never
}

const (
	askUnclearS = 8.0
	askGapS     = 600.0
	askShare    = 0.75 // of target speed, below which she has no way to spare
	askUpDeg    = 5.0
	askDangerS  = 120.0 // after a shore, a boat, a lee or irons
	askTurnS    = 60.0  // after a turn there is other work
)

func (r *closenessRule) propose(v *view) (candidate, bool) {
	r.unclear.see(v.Now, v.Shift.Unclear && v.Mode == boat.CloseHauled)
	k := candidate{class: teaching, since: r.unclear.since, life: 4, wait: 20, again: askGapS}
	if v.beginner() || v.light || !r.unclear.lasted(v.Now, askUnclearS) || v.Guide.Name != "" {
		return k, false
	}
	if v.Share.Or(0) < askShare || v.mem.plan.under() || v.Now.Seconds(v.mem.turned) < askTurnS || !v.mayTurnBy(boat.HeadUp, askUpDeg) {
		return k, false
	}
	if r.asked != 0 && v.Now.Seconds(r.asked) < askGapS || v.mem.since(boat.Shore, boat.OtherBoat, boat.DeadAir, boat.InIrons, boat.LetGo) < askDangerS {
		return k, false
	}
	if v.mem.since(boat.HeadUp, boat.BearAway, boat.LuffTest) < namedS {
		return k, false
	}
	k.cue = boat.Cue{Key: boat.Intro, Variant: "closeness_test", Conf: 0.5, WhyCode: "shift_unclear",
		Why: "her heading has left its mean and her speed does not tell whether wind or helm did it"}
	now := v.Now
	k.done = func() { r.asked = now }
	return k, true
}
