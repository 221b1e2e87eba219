package cue

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// turnWord: one word within the turn, heard when the hand must act. From a beat the
// sheet is in already, and it has to be eased as the sail fills on the new side: in
// the force model a boat that comes out slowly with it five degrees too far in
// stalls, and the tack costs twice as much. From a reach it must first come in as
// pressure comes off. An expert whose last tack cost little is spared the word.
type turnWord struct {
	told boat.Time
	well bool // the last tack cost little
}

const (
	handS        = 2.0  // from sensing to hand
	takeInS      = 0.7  // before the eye, the sheet is taken in
	takeInLate   = 0.8  // less ahead than this, the word comes too late
	fillDeg      = 30.0 // beyond the eye, the sail fills
	dyingDps     = 4.0  // turning more slowly, or
	dyingPart    = 0.25 // with less of her speed left, she will hardly come through: the sheet must not be taken in
	deadShare    = 0.12 // slower than this near the wind she is about to stop: no time to wait
	spareLengths = 2.0
	reachDeg     = 15.0 // below her best angle the sheet is so far out that it must come in for a tack
	runDeg       = 2.0  // above her best angle she is too high to gather way
	runS         = 10.0 // after the eye, letting her run helps
	apartS       = 5.0  // between two words after the eye
)

func (r *turnWord) propose(v *view) (candidate, bool) {
	for _, m := range v.Scored {
		if m.Kind == "tack" {
			r.well = m.LostLen.OK && m.LostLen.Val <= spareLengths
		}
	}
	k := candidate{class: turning, since: v.Turn.Start, life: 0.7, wait: 0, again: 5}
	if v.expert() && r.well {
		return k, false
	}
	if v.Turn.Phase != boat.Turning && v.Turn.Phase != boat.PastEye || r.told == v.Turn.Start || !v.Wind.Known || !v.TWADeg.OK {
		return k, false
	}
	if v.Turn.Phase == boat.Turning && !v.Turn.ToEyeS.OK || !v.State.YawDps.OK {
		return k, false
	}
	lead := handS + v.delayS()
	toEye := v.Turn.ToEyeS.Or(0)
	switch {
	case v.Turn.Kind == "tack" && v.Turn.Phase == boat.Turning && fromReach(v) && toEye <= lead+takeInS && toEye >= takeInS+takeInLate && !v.dying():
		k.cue = boat.Cue{Key: boat.SheetIn, Conf: 0.7, WhyCode: "pressure_off",
			Why: fmt.Sprintf("about %.0f s to the eye of the wind: the sail goes soft and would flog across", toEye)}
	case fillsIn(v) <= lead && fillsIn(v) >= 0:
		k.cue = boat.Cue{Key: boat.EaseOut, Conf: 0.7, WhyCode: "sail_fills",
			Why: fmt.Sprintf("the sail fills on the new side in about %.0f s", math.Max(1, fillsIn(v)))}
	default:
		return k, false
	}
	start := v.Turn.Start
	k.done = func() { r.told = start }
	return k, true
}

// fromReach says whether the turn began from a course on which the sheet is well out.
func fromReach(v *view) bool {
	ago := v.Now.Seconds(v.Turn.Start)
	from := meanAngle(v.past.in(v.Now, span{ago + 4, ago}), twaOf)
	return from.OK && v.Target.OK && math.Abs(from.Val) > v.Target.BeatDeg+reachDeg
}

// dying says whether a tack runs out of way before the eye.
func (v *view) dying() bool {
	return math.Abs(v.State.YawDps.Or(0)) < dyingDps || v.Target.OK && v.State.SpeedKn.Or(0) < dyingPart*v.Target.BeatKn
}

// fillsIn returns the seconds until the sail fills on the new side, negative
// where it has filled or the turn is too slow to tell.
func fillsIn(v *view) float64 {
	yaw, least := math.Abs(v.State.YawDps.Val), dyingDps
	if v.Turn.Kind == "gybe" {
		least = 2 * dyingDps // before the wind she swings as fast as this in a wave
	}
	if yaw < least {
		return -1
	}
	off := math.Abs(v.TWADeg.Val)
	if v.Turn.Kind == "gybe" {
		off = 180 - off
	}
	if v.Turn.Phase == boat.PastEye {
		return (fillDeg - off) / yaw
	}
	return v.Turn.ToEyeS.Or(0) + fillDeg/yaw
}

// letRun: through the wind but slow, and higher than she can sail without way: first
// speed, then height. At her best angle she gathers way by herself, and lower she
// only loses ground (force model: five degrees for ten seconds, a third of a length).
// Once in each turn.
type letRun struct {
	slow spell
	told boat.Time
}

func (r *letRun) propose(v *view) (candidate, bool) {
	ago := v.Now.Seconds(v.Turn.Eye)
	after := (v.Turn.Phase == boat.JustSteady || v.Turn.Phase == boat.PastEye && ago >= 3) && ago <= math.Max(runS, 2.5*v.TauS)
	r.slow.see(v.Now, after && v.Turn.Kind == "tack" && r.told != v.Turn.Start && v.angled() && v.Target.OK &&
		v.Share.OK && v.Share.Val < wayShare && v.Share.Val > deadShare && math.Max(math.Abs(v.twa.Val), math.Abs(v.TWADeg.Val)) < v.Target.BeatDeg-runDeg && math.Abs(v.twa.Val) > 20)
	rising := v.risingKn()
	k := candidate{class: turning, since: r.slow.since, life: 2, wait: 6, again: 15}
	// Gathering way fast enough, she has been let run already.
	if !r.slow.lasted(v.Now, 1) || rising.OK && rising.Val > 0.5 || v.mem.since(boat.Straighten) < apartS {
		return k, false
	}
	k.cue = boat.Cue{Key: boat.LetRun, Conf: v.angleConf(), WhyCode: "slow_after_tack",
		Why: fmt.Sprintf("%.0f s after the tack, %.0f° to the wind, %s", v.Now.Seconds(v.Turn.Eye), math.Abs(v.twa.Val), v.speedWords())}
	start := v.Turn.Start
	k.done = func() { r.told = start }
	return k, true
}
