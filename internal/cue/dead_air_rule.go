package cue

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// deadAirRule: there is no wind ahead, in time to tack with way on. Where a tack is
// not the answer, or the other tack is not free, it asks for a look alone.
type deadAirRule struct {
	ahead  spell
	loses  spell     // way, on a straight course
	lost   boat.Time // when that was last told of
	points []leePoint
	here   spell
	share  float64 // sum of share while she is in what is taken for dead air
	n      float64
	judged bool
}

// leePoint is a piece of shore that takes the wind, and what came of it.
type leePoint struct {
	at     geo.Position
	told   boat.Time // 0: never
	belief float64   // factor on what the chart foretells
}

const (
	leeLikely   = 0.7
	deepLikely  = 0.55 // of being within eight heights: within ten it is then some five in six
	leadMoreS   = 10.0 // before dead air, beyond the tack
	leadSlackS  = 20.0 // for the words, a lookout, and an obstacle a quarter higher than the chart says
	leadLeastS  = 3.0  // beyond the tack: later the call only hurries
	pointM      = 150.0
	pointAgainS = 600.0
	pastS       = 10.0 // in dead air by the chart, before what happened is judged
	noLossShare = 0.85
	lossShare   = 0.7
	surelyDead  = 0.8
	unbelieve   = 0.5
	lullAgainS  = 60.0
	fadeTurnDeg = 8.0  // a course changed by more explains another speed
	fadeSwerve  = 0.15 // share of the time that the course may be off by more
	fadeBeforeS = 12.0 // and so long before, since speed takes time to answer
)

func (r *deadAirRule) propose(v *view) (candidate, bool) {
	if v.second {
		r.learn(v)
		r.lull(v)
	}
	w := v.Water
	on := w.Charted && v.Wind.Known && v.straight() && w.EdgeS.OK &&
		w.EdgeS.Val-w.TackS <= leadMoreS+leadSlackS && w.LeeS.Or(math.Inf(1))-w.TackS >= leadLeastS
	at := r.point(w.LeeBy)
	sure, sign := r.believed(v, at)
	on = on && sure > 0
	r.ahead.see(v.Now, on)
	k := candidate{class: warning, since: r.ahead.since, life: 6, wait: 10, again: 30}
	if !r.ahead.lasted(v.Now, 1.5) || at >= 0 && r.points[at].told != 0 && v.Now.Seconds(r.points[at].told) < pointAgainS {
		return k, false
	}
	by := w.LeeBy
	k.done = func() { r.tell(v.Now, by) }
	why := fmt.Sprintf("dead air may begin %.0f s ahead by the chart, likely to %.0f %%%s", w.EdgeS.Val, 100*sure, sign)
	if v.Mode == boat.CloseHauled && w.TackFree && v.angled() && v.Share.OK && v.Share.Val >= slowShare && !v.heavy {
		k.cue = boat.Cue{Key: boat.DeadAir, Conf: math.Round(100*math.Min(1, sure)) / 100, WhyCode: "lee",
			Why: fmt.Sprintf("%s; a tack takes %.0f s, and the other tack is free", why, w.TackS)}
		return k, true
	}
	k.class, k.life, k.wait = teaching, 4, 8
	k.cue = boat.Cue{Key: boat.Look, Variant: "flat_water", Conf: 0.7, WhyCode: "flat_water", Why: why + "; a tack is not sure to be the answer"}
	return k, true
}

// believed returns how sure dead air ahead is, 0 where not sure enough, and the sign
// beside the chart that it hangs on. The chart alone is enough where she will come
// within eight heights, or within ten almost for certain; else she must be seen to
// lose way where the chart leads into the lee, counted from where the tables begin it,
// or another boat there.
func (r *deadAirRule) believed(v *view, at int) (sure float64, sign string) {
	belief := 1.0
	if at >= 0 {
		belief = r.points[at].belief
	}
	w := v.Water
	switch {
	case w.LeeDeep*belief > deepLikely, w.LeeP*belief > surelyDead:
		return w.LeeP * belief, ""
	case w.LeeOuter*belief > leeLikely && v.fading():
		return w.LeeOuter * belief, "; speed and heel fall together"
	case w.LeeOuter*belief > leeLikely && w.LeeSeen:
		return w.LeeOuter * belief, "; another boat lost way there"
	}
	return 0, ""
}

// fading says whether speed and heel fall together, as they do where the wind goes: at
// once, or slowly over the last minute.
func (v *view) fading() bool {
	return v.faded(span{24, 12}) || v.faded(span{60, 40})
}

// faded says whether speed and heel are less now than in a stretch of the past, on a
// course that was held since before it: who goes closer to the wind loses both as well.
func (v *view) faded(since span) bool {
	then, now := v.past.in(v.Now, since), v.past.in(v.Now, span{4, 0})
	s0, s1 := boat.Mean(then, speedOf), boat.Mean(now, speedOf)
	h0, h1 := boat.Mean(then, heelOf), boat.Mean(now, heelOf)
	return s0.OK && s1.OK && h0.OK && h1.OK && v.State.Mount != boat.Worn &&
		s1.Val < 0.85*s0.Val && math.Abs(h1.Val) < math.Abs(h0.Val)-2 &&
		v.held(span{since.from + fadeBeforeS, 0}, meanAngle(now, headingOf))
}

// held says whether a course was held over a stretch of the past, but for a swerve.
func (v *view) held(since span, course boat.Reading) bool {
	points, off := v.past.in(v.Now, since), 0
	for _, p := range points {
		if !p.heading.OK || math.Abs(geo.Diff(course.Val, p.heading.Val)) > fadeTurnDeg {
			off++
		}
	}
	return course.OK && float64(off) <= fadeSwerve*float64(len(points))
}

// point returns the index of the known point near a place, or -1.
func (r *deadAirRule) point(at geo.Position) int {
	best, where := pointM, -1
	for i := range r.points {
		if d := geo.Distance(r.points[i].at, at); d < best {
			best, where = d, i
		}
	}
	return where
}

func (r *deadAirRule) known(at geo.Position) *leePoint {
	i := r.point(at)
	if i < 0 {
		r.points = append(r.points, leePoint{at: at, belief: 1})
		i = len(r.points) - 1
	}
	return &r.points[i]
}

func (r *deadAirRule) tell(t boat.Time, by geo.Position) { r.known(by).told = t }

// learn looks, once a second, at what becomes of her in what is taken for dead air:
// who sails through without loss shows that there is wind.
func (r *deadAirRule) learn(v *view) {
	in := v.Water.LeeHere > leeLikely && v.Share.OK && v.straight() && v.Mode.Sailing()
	was := r.here.on
	r.here.see(v.Now, in)
	switch {
	case !in:
		r.share, r.n, r.judged = 0, 0, false
		return
	case !was:
		r.share, r.n, r.judged = 0, 0, false
	}
	r.share += v.Share.Val
	r.n++
	if r.judged || !r.here.lasted(v.Now, pastS) {
		return
	}
	r.judged = true
	p := r.known(v.Water.HereBy)
	switch share := r.share / r.n; {
	case share >= noLossShare:
		p.belief *= unbelieve
	case share < lossShare:
		p.belief = 1
	}
}

// lull tells, for other boats, where she loses way: what makes her slow may be the
// wind alone, and on any shore.
func (r *deadAirRule) lull(v *view) {
	r.loses.see(v.Now, v.straight() && v.Mode.Sailing() && v.State.PosOK && v.Share.OK && v.Share.Val < lossShare && v.fading())
	if !r.loses.lasted(v.Now, 2) || r.lost != 0 && v.Now.Seconds(r.lost) < lullAgainS {
		return
	}
	r.lost = v.Now
	p := v.State.Pos
	v.mem.lull = &boat.Lull{T: v.Now, At: boat.LonLat{math.Round(p.LonDeg*1e6) / 1e6, math.Round(p.LatDeg*1e6) / 1e6}}
}

// leeComes says whether dead air comes near enough that what is said before it would
// stand in its way.
func (v *view) leeComes() bool {
	return v.Water.LeeP > leeLikely && v.Water.LeeS.Or(math.Inf(1)) < v.Water.TackS+leadMoreS+2*leadSlackS
}
