package cue

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Water is what is known of the water about her. The zero Water knows nothing, and
// knowing nothing is no all-clear.
type Water struct {
	Charted bool         // she is within a chart
	NearM   boat.Reading // to the nearest shore, where it is near
	AheadS  boat.Reading // seconds to the shore on her present course
	// ShoreS returns the seconds to the shore on a true course at her speed, absent
	// where none is near. It is nil without a chart.
	ShoreS func(trueDeg float64) boat.Reading

	LeeHere   float64      // probability that she is in dead air
	HereBy    geo.Position // what takes the wind there
	LeeS      boat.Reading // seconds to dead air on her present course
	EdgeS     boat.Reading // seconds to where dead air may begin: within twelve and a half heights more likely than not
	LeeP      float64      // greatest probability of dead air in the stretch that begins at that edge
	LeeOuter  float64      // greatest probability there of being within twelve and a half heights
	LeeDeep   float64      // greatest probability there of being within eight heights
	LeeBy     geo.Position // what takes the wind there
	LeeSeen   bool         // another boat has lost way there of late
	TackS     float64      // seconds this sailor takes for a tack, learned
	TackFree  bool         // the other tack is free of shore and dead air, from where a tack would end
	Ramp      boat.Reading // bearing of the ramp, true; absent where there is none
	RampM     float64
	SunsetS   boat.Reading // seconds to sunset
	LeaveS    boat.Reading // seconds to when she should head back
	VMCKn     boat.Reading // made good towards the ramp
	LeaveText string       // how the time to leave was found
}

const (
	handM       = 150.0 // from the ramp: the sailor's own eyes from here
	towardsDeg  = 45.0  // within which a course counts as one to the ramp
	nearShoreS  = 60.0
	closeShoreS = 20.0
)

// landing says whether she is coming in to the ramp and near: the shore is where she
// wants to be, and the coach has handed over.
func (v *view) landing() bool {
	w := v.Water
	if !w.Ramp.OK || w.RampM > handM {
		return false
	}
	course := v.State.COGDeg
	if !course.OK {
		course = v.State.HeadingDeg
	}
	return course.OK && math.Abs(geo.Diff(course.Val, w.Ramp.Val)) <= towardsDeg
}

// toShore says whether a true course leads to the shore within so many seconds, as
// far as the chart tells.
func (v *view) toShore(trueDeg, seconds float64) bool {
	if v.Water.ShoreS == nil {
		return false
	}
	s := v.Water.ShoreS(trueDeg)
	return s.OK && s.Val < seconds
}

// turnToShore says whether the new tack (or gybe) leads to the shore.
func (v *view) turnToShore(kind string) bool {
	if !v.Wind.DirDeg.OK || !v.twa.OK || !v.Target.OK {
		return false
	}
	off := v.Target.BeatDeg
	if kind == "gybe" {
		off = v.Target.RunDeg
	}
	return v.toShore(v.Wind.DirDeg.Val+math.Copysign(off, v.twa.Val), nearShoreS)
}

// byShore: near the shore nothing asks for a course towards it, and close to it
// nothing asks for attention.
func byShore(v *view, k candidate) string {
	if v.Water.ShoreS == nil || k.class == danger || k.class == warning || k.cue.Key == boat.Say || k.cue.Key == boat.InIrons {
		return ""
	}
	if s := v.Water.AheadS; s.OK && s.Val < closeShoreS && !v.inTurn() && k.class <= steering {
		return "shore"
	}
	h := v.State.HeadingDeg
	up := math.Copysign(k.cue.Amount.Or(5), v.twa.Val)
	switch k.cue.Key {
	case boat.HeadUp:
		if h.OK && v.toShore(h.Val+up, nearShoreS) {
			return "shore"
		}
	case boat.BearAway:
		if h.OK && v.toShore(h.Val-up, nearShoreS) {
			return "shore"
		}
	case boat.SteerTo:
		if k.cue.Amount.OK && v.toShore(v.State.FromCompass(k.cue.Amount.Val, k.cue.Ref), nearShoreS) {
			return "shore"
		}
	case boat.PrepareTack, boat.PrepareGybe, boat.TurnNow:
		kind := "tack"
		if k.cue.Key == boat.PrepareGybe || k.cue.Variant == "gybe" {
			kind = "gybe"
		}
		if v.turnToShore(kind) {
			return "shore"
		}
	}
	return ""
}

// byRamp: on the last stretch to the ramp the coach has handed over.
func byRamp(v *view, k candidate) string {
	if v.landing() && k.class != danger && k.class != warning && k.cue.Key != boat.Say && k.cue.Key != boat.InIrons {
		return "handed over"
	}
	return ""
}
