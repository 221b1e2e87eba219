package compass

import (
	"math"

	"helmcue/internal/geo"
)

// Priors (common practice, no source). Nobody tells whether the phone lies beside
// a loudspeaker or whether the water runs; one wide prior for both would mend good
// compasses by the tide. So four kinds of boat are thought of at once, and what
// they say counts by how well they foretold the facts.
const (
	goodDeg   = 4.0 // a phone lying well: the standard deviation of A, B and C
	badDeg    = 12.0
	badShare  = 0.25
	stillKn   = 0.3 // a lake or a pool: of either part of the current
	tidalKn   = 1.0
	tideShare = 0.35
	leewayDeg = 4.5
	leewaySD  = 3.0
	logShare  = 0.05
	paceKn    = 4.0 // she may sail at any speed
	paceSD    = 3.0
	bySD      = 0.4  // of what ten degrees nearer to the wind or farther off do to it
	sidedSD   = 0.05 // people sail one tack better than the other
	legKnSD   = 0.35

	// How far each wanders in walkS seconds, and is forgotten by it.
	walkS      = 600.0
	walkDeg    = 0.7
	walkKn     = 0.1
	walkPaceKn = 0.5 // with the wind
	walkByKn   = 0.1
	walkShare  = 0.02
	opinionS   = 3600.0 // what kind of boat it is may change: a phone is moved, the tide sets in
	// However badly a kind foretold, it may be asked again later.
	leastLikely = -8.0
)

// kind is one set of priors and what the facts made of it.
type kind struct {
	filter filter
	tidal  bool
	prior  float64 // logarithm of its weight before any fact
	likely float64 // and now
}

func kinds() []kind {
	var out []kind
	for _, c := range [][2]float64{{goodDeg, 1 - badShare}, {badDeg, badShare}} {
		for _, w := range [][2]float64{{stillKn, 1 - tideShare}, {tidalKn, tideShare}} {
			prior := math.Log(c[1] * w[1])
			out = append(out, kind{newFilter(c[0], w[0]), w[0] == tidalKn, prior, prior})
		}
	}
	return out
}

func (l *Learner) each(do func(*filter)) {
	for i := range l.kinds {
		do(&l.kinds[i].filter)
	}
}

// pass lets dt seconds go by.
func (k *kind) pass(dt float64) {
	k.filter.pass(dt)
	k.likely = k.prior + float64((k.likely-k.prior)*math.Exp(-dt/opinionS))
}

// shares levels the weights of the kinds and returns them, with a sum of one.
func (l *Learner) shares() []float64 {
	most := math.Inf(-1)
	for _, k := range l.kinds {
		most = math.Max(most, k.likely)
	}
	out, sum := make([]float64, len(l.kinds)), 0.0
	for i := range l.kinds {
		k := &l.kinds[i]
		k.likely = math.Max(leastLikely, k.likely-most)
		out[i] = math.Exp(k.likely)
		sum += out[i]
	}
	for i := range out {
		out[i] /= sum
	}
	return out
}

// gather works out the mean and the covariance of all kinds together, and what of
// the compass error is proved: what is left for the compass even if the water runs.
// On one heading nothing is.
func (l *Learner) gather() {
	shares := l.shares()
	b := &l.belief
	b.mean, b.cov, l.proved = vector{}, [terms]vector{}, [3]float64{}
	tidal := 0.0
	for n, k := range l.kinds {
		for i := range b.mean {
			b.mean[i] += float64(shares[n] * k.filter.mean[i])
		}
		if k.tidal {
			tidal += shares[n]
		}
	}
	for n, k := range l.kinds {
		if !k.tidal {
			continue
		}
		for i, v := range k.filter.proved(l.headings.spread()) {
			l.proved[i] += float64(shares[n] / tidal * v)
		}
	}
	for n, k := range l.kinds {
		for i := range b.mean {
			for j := range b.mean {
				apart := float64((k.filter.mean[i] - b.mean[i]) * (k.filter.mean[j] - b.mean[j]))
				b.cov[i][j] += float64(shares[n] * (k.filter.cov[i][j] + apart))
			}
		}
	}
}

// proved is the part of A, B and C that the facts, not the prior, say how large it
// is: the estimate shrunk once more by how much of its first doubt is left. A prior
// wider than this compass's error then does no harm.
func (f *filter) proved(spread float64) [3]float64 {
	var out [3]float64
	for i := range out {
		v := f.mean[i] - f.prior[i]
		for j := range out {
			v -= float64(f.cov[i][j] / math.Max(f.open[j], f.cov[j][j]) * (f.mean[j] - f.prior[j]))
		}
		out[i] = f.prior[i] + float64(v*spread)
	}
	return out
}

// headings is how far the facts' headings lie apart.
type headings struct{ sin, cos, n float64 }

const (
	headingsKeep = 0.99 // of each for every new one
	swaySpread   = 0.03 // of one heading, steered by a person
	wideSpread   = 0.25 // beyond that; two tacks ninety degrees apart have more
)

func (h *headings) add(deg float64) {
	sin, cos := math.Sincos(geo.Rad(deg))
	h.sin = float64(h.sin*headingsKeep) + sin
	h.cos = float64(h.cos*headingsKeep) + cos
	h.n = float64(h.n*headingsKeep) + 1
}

// spread is 0 for one heading and 1 from two tacks on.
func (h *headings) spread() float64 {
	if h.n == 0 {
		return 0
	}
	return math.Max(0, math.Min(1, (1-math.Hypot(h.sin, h.cos)/h.n-swaySpread)/wideSpread))
}
