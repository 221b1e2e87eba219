package cue

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// steerRule: off the best angle to windward. Lower than it only where the lower
// course does not pay; higher than it only where speed is lost, since good speed
// at too high an angle means that the wind is not where it is believed to be. A boat
// that is low goes faster than on her best angle: where she is slow she may be
// pinching in a wind that has come forward, or her sheet is wrong. Speed first then,
// which the luff test sees to.
type steerRule struct {
	low, high, deep spell
	told            int     // times she was told of being low, and stayed so, since the last turn
	toldOff         float64 // how low she was at the last
	turned          boat.Time
}

const (
	offForS    = 6.0
	mendingDeg = 2.5
	sparedDeg  = 3.0 // so little beyond her best angle costs nothing
	quantile90 = 1.282
	keepPart   = 0.7  // of the dead band, until the reason is given up
	paysPart   = 0.97 // of the best made good to windward, from which lower is no fault
	lowShare   = 0.8  // of target speed, under which low is in doubt
	pinchShare = 0.92 // of target speed, below which high is pinching
	pinchDeg   = 10.0 // into the dead sector and no further: beyond she luffs or turns
	pinchS     = 3.0  // of a held course
	partDeg    = 3.0  // so much higher is an answer
)

func (r *steerRule) propose(v *view) (candidate, bool) {
	band := v.steerBand()
	off := v.offDeg()
	r.low.see(v.Now, off.OK && off.Val > keep(r.low.on, band) && !pays(v) && v.Share.OK && v.Share.Val >= lowShare)
	r.high.see(v.Now, off.OK && -off.Val > keep(r.high.on, band) && v.Share.OK && v.Share.Val < pinchShare && !pays(v) &&
		math.Abs(v.twa.Val) > v.Target.NoSailUp-pinchDeg && v.past.steady(v.Now, pinchS, heldDeg))
	r.deep.see(v.Now, v.Mode == boat.Running && v.angled() && v.straight() && v.Target.OK &&
		math.Abs(v.twa.Val) > v.Target.RunDeg+keep(r.deep.on, band) && v.Share.OK && v.Share.Val < pinchShare)
	if r.turned != v.mem.turned || off.OK && off.Val < keepPart*band {
		r.turned, r.told = v.mem.turned, 0
	}
	switch {
	case r.low.lasted(v.Now, offForS) && off.Val > band && !r.mending(v, -1):
		return r.headUp(v, off.Val, band)
	case r.high.lasted(v.Now, offForS) && -off.Val > band && !r.mending(v, 1):
		return r.bearAway(v, -off.Val, band)
	case r.deep.lasted(v.Now, offForS) && !v.beginner() && !r.mending(v, -1):
		return r.fromRun(v)
	}
	return candidate{}, false
}

// steerBand is how far off she may be without a word, degrees.
func (v *view) steerBand() float64 {
	band := 5.0
	if v.beginner() {
		band = 10
	}
	return math.Max(band, 1.5*v.Wind.SDDeg) * v.mem.widen(helm)
}

func keep(on bool, band float64) float64 {
	if on {
		return keepPart * band
	}
	return band
}

// pays says whether what she makes good to windward is as good as the best.
func pays(v *view) bool {
	if !v.State.SpeedKn.OK || v.Target.BeatVMG <= 0 || !v.twa.OK {
		return false
	}
	return v.State.SpeedKn.Val*math.Cos(v.twa.Val*math.Pi/180) >= paysPart*v.Target.BeatVMG
}

// mending says whether her angle has moved the right way (way +1 is off the wind)
// in the last three seconds.
func (r *steerRule) mending(v *view, way float64) bool {
	now, then := meanAngle(v.past.in(v.Now, span{1.2, 0}), twaOf), meanAngle(v.past.in(v.Now, span{4.2, 3}), twaOf)
	return !now.OK || !then.OK || way*(math.Abs(now.Val)-math.Abs(then.Val)) >= mendingDeg
}

func (r *steerRule) headUp(v *view, off, band float64) (candidate, bool) {
	variant, amount := v.helmAmount(off)
	if !v.mayHeadUp(amount) && amount == 10 {
		variant, amount = "5", 5
		if v.beginner() {
			variant = "little"
		}
	}
	k := v.helmOrder(boat.HeadUp, variant, amount)
	k.since, k.over = r.low.since, off/band
	// Whoever sails on as low has a reason, or does not hear: ever more seldom. Who
	// came up in part is told the rest.
	told := r.told
	if off < r.toldOff-partDeg {
		told = 0
	}
	k.again *= float64(int(1) << min(told, 3))
	k.done = func() { r.told, r.toldOff = told+1, off }
	k.cue.WhyCode = "low"
	k.cue.Why = fmt.Sprintf("%.0f° below her best angle of %.0f° to the wind, %s", off, v.Target.BeatDeg, v.speedWords())
	return k, v.mayHeadUp(amount)
}

func (r *steerRule) bearAway(v *view, off, band float64) (candidate, bool) {
	variant, amount := v.helmAmount(off)
	k := v.helmOrder(boat.BearAway, variant, amount)
	k.since, k.over = r.high.since, off/band
	k.cue.WhyCode = "pinching"
	k.cue.Why = fmt.Sprintf("%.0f° above her best angle of %.0f° to the wind, %s", off, v.Target.BeatDeg, v.speedWords())
	return k, v.mayBearAway(amount)
}

func (r *steerRule) fromRun(v *view) (candidate, bool) {
	k := v.helmOrder(boat.HeadUp, "little", 5)
	k.since = r.deep.since
	k.cue.WhyCode = "deep"
	k.cue.Why = fmt.Sprintf("%.0f° to the wind, best downwind is %.0f°, %s", math.Abs(v.twa.Val), v.Target.RunDeg, v.speedWords())
	return k, v.mayHeadUp(5)
}

func (v *view) helmOrder(key boat.Key, variant string, amount float64) candidate {
	return candidate{
		cue:   boat.Cue{Key: key, Variant: variant, Amount: boat.Some(amount), Conf: v.angleConf()},
		class: steering, life: 2, wait: 6, again: 15,
	}
}

// helmAmount returns the words' variant and the degrees they ask for: the most
// that with nine chances in ten takes her no more than sparedDeg beyond her best
// angle, off being doubtful by the wind's deviation. A beginner gets the small word.
func (v *view) helmAmount(off float64) (string, float64) {
	sure := off + sparedDeg - float64(quantile90*v.Wind.SDDeg)
	switch {
	case v.beginner():
		return "little", 5
	case sure >= 10 && off >= 9:
		return "10", 10
	case sure >= 5 && off >= 6.5:
		return "5", 5
	}
	return "little", 5
}

// angleConf is how far an order that hangs on the wind's direction can be right,
// 0..1: one at no doubt, a half at about ten degrees.
func (v *view) angleConf() float64 {
	return math.Round(100/(1+float64(v.Wind.SDDeg*v.Wind.SDDeg)/100)) / 100
}

func (v *view) speedWords() string {
	if !v.Share.OK {
		return "speed not known"
	}
	if v.Share.Val >= 0.95 {
		return "speed is fine"
	}
	return fmt.Sprintf("speed is %.0f %% of what she can do", 100*v.Share.Val)
}
