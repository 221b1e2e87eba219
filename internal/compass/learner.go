package compass

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// How a fact is weighed (common practice, no source, but for what physics gives).
const (
	legSD      = 2.0  // degrees: what else differs from leg to leg where the side is known
	blindSD    = 4.5  // and where it is not: leeway of its prior, to either side
	newLegDeg  = 30.0 // a heading so far from the last fact's is another leg
	ownSD      = 2.0  // degrees: steering, waves, gusts within a quarter of a minute
	crossKn    = 0.12 // a receiver's error across the course, in the mean of a fact
	logSDKn    = 0.15 // log and receiver against each other, in the mean of a fact
	farDeg     = 60.0 // further apart, bow and course are not told apart by small errors
	leastKn    = 1.2  // slower, the course over the ground is mostly noise
	usualTauS  = 600.0
	doubtful   = 1.5 // standard deviations from which a fact counts less
	incredible = 3.0 // and from which it is held back
	lasting    = 3   // so many held back in a row, one way, are a change
)

// Fact is one stretch of steady heading.
type Fact struct {
	T          boat.Time
	HeadingDeg float64      // what the compass shows turned true by the variation, 0..360, mean
	COGDeg     float64      // over the ground, true, 0..360, mean
	SOGKn      float64      // over the ground, mean
	WaterKn    boat.Reading // through the water by a log, mean
	Push       boat.Reading // share of the leeway of a beat, -1..1, to starboard positive; absent: side unknown
	ScatterSD  float64      // degrees: of the mean of course less heading
}

// Learner estimates the terms of the model from facts. Make it with NewLearner.
type Learner struct {
	filter  filter
	at      boat.Time // of the last fact
	hdg     float64
	blind   bool // the side was not known
	usualKn float64
	held    []Fact  // facts too far off to believe, so far
	doubt   float64 // degrees: how far off the last of them was; 0: none
	facts   int
}

// NewLearner makes a Learner that knows its priors only.
func NewLearner() *Learner { return &Learner{filter: newFilter()} }

// Learn takes one fact, in the order of time. One that lies far from what is
// believed is held back; three in a row to one side are a change (a magnet beside
// the phone, a tidal stream): the terms that may have changed are learned anew.
func (l *Learner) Learn(f Fact) {
	if !f.usable() || f.T < l.at {
		return
	}
	if l.at != 0 {
		l.filter.pass(math.Min(f.T.Seconds(l.at), 86400))
	}
	l.leg(f)
	off, h := l.surprise(f)
	r := f.variance()
	z := math.Abs(off) / math.Sqrt(l.filter.spread(h)+r)
	if z > incredible {
		l.hold(f, off)
		return
	}
	l.held, l.doubt = nil, 0
	l.believe(f, off, z)
}

func (f Fact) usable() bool {
	for _, v := range []float64{f.HeadingDeg, f.COGDeg, f.SOGKn, f.ScatterSD, f.WaterKn.Val, f.Push.Val} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return f.SOGKn >= leastKn && f.SOGKn < 60 && math.Abs(f.Push.Val) <= 1
}

// variance of a fact's course less heading, degrees squared.
func (f Fact) variance() float64 {
	noise := geo.Deg(crossKn / f.SOGKn)
	return ownSD*ownSD + float64(noise*noise) + float64(f.ScatterSD*f.ScatterSD)
}

// leg begins a new leg where the fact belongs to one.
func (l *Learner) leg(f Fact) {
	blind := !f.Push.OK
	if l.at == 0 || blind != l.blind || math.Abs(geo.Diff(l.hdg, f.HeadingDeg)) > newLegDeg {
		sd := legSD
		if blind {
			sd = blindSD
		}
		l.filter.renew(termLeg, sd*sd)
	}
	if l.at == 0 {
		l.usualKn = f.SOGKn
	}
	share := 1 - math.Exp(-math.Min(60, f.T.Seconds(l.at))/usualTauS)
	l.usualKn += float64((f.SOGKn - l.usualKn) * share)
	l.at, l.hdg, l.blind = f.T, f.HeadingDeg, blind
}

// surprise is how far course less heading lies from what the terms give, degrees,
// and how each term weighs in it.
func (l *Learner) surprise(f Fact) (float64, vector) {
	h := l.weights(f)
	return geo.Wrap180(geo.Diff(f.HeadingDeg, f.COGDeg) - dot(h, l.filter.mean)), h
}

// weights are the slopes of course less heading by each term. A current turns the
// course by its part across it over the speed through the water; leeway grows
// where she is slow for the wind, as the keel must lift as much with less flow.
func (l *Learner) weights(f Fact) vector {
	sin, cos := math.Sincos(geo.Rad(f.HeadingDeg))
	cogSin, cogCos := math.Sincos(geo.Rad(f.COGDeg))
	m := l.filter.mean
	ahead := float64(m[termEast]*cogSin) + float64(m[termNorth]*cogCos)
	water := math.Max(0.5*f.SOGKn, f.SOGKn-ahead)
	slow := math.Min(2, math.Max(0.7, l.usualKn/f.SOGKn))
	return vector{
		termA: 1, termB: sin, termC: cos, termLeeway: f.Push.Or(0) * slow,
		termEast: geo.Deg(cogCos) / water, termNorth: -geo.Deg(cogSin) / water, termLeg: 1,
	}
}

// believe takes the fact in; one a little far off counts less.
func (l *Learner) believe(f Fact, off, z float64) {
	r := f.variance() * math.Max(1, z/doubtful)
	l.filter.learn(l.weights(f), off, r)
	l.facts++
	if f.WaterKn.OK && f.WaterKn.Val >= leastKn {
		l.log(f)
	}
}

// log compares the speed through the water with the one over the ground: what is
// left is the current along the course, and the log's own error.
func (l *Learner) log(f Fact) {
	sin, cos := math.Sincos(geo.Rad(f.COGDeg))
	h := vector{termEast: sin, termNorth: cos, termLog: -f.WaterKn.Val}
	off := f.SOGKn - f.WaterKn.Val - dot(h, l.filter.mean)
	if s := l.filter.spread(h) + logSDKn*logSDKn; float64(off*off) < 9*s {
		l.filter.learn(h, off, logSDKn*logSDKn)
	}
}

// hold keeps back a fact that cannot be, until it has proved lasting.
func (l *Learner) hold(f Fact, off float64) {
	if n := len(l.held); n > 0 && off*l.doubt < 0 {
		l.held = nil
	}
	l.doubt = off
	if math.Abs(off) > farDeg {
		l.held = nil
		return
	}
	l.held = append(l.held, f)
	if len(l.held) < lasting {
		return
	}
	l.loosen(math.Abs(off))
	held := l.held
	l.held, l.doubt = nil, 0
	for _, f := range held {
		off, h := l.surprise(f)
		l.believe(f, off, math.Abs(off)/math.Sqrt(l.filter.spread(h)+f.variance()))
	}
}

// loosen widens what may have changed by so many degrees: the compass, or the
// current.
func (l *Learner) loosen(byDeg float64) {
	v := float64(byDeg * byDeg)
	for _, i := range []int{termA, termB, termC} {
		l.filter.cov[i][i] += v / 2
	}
	kn := geo.Rad(byDeg) * l.usualKn
	for _, i := range []int{termEast, termNorth} {
		l.filter.cov[i][i] += float64(kn*kn) / 2
	}
}
