package cue

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// straighten: she turns too far, once in each turn. A little low is how a tack is
// meant to end, and no rate of turn tells whether she will stop there, so it is said
// once she is well past her new course and turns on.
type straighten struct{ told boat.Time }

const (
	pastDeg  = 15.0 // beyond the new course
	stillDps = 8.0  // and still turning
	tooFar   = 30.0 // beyond it when the word is heard
	turnS    = 8.0  // after the eye; who still turns later does so on purpose
)

func (r *straighten) propose(v *view) (candidate, bool) {
	k := candidate{cue: boat.Cue{Key: boat.Straighten, Conf: v.angleConf()}, class: turning, since: v.Turn.Eye, life: 1.5, wait: 4, again: 8}
	if v.Turn.Phase != boat.PastEye || v.Now.Seconds(v.Turn.Eye) > turnS || r.told == v.Turn.Start || v.mem.since(boat.LetRun) < apartS || !v.TWADeg.OK || !v.Wind.Known || !v.Target.OK || !v.State.YawDps.OK {
		return k, false
	}
	off := math.Abs(v.TWADeg.Val)
	if off == 0 { // on no side yet
		return k, false
	}
	// Yaw clockwise closes an angle to starboard: that is how the angle changes.
	rate := v.State.YawDps.Val
	if v.TWADeg.Val > 0 {
		rate = -rate
	}
	soon := off + float64(rate*(1.5+v.delayS()))
	course := math.Abs(geo.Diff(v.Turn.NewDeg, v.Wind.DirDeg.Or(v.Turn.NewDeg)))
	switch {
	case v.Turn.Kind == "tack" && rate > stillDps && off > course+pastDeg && soon > course+tooFar:
		k.cue.Why = fmt.Sprintf("still turning at %.0f° to the wind, her new course is %.0f°", off, course)
	case v.Turn.Kind == "gybe" && rate < -6 && off < v.Target.RunDeg && soon < 115:
		k.cue.Why = fmt.Sprintf("still turning up at %.0f° to the wind after the gybe", off)
	default:
		return k, false
	}
	k.cue.WhyCode = "turning_too_far"
	start := v.Turn.Start
	k.done = func() { r.told = start }
	return k, true
}

// courseAfterTurn: the tack is done, way is on, and she still sails low: names
// the course, once in each turn.
type courseAfterTurn struct{ told boat.Time }

func (r *courseAfterTurn) propose(v *view) (candidate, bool) {
	k := candidate{class: steering, since: v.Turn.Settled, life: 2, wait: 6, again: 20}
	if v.Turn.Phase != boat.JustSteady || v.Turn.Kind != "tack" || r.told == v.Turn.Start || v.beginner() || v.Mode != boat.CloseHauled && v.Mode != boat.Reaching {
		return k, false
	}
	if !v.angled() || !v.Target.OK || !v.Wind.DirDeg.OK || v.Wind.SDDeg > sureSDDeg || v.Share.Or(0) < wayShare {
		return k, false
	}
	off := math.Abs(v.twa.Val) - v.Target.BeatDeg
	if off < math.Max(5, 1.5*v.Wind.SDDeg) || off > 30 || pays(v) || !v.mayHeadUp(off) {
		return k, false
	}
	h, ref, ok := v.heading(v.closeHauled(v.twa.Val > 0))
	start := v.Turn.Start
	k.cue = boat.Cue{Key: boat.SteerTo, Variant: "heading", Amount: h, Ref: ref, Conf: v.angleConf(), WhyCode: "low_after_tack",
		Why: fmt.Sprintf("%.0f° low after the tack and %s: her course to windward is %03.0f° %s", off, v.speedWords(), h.Val, ref)}
	k.done = func() { r.told = start }
	return k, ok
}

// closeHauled returns the true heading at the best angle to windward with the
// wind from starboard or from port.
func (v *view) closeHauled(starboard bool) float64 {
	if starboard {
		return geo.Wrap360(v.Wind.DirDeg.Val - v.Target.BeatDeg)
	}
	return geo.Wrap360(v.Wind.DirDeg.Val + v.Target.BeatDeg)
}
