package cue

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// sheetRule: the wind has come to another angle on a held course and speed went
// with it: lifted, ease; headed, trim. It also eases when leaning out did not
// bring her upright.
type sheetRule struct {
	eased, trimmed, heeled spell
	last                   change
}

const (
	sheetDeg = 8.0   // change of angle that asks for the sheet
	sheetS   = 6.0   // given to the sailor to see it alone
	broadDeg = 130.0 // broader than this the sheet hardly follows the angle
	namedS   = 30.0
	ownS     = 20.0 // given where she changed course, or was asked to: who steers has the sheet in mind
	ownShare = 0.9  // of target speed, from which it has been seen to
	ownDeg   = 25.0 // more is a new leg, for which everybody trims: the luff tells how well
)

func (r *sheetRule) propose(v *view) (candidate, bool) {
	if v.second {
		r.last = changeOf(v)
	}
	c := r.last
	band := sheetDeg * v.mem.widen(sheet)
	r.eased.see(v.Now, c.ok && c.deg > keep(r.eased.on, band))
	r.trimmed.see(v.Now, c.ok && -c.deg > keep(r.trimmed.on, band))
	r.heeled.see(v.Now, stillHeeled(v))
	patience := sheetS
	if c.ok && !c.shifted() {
		patience = ownS
	}
	switch {
	case r.heeled.lasted(v.Now, 2):
		return r.forHeel(v)
	case r.eased.lasted(v.Now, patience) && c.deg > band && v.angled():
		return sheetOrder(v, boat.Ease, r.eased.since, c), true
	case r.trimmed.lasted(v.Now, patience) && -c.deg > band && v.angled() && v.nearDeg() >= v.Target.NoSailUp+nearWindMin:
		return sheetOrder(v, boat.Trim, r.trimmed.since, c), true
	}
	return candidate{}, false
}

// change is how far the wind came aft on a held course, degrees, and why.
type change struct {
	deg   float64 // forward negative
	wind  float64 // of it by the wind, the rest by the course
	share float64 // of target speed that went with it
	told  cause   // what the watch for shifts says of it
	ok    bool
}

// cause is what changed her angle to the wind, where something tells.
type cause int

const (
	untold cause = iota
	byWind
	byHelm
)

const shiftFreshS = 60.0 // a shift called longer ago explains no change of the last half minute

// toldBy asks the watch for shifts, which weighs heading, speed and helm over minutes,
// where her angle has changed by deg, aft positive.
func toldBy(v *view, deg float64) cause {
	s := v.Shift
	switch {
	case s.Helm != "":
		return byHelm
	case s.Kind == boat.Persistent && v.Now.Seconds(s.CalledT) < shiftFreshS && s.LiftDeg*deg > 0:
		return byWind
	}
	return untold
}

// changeOf compares the last seconds with half a minute ago, where both were held
// courses on the same tack and the speed is worse now.
func changeOf(v *view) change {
	if !v.angled() || !v.straight() || v.Wind.SDDeg > 12 || v.Mode != boat.CloseHauled && v.Mode != boat.Reaching {
		return change{}
	}
	if v.Now.Seconds(v.mem.turned) < 40 || !v.past.steady(v.Now, 6, 8) {
		return change{}
	}
	now, then := v.past.in(v.Now, span{5, 0}), v.past.in(v.Now, span{45, 25})
	a, b := meanAngle(now, twaOf), meanAngle(then, twaOf)
	sa, sb := boat.Mean(now, shareOf), boat.Mean(then, shareOf)
	if !a.OK || !b.OK || !sa.OK || !sb.OK || !sails(a.Val, b.Val) {
		return change{}
	}
	// The sailor who kept her speed has done it already.
	if sa.Val > 0.95 || sa.Val > 0.9 && sa.Val > sb.Val-0.05 {
		return change{}
	}
	ha, hb := meanAngle(now, headingOf), meanAngle(then, headingOf)
	if !ha.OK || !hb.OK {
		return change{}
	}
	side := math.Copysign(1, a.Val)
	deg := math.Abs(a.Val) - math.Abs(b.Val)
	byCourse := -side * geo.Diff(hb.Val, ha.Val)
	c := change{deg: deg, wind: deg - byCourse, share: sb.Val - sa.Val, told: toldBy(v, deg)}
	if c.shifted() {
		c.ok = v.mem.since(boat.Lifted, boat.Headed) > namedS // a shift that has been named needs no second word
	} else {
		c.ok = math.Abs(deg) <= ownDeg && sa.Val < ownShare && v.mem.since(boat.HeadUp, boat.BearAway, boat.SteerTo) > ownS
	}
	return c
}

// shifted says whether the wind did it: as the watch for shifts tells, else where it
// did more of it than her course.
func (c change) shifted() bool {
	if c.told != untold {
		return c.told == byWind
	}
	return math.Abs(c.wind) > math.Abs(c.deg-c.wind)
}

// sails says whether both angles are on one tack and within what the sheet
// follows.
func sails(a, b float64) bool {
	least, most := math.Min(math.Abs(a), math.Abs(b)), math.Max(math.Abs(a), math.Abs(b))
	return a*b > 0 && least > 20 && most <= broadDeg
}

func sheetOrder(v *view, key boat.Key, since boat.Time, c change) candidate {
	size := boat.Little
	if math.Abs(c.deg) > 16 {
		size = boat.More
	}
	way, by, code := "aft", "by her course", "course"
	if c.deg < 0 {
		way = "forward"
	}
	if c.shifted() {
		code, by = "shift", "by a shift"
	}
	k := candidate{
		cue: boat.Cue{Key: key, Variant: string(size), Size: size, Conf: math.Min(0.8, v.angleConf()), WhyCode: code,
			Why: fmt.Sprintf("the wind came %.0f° %s %s, %s", math.Abs(c.deg), way, by, v.speedWords())},
		class: steering, since: since, life: 3, wait: math.Max(10, 2*v.TauS) / v.tauFactor(), again: 40,
		over: math.Abs(c.deg) / sheetDeg,
	}
	if v.beginner() {
		k.cue.Variant, k.cue.Size = "", ""
	}
	return k
}

// stillHeeled says whether she heels too much though leaning out was asked for a
// while ago.
func stillHeeled(v *view) bool {
	ago := v.mem.since(boat.SitOut)
	return ago >= 8 && ago <= 40 && v.straight() && leanDeg(v) > leanOutDeg
}

func (r *sheetRule) forHeel(v *view) (candidate, bool) {
	k := candidate{
		cue: boat.Cue{Key: boat.Ease, Variant: string(boat.Little), Size: boat.Little, Conf: 0.8, WhyCode: "heel",
			Why: fmt.Sprintf("heel still %.0f° though leaning out was asked for %.0f s ago", leanDeg(v), v.mem.since(boat.SitOut))},
		class: steering, since: r.heeled.since, life: 3, wait: 10, again: 20,
	}
	return k, true
}
