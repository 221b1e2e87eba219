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
	newLegDeg  = 30.0 // a course so far from the last fact's is another leg
	ownSD      = 2.0  // degrees: steering, waves, gusts within a quarter of a minute
	crossKn    = 0.12 // a receiver's error across the course, in the mean of a fact
	farDeg     = 60.0 // further apart, bow and course are not told apart by small errors
	leastKn    = 1.2  // slower, the course over the ground is mostly noise
	doubtful   = 1.5  // standard deviations from which a fact counts less
	incredible = 3.0  // and from which it is held back
	lasting    = 3    // so many held back in a row, one way, are a change
	abruptKn   = 0.3
	longestS   = 86400.0
	pauseS     = 120.0 // after a longer silence nothing is the same leg
)

// Fact is one stretch of steady heading.
type Fact struct {
	T          boat.Time
	HeadingDeg float64      // what the compass shows turned true by the variation, 0..360, mean
	COGDeg     float64      // over the ground, true, 0..360, mean
	SOGKn      float64      // over the ground, mean
	WaterKn    boat.Reading // through the water by a log, mean
	Push       boat.Reading // share of the leeway of a beat, -1..1, to starboard positive; absent: side unknown
	TWADeg     boat.Reading // bow to the wind, starboard positive, where somebody knows it, mean
	ScatterSD  float64      // degrees: of the mean of course less heading
}

// Learner estimates the terms of the model from facts. Make it with NewLearner.
type Learner struct {
	kinds    []kind
	belief   filter     // mean and covariance of all kinds together
	proved   [3]float64 // of A, B and C
	at       boat.Time  // of the last fact
	cog      float64
	blind    bool // the side was not known
	same     bool // the leg is the one of the last fact believed
	usual    usual
	held     []Fact  // facts too far off to believe, so far
	abrupt   bool    // the first of them belongs to the leg of the last one believed
	doubt    float64 // degrees: how far off the last of them was; 0: none
	facts    int
	headings headings
	askew    askew
}

// NewLearner makes a Learner that knows its priors only.
func NewLearner() *Learner {
	l := &Learner{kinds: kinds()}
	l.belief = newFilter(0, 0)
	l.gather()
	return l
}

// Learn takes one fact, in the order of time. One that lies far from what is
// believed is held back; three in a row to one side are a change (a magnet beside
// the phone, a tidal stream): the terms that may have changed are learned anew.
func (l *Learner) Learn(f Fact) {
	if !f.usable() || f.T < l.at || l.usual.stalls(f) {
		return
	}
	if l.at != 0 {
		for i := range l.kinds {
			l.kinds[i].pass(math.Min(f.T.Seconds(l.at), longestS))
		}
	}
	l.leg(f)
	l.gather()
	off, h := l.surprise(&l.belief, f)
	z := math.Abs(off) / math.Sqrt(l.belief.spread(h)+f.variance()+l.sliding(f))
	if z > incredible {
		l.hold(f, off)
		return
	}
	l.held, l.doubt, l.same, l.askew = nil, 0, true, askew{}
	l.believe(f, z)
	l.gather()
}

func (f Fact) usable() bool {
	for _, v := range []float64{f.HeadingDeg, f.COGDeg, f.SOGKn, f.ScatterSD, f.WaterKn.Val, f.Push.Val, f.TWADeg.Val} {
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

// leg begins a new leg where the fact belongs to one. A bow that turns while the
// course does not has not turned: the compass has.
func (l *Learner) leg(f Fact) {
	blind := !f.Push.OK
	turned := l.at == 0 || math.Abs(geo.Diff(l.cog, f.COGDeg)) > newLegDeg || f.T.Seconds(l.at) > pauseS
	if turned {
		l.same = false
	}
	if turned || blind != l.blind {
		sd := legSD
		if blind {
			sd = blindSD
		}
		l.each(func(k *filter) {
			k.renew(termLeg, sd*sd)
			k.renew(termLegKn, legKnSD*legKnSD)
		})
	}
	l.at, l.cog, l.blind = f.T, f.COGDeg, blind
}

// surprise is how far course less heading lies from what the terms give, degrees,
// and how each term weighs in it.
func (l *Learner) surprise(k *filter, f Fact) (float64, vector) {
	h := l.weights(k, f)
	return geo.Wrap180(geo.Diff(f.HeadingDeg, f.COGDeg) - dot(h, k.mean)), h
}

// weights are the slopes of course less heading by each term. A current turns the
// course by its part across it over the speed through the water.
func (l *Learner) weights(k *filter, f Fact) vector {
	sin, cos := math.Sincos(geo.Rad(f.HeadingDeg))
	cogSin, cogCos := math.Sincos(geo.Rad(f.COGDeg))
	ahead := float64(k.mean[termEast]*cogSin) + float64(k.mean[termNorth]*cogCos)
	water := math.Max(0.5*f.SOGKn, f.SOGKn-ahead)
	return vector{
		termA: 1, termB: sin, termC: cos, termLeeway: f.Push.Or(0) * l.usual.slide(f),
		termEast: geo.Deg(cogCos) / water, termNorth: -geo.Deg(cogSin) / water, termLeg: 1,
	}
}

// believe takes the fact in; one a little far off counts less.
func (l *Learner) believe(f Fact, z float64) {
	r := (f.variance() + l.sliding(f)) * math.Max(1, z/doubtful)
	l.facts++
	l.headings.add(f.HeadingDeg)
	for i := range l.kinds {
		k := &l.kinds[i]
		off, h := l.surprise(&k.filter, f)
		k.likely += k.filter.learn(h, off, r)
		k.likely += k.filter.speed(f)
	}
}

// hold keeps back a fact that cannot be, until it has proved lasting.
func (l *Learner) hold(f Fact, off float64) {
	if off*l.doubt < 0 || math.Abs(off) > farDeg {
		l.held = nil
	}
	l.doubt = off
	if math.Abs(off) > farDeg {
		l.askew.add(f.COGDeg, off)
		if by, ok := l.askew.angle(); ok {
			l.turned(by)
			l.askew, l.doubt, l.same = askew{}, 0, false
			l.gather()
		}
		return
	}
	if len(l.held) == 0 {
		l.abrupt = l.same
	}
	l.held = append(l.held, f)
	if len(l.held) < lasting {
		return
	}
	l.loosen(math.Abs(off))
	held := l.held
	l.held, l.doubt, l.same = nil, 0, true
	for _, f := range held {
		l.believe(f, 0)
	}
	l.gather()
}

// loosen widens what may have changed by so many degrees: the compass, or the
// current. On one leg no current changes from one fact to the next by more than a
// little; a magnet does.
func (l *Learner) loosen(byDeg float64) {
	v := float64(byDeg * byDeg)
	kn := geo.Rad(byDeg) * l.usual.kn(1)
	if l.abrupt {
		kn = math.Min(kn, abruptKn)
	}
	l.each(func(k *filter) {
		for _, i := range []int{termA, termB, termC} {
			k.loosen(i, v/2)
		}
		for _, i := range []int{termEast, termNorth} {
			k.loosen(i, float64(kn*kn)/2)
		}
	})
}
