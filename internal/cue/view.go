package cue

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// view is a Situation with what follows from it and from the past. Rules read it.
type view struct {
	Situation
	mem    *memory
	past   *trace
	twa    boat.Reading // mean of the last three seconds, -180..180
	second bool         // a new point has come to the past: time for what is slow to change
	light  bool         // too little wind for words on trim and pace
	heavy  bool         // over the sailor's limit: sheet and weight only
}

const (
	lightKn     = 1.5
	slowShare   = 0.6   // below this she answers the helm badly near the wind
	wayShare    = 0.85  // from this she has way on
	noWindKn    = 1.0   // slower than this, an unknown wind leaves nothing to say
	settledS    = 12.0  // after a turn, before her course is judged
	gainsKn     = 0.15  // in four seconds; with less she gathers no way worth waiting for
	cameOutS    = 4.0   // out of a tack with way on, it may be sooner
	fallenS     = 100.0 // below a beat for so long, she reaches
	fallenDeg   = 25.0  // and from so far below it, at once
	sureSDDeg   = 4.5   // up to this doubt a heading, told to five degrees, is mostly right within eight
	quantile95  = 1.645
	nearWindMin = 5.0 // clearance between the wind's near end and the dead sector
)

// beginner, expert: the levels whose words differ in kind.
func (v *view) beginner() bool { return v.Settings.Level == boat.Beginner }
func (v *view) expert() bool   { return v.Settings.Level == boat.Expert }

// delayS is how long before a word is heard.
func (v *view) delayS() float64 {
	if d := v.Settings.DelayS; d > 0 && d < 3 {
		return d
	}
	return 0.3
}

// tauFactor scales the waits: 1 for the boat they were written for (4.2 m).
func (v *view) tauFactor() float64 {
	if v.TauS <= 0 {
		return 1
	}
	return math.Min(3, math.Max(0.7, v.TauS/4))
}

// angled says whether the wind and the boat's angle to it are known.
func (v *view) angled() bool { return v.Wind.Known && v.twa.OK && v.TWADeg.OK }

// halfDeg is half the 90 % interval of the wind, the larger side.
func (v *view) halfDeg() float64 {
	if !v.Wind.DirDeg.OK {
		return quantile95 * v.Wind.SDDeg
	}
	d := v.Wind.DirDeg.Val
	return math.Max(geo.Wrap360(d-v.Wind.LoDeg), geo.Wrap360(v.Wind.HiDeg-d))
}

// nearDeg and farDeg are the least and the greatest angle off the wind, 0..180,
// that the 90 % interval leaves possible. Both take the worse of now and the last
// three seconds.
func (v *view) nearDeg() float64 {
	a := math.Min(math.Abs(v.twa.Val), math.Abs(v.TWADeg.Val))
	return math.Max(0, a-v.halfDeg())
}

func (v *view) farDeg() float64 {
	a := math.Max(math.Abs(v.twa.Val), math.Abs(v.TWADeg.Val))
	return math.Min(180, a+v.halfDeg())
}

// sided says whether it is beyond doubt which side the wind comes from: its
// interval holds neither the bow nor the stern.
func (v *view) sided() bool { return v.angled() && v.nearDeg() > 0 && v.farDeg() < 180 }

// mayHeadUp says whether an order to come up by deg cannot put her in irons.
func (v *view) mayHeadUp(deg float64) bool {
	return v.angled() && v.Target.OK && v.Share.OK && v.Share.Val >= slowShare &&
		v.nearDeg() >= v.Target.NoSailUp+nearWindMin && v.nearDeg()-deg >= v.Target.NoSailUp
}

// mayBearAway says whether an order to fall off by deg cannot gybe her.
func (v *view) mayBearAway(deg float64) bool {
	return v.angled() && math.Max(math.Abs(v.twa.Val), math.Abs(v.TWADeg.Val)) <= 150 && v.farDeg()+deg <= 160
}

// straight says whether she is out of every turn and has had time to settle.
func (v *view) straight() bool {
	return v.Turn.Phase == boat.NoTurn && !v.turningMode() && v.Now.Seconds(v.mem.turned) >= settledS
}

func (v *view) turningMode() bool {
	return v.Mode == boat.Tacking || v.Mode == boat.Gybing || v.Mode == boat.Irons
}

// inTurn says whether only the words of the turn have a place now.
func (v *view) inTurn() bool {
	return v.turningMode() || v.Turn.Phase == boat.Turning || v.Turn.Phase == boat.PastEye
}

// beating says whether she is trying to go to windward: close-hauled, or fallen
// off from it within the last minute, in a tack or out of one. Who stays lower for
// longer means it.
func (v *view) beating() bool {
	if v.Mode == boat.CloseHauled {
		return true
	}
	return v.Mode == boat.Reaching && v.mem.beat != 0 && v.Now.Seconds(v.mem.beat) < fallenS &&
		v.Target.OK && v.twa.OK && math.Abs(v.twa.Val) < v.Target.BeatDeg+fallenDeg
}

// offDeg is how far her angle is beyond the best angle to windward, lower
// positive, where she is beating on a straight course.
func (v *view) offDeg() boat.Reading {
	if !v.angled() || !v.Target.OK || !v.straight() && !v.cameOut() || !v.beating() {
		return boat.Reading{}
	}
	return boat.Some(math.Abs(v.twa.Val) - v.Target.BeatDeg)
}

// cameOut says whether a tack is over and she has way on again, or gains no more:
// what she was let fall off for is done.
func (v *view) cameOut() bool {
	if v.Turn.Phase != boat.NoTurn && (v.Turn.Phase != boat.JustSteady || v.Turn.Kind != "tack") {
		return false
	}
	if v.turningMode() || v.Now.Seconds(v.mem.turned) < cameOutS || !v.Share.OK {
		return false
	}
	rising := v.risingKn()
	return v.Share.Val >= wayShare || v.Share.Val >= slowShare && rising.OK && rising.Val < gainsKn
}

// blind says whether she sails on a wind that is not known, as far as heel or an
// earlier certainty tell: a boat whose sails were never seen to work may be
// under engine.
func (v *view) blind() bool {
	if v.Mode != boat.Unknown || v.Wind.Known || !v.State.SpeedKn.OK || v.State.SpeedKn.Val < noWindKn {
		return false
	}
	if v.mem.sailed != 0 && v.Now.Seconds(v.mem.sailed) < 600 {
		return true
	}
	heel := boat.Mean(v.past.in(v.Now, span{20, 0}), heelOf)
	return heel.OK && math.Abs(heel.Val) >= 6
}

// moving says whether she sails, in a turn or out of it, as far as is known.
func (v *view) moving() bool { return v.Mode.Sailing() || v.blind() }

// risingKn is how much faster she is than four seconds ago, knots.
func (v *view) risingKn() boat.Reading {
	now := boat.Mean(v.past.in(v.Now, span{2.5, 0}), speedOf)
	then := boat.Mean(v.past.in(v.Now, span{6.5, 4}), speedOf)
	if !now.OK || !then.OK {
		return boat.Reading{}
	}
	return boat.Some(now.Val - then.Val)
}

// heading returns a true heading as the boat's compass shows it, to 5 degrees,
// 0..355, or not where the compass's reading cannot be told from it.
func (v *view) heading(trueDeg float64) (boat.Reading, boat.Ref, bool) {
	deg, ref, ok := v.State.OnCompass(trueDeg)
	if !ok {
		return boat.Reading{}, "", false
	}
	return boat.Some(geo.Wrap360(5 * math.Round(deg/5))), ref, true
}
