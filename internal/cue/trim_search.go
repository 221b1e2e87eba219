package cue

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// trimSearch finds the sheet by trying. On a held course it asks for one small
// change, a question and no verdict, looks whether she goes faster for it, has it
// taken back where the look was not clear, and so on: each there and each back is
// one look, so that a freshening wind speaks for neither. The looks add up in a
// sequential test; praise needs odds of 25 to 1, so that at most one search in 25
// whose change did nothing is praised (Wald, Sequential Analysis, 1947: the chance
// of ever passing A by luck is at most 1/A; from memory).
type trimSearch struct {
	way    float64 // +1: the change on trial is a hair out; -1: in
	made   bool    // it is made now, else taken back
	asked  boat.Time
	before look
	sd     float64 // of a look, by what was seen before the search
	better float64 // log odds, the change gains searchGain against nothing
	worse  float64 // the same, it loses as much
	looks  int
	steps  int // changes found good, one after the other
	next   search
	since  boat.Time // of next
	ended  boat.Time
	harms  float64 // way that the last search found to be wrong
}

// search is what is to be said next in a search.
type search int

const (
	looking search = iota
	tryIt          // the change, again
	tryBack        // back, to compare
	goodMore
	goodDone
	wrongWay // back, and leave it
	noneSeen // leave it there
)

const (
	searchHeldS  = 40.0 // course held before a search
	searchRestS  = 150.0
	searchAfterS = 300.0 // a luff test is the sailor's own instrument: it goes first, and so lately
	searchLookS  = 12.0  // mean of so long before and after
	searchGain   = 0.04  // share of speed that a hair may bring or cost
	searchLeast  = 0.03  // scatter of a look at least, share
	searchUsual  = 0.06  // where too little was seen to tell it
	searchMost   = 0.15
	searchHeel   = 0.012 // share of speed a degree of heel brings when it is a gust that heels her
	searchPraise = 3.22  // ln 25
	searchWrong  = 1.6   // ln 5: to be taken back, less proof is enough
	searchLooks  = 5
	searchSteps  = 3
	searchTurn   = 7.0  // degrees off the course it began on: another course
	searchSure   = 0.97 // share of target from which nothing is left to be found
	searchSayS   = 8.0  // a step that could not be said for so long ends the search
)

// look is the boat in the mean of some seconds.
type look struct {
	share, heel, windKn, heading float64
	ok                           bool
}

func lookAt(points []point) look {
	share, heading := boat.Mean(points, shareOf), meanAngle(points, headingOf)
	if !share.OK || !heading.OK || share.Val < 0.2 {
		return look{}
	}
	return look{share.Val, boat.Mean(points, heelOf).Or(0), boat.Mean(points, windOf).Or(0), heading.Val, true}
}

func (r *trimSearch) propose(v *view) (candidate, bool) {
	if !r.may(v) {
		r.end(v)
		return candidate{}, false
	}
	if r.asked != 0 && r.next == looking && v.second {
		r.see(v)
	}
	switch {
	case r.asked == 0:
		return r.begin(v)
	case r.next == looking:
		return candidate{}, false
	case v.Now.Seconds(r.since) > searchSayS:
		r.end(v)
		return candidate{}, false
	}
	return r.say(v)
}

// may says whether the sheet can be searched for: a held course in a steady wind,
// and nobody asked for anything else meanwhile.
func (r *trimSearch) may(v *view) bool {
	if v.beginner() || v.light || v.heavy || v.Deaf || !v.straight() || !v.angled() || !v.Share.OK {
		return false
	}
	if v.Mode != boat.CloseHauled && v.Mode != boat.Reaching || math.Abs(v.twa.Val) > broadDeg || leanDeg(v) > leanOutDeg {
		return false
	}
	if r.asked == 0 {
		return true
	}
	if v.mem.since(boat.LuffTest, boat.HeadUp, boat.BearAway, boat.SteerTo, boat.SitOut, boat.SitIn, boat.Lifted, boat.Headed) < v.Now.Seconds(r.asked) {
		return false
	}
	h := v.State.HeadingDeg
	return h.OK && math.Abs(geo.Diff(r.before.heading, h.Val)) <= 2*searchTurn
}

func (r *trimSearch) end(v *view) {
	if r.asked == 0 {
		return
	}
	*r = trimSearch{ended: v.Now}
}

// begin asks for the first change: out, since most hold the sheet too far in
// (common practice, no source), or in where out was found to be wrong last time.
func (r *trimSearch) begin(v *view) (candidate, bool) {
	if r.ended != 0 && v.Now.Seconds(r.ended) < searchRestS || v.Share.Val >= searchSure || v.Share.Val < slowShare {
		return candidate{}, false
	}
	if v.Mode == boat.CloseHauled {
		if off := v.offDeg(); !off.OK || math.Abs(off.Val) > v.steerBand() {
			return candidate{}, false // the helm first
		}
	}
	if c := changeOf(v); v.mem.since(boat.LuffTest) > searchAfterS || c.ok && math.Abs(c.deg) > sheetDeg/2 {
		return candidate{}, false // the luff first; and a change of the wind has an answer of its own
	}
	if v.mem.since(boat.Ease, boat.Trim, boat.LuffTest, boat.Hold) < searchHeldS || !v.past.steady(v.Now, searchHeldS, heldDeg) {
		return candidate{}, false
	}
	before := lookAt(v.past.in(v.Now, span{searchLookS, 0}))
	if !before.ok {
		return candidate{}, false
	}
	way := 1.0
	if r.harms > 0 {
		way = -1
	}
	k := hair(way)
	k.since, k.class = v.Now, teaching
	k.cue.Why = fmt.Sprintf("course held for %.0f s, %s: trying whether a little %s helps", searchHeldS, v.speedWords(), wayWord(way))
	now, sd := v.Now, r.scatter(v)
	k.done = func() { *r = trimSearch{way: way, made: true, asked: now, before: before, sd: sd} }
	return k, way > 0 || v.nearDeg() >= v.Target.NoSailUp+nearWindMin
}

func hair(way float64) candidate {
	key := boat.Ease
	if way < 0 {
		key = boat.Trim
	}
	return candidate{
		cue:   boat.Cue{Key: key, Variant: string(boat.Hair), Size: boat.Hair, Conf: 0.5, WhyCode: "trim_search"},
		class: steering, life: 3, wait: 6, again: 6,
	}
}

func wayWord(way float64) string {
	if way > 0 {
		return "out"
	}
	return "in"
}

// waitS is how long after an order its look ends: two time constants for hand and
// boat, and the look.
func (r *trimSearch) waitS(v *view) float64 { return math.Max(8, 2*v.TauS) + searchLookS }

// see takes the look that is due and decides what comes next.
func (r *trimSearch) see(v *view) {
	if v.Now.Seconds(r.asked) < r.waitS(v) {
		return
	}
	after := lookAt(v.past.in(v.Now, span{searchLookS, 0}))
	if !after.ok || math.Abs(geo.Diff(r.before.heading, after.heading)) > searchTurn {
		r.end(v)
		return
	}
	x := math.Log(after.share / r.before.share)
	if !r.made {
		x = -x
	}
	variance := r.variance(after)
	if r.looks > 0 { // the look before shares its end with this one's beginning
		variance *= 2
	}
	unit := searchGain / variance
	r.better += float64(unit * (x - searchGain/2))
	r.worse += float64(unit * (-x - searchGain/2))
	r.looks++
	r.before, r.since = after, v.Now
	r.next = r.verdict()
}

func (r *trimSearch) verdict() search {
	switch {
	case r.better >= searchPraise && r.made && r.steps+1 < searchSteps:
		return goodMore
	case r.better >= searchPraise && r.made:
		return goodDone
	case r.worse >= searchWrong && r.made:
		return wrongWay
	case r.worse >= searchWrong || r.looks >= searchLooks:
		return noneSeen
	case r.made:
		return tryBack
	}
	return tryIt
}

// scatter is the deviation of one look, share of speed: what any two such spells
// differed by on this course in the last two minutes.
func (r *trimSearch) scatter(v *view) float64 {
	lag := r.waitS(v)
	sum, n := 0.0, 0
	for back := 0.0; back+lag+searchLookS <= traceS; back += searchLookS / 2 {
		a := lookAt(v.past.in(v.Now, span{back + lag + searchLookS, back + lag}))
		b := lookAt(v.past.in(v.Now, span{back + searchLookS, back}))
		if a.ok && b.ok && math.Abs(geo.Diff(a.heading, b.heading)) < searchTurn {
			d := math.Log(b.share / a.share)
			sum += float64(d * d)
			n++
		}
	}
	if n < 4 {
		return searchUsual
	}
	return math.Min(searchMost, math.Max(searchLeast, math.Sqrt(sum/float64(n))))
}

// variance is that of the look that ends now: more where heel tells of a gust or
// the believed wind has changed.
func (r *trimSearch) variance(after look) float64 {
	gust := searchHeel * math.Max(0, math.Abs(after.heel-r.before.heel)-1.5)
	wind := 0.0
	if after.windKn > 0 && r.before.windKn > 0 {
		wind = math.Log(after.windKn / r.before.windKn)
	}
	return float64(r.sd*r.sd) + float64(gust*gust) + float64(wind*wind)
}

// say speaks the next step.
func (r *trimSearch) say(v *view) (candidate, bool) {
	k := hair(r.way)
	k.since = r.since
	seen := fmt.Sprintf("%d looks at a hair %s", r.looks, wayWord(r.way))
	if r.looks == 1 {
		seen = "one look at a hair " + wayWord(r.way)
	}
	now := v.Now
	again := func(made bool) func() {
		return func() { r.made, r.asked, r.next = made, now, looking }
	}
	end := func() { r.end(v) }
	switch r.next {
	case tryIt:
		k.cue.Why, k.done = seen+" did not tell: once again to compare", again(true)
		return k, r.way > 0 || v.nearDeg() >= v.Target.NoSailUp+nearWindMin
	case tryBack:
		k.cue.Key, k.cue.Variant, k.cue.Size = boat.Back, "", boat.Hair
		k.cue.Why, k.done = seen+" did not tell: back to compare", again(false)
		return k, true
	case goodMore:
		k = candidate{cue: boat.Cue{Key: boat.Good, Variant: "once_more", WhyCode: "trim_search", Conf: 0.8}, class: confirming, since: r.since, life: 3, wait: 6, again: 6}
		k.cue.Why = seen + ": she goes faster for it"
		k.done = func() { r.better, r.worse, r.looks, r.steps = 0, 0, 0, r.steps+1; again(true)() }
		return k, r.way > 0 || v.nearDeg() >= v.Target.NoSailUp+nearWindMin
	case wrongWay:
		k.cue.Key, k.cue.Variant, k.cue.Size = boat.Back, "", boat.Hair
		k.cue.Why = seen + ": she goes slower for it"
		k.done = func() { way := r.way; r.end(v); r.harms = way }
		k.class = confirming
		return k, true
	}
	k.cue = boat.Cue{Key: boat.Hold, WhyCode: "trim_search", Conf: 0.6}
	k.class = confirming
	k.cue.Why, k.done = seen+": no difference that counts", end
	if r.next == goodDone {
		k.cue.Why = seen + ": she goes faster for it, further was not tried"
	}
	return k, true
}
