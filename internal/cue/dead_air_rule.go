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
	unbelieve   = 0.5
)

func (r *deadAirRule) propose(v *view) (candidate, bool) {
	if v.second {
		r.learn(v)
	}
	w := v.Water
	ahead := w.LeeS.Or(math.Inf(1)) - w.TackS
	on := w.Charted && ahead <= leadMoreS+leadSlackS && ahead >= leadLeastS && v.Wind.Known && v.straight()
	at := r.point(w.LeeBy)
	on = on && r.believed(v, at)
	r.ahead.see(v.Now, on)
	k := candidate{class: warning, since: r.ahead.since, life: 6, wait: 10, again: 30}
	if !r.ahead.lasted(v.Now, 1.5) || at >= 0 && r.points[at].told != 0 && v.Now.Seconds(r.points[at].told) < pointAgainS {
		return k, false
	}
	by := w.LeeBy
	k.done = func() { r.tell(v.Now, by) }
	why := fmt.Sprintf("dead air by the chart %.0f s ahead, likely to %.0f %%", w.LeeS.Val, 100*w.LeeP)
	if v.Mode == boat.CloseHauled && w.TackFree && v.angled() && v.Share.OK && v.Share.Val >= slowShare && !v.heavy {
		k.cue = boat.Cue{Key: boat.DeadAir, Conf: math.Round(100*math.Min(1, w.LeeP)) / 100, WhyCode: "lee",
			Why: fmt.Sprintf("%s; a tack takes %.0f s, and the other tack is free", why, w.TackS)}
		return k, true
	}
	k.class, k.life, k.wait = teaching, 4, 8
	k.cue = boat.Cue{Key: boat.Look, Variant: "flat_water", Conf: 0.7, WhyCode: "flat_water", Why: why + "; a tack is not sure to be the answer"}
	return k, true
}

// believed says whether dead air ahead is sure enough: the chart alone where she will
// come within eight heights, else with a second sign.
func (r *deadAirRule) believed(v *view, at int) bool {
	belief := 1.0
	if at >= 0 {
		belief = r.points[at].belief
	}
	return v.Water.LeeDeep*belief > deepLikely || v.Water.LeeP*belief > leeLikely && v.fading()
}

// fading says whether speed and heel fall together, as they do where the wind goes.
func (v *view) fading() bool {
	then, now := v.past.in(v.Now, span{24, 12}), v.past.in(v.Now, span{4, 0})
	s0, s1 := boat.Mean(then, speedOf), boat.Mean(now, speedOf)
	h0, h1 := boat.Mean(then, heelOf), boat.Mean(now, heelOf)
	return s0.OK && s1.OK && h0.OK && h1.OK && v.State.Mount != boat.Worn &&
		s1.Val < 0.85*s0.Val && math.Abs(h1.Val) < math.Abs(h0.Val)-3
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

// leeComes says whether dead air comes near enough that what is said before it would
// stand in its way.
func (v *view) leeComes() bool {
	return v.Water.LeeP > leeLikely && v.Water.LeeS.Or(math.Inf(1)) < v.Water.TackS+leadMoreS+2*leadSlackS
}
