package compass

import (
	"math"

	"helmcue/internal/geo"
)

// askew gathers facts in which the course lies far from the bow. On one heading a
// strong stream may do that. On headings that differ a stream points elsewhere each
// time; what stays the same is a phone that was not laid along the boat.
type askew struct {
	headings headings
	sin, cos float64
}

const (
	askewFacts = 4
	askewDeg   = 12.0 // circular standard deviation of the same angle
	askewSD    = 10.0
)

func (a *askew) add(cogDeg, offDeg float64) {
	a.headings.add(cogDeg)
	sin, cos := math.Sincos(geo.Rad(offDeg))
	a.sin = float64(a.sin*headingsKeep) + sin
	a.cos = float64(a.cos*headingsKeep) + cos
}

// angle is how far the phone is turned in the boat, degrees, where that is proved.
func (a *askew) angle() (float64, bool) {
	n := a.headings.n
	if n < askewFacts-0.5 || a.headings.spread() < 0.5 {
		return 0, false
	}
	if geo.CircularSD(math.Hypot(a.sin, a.cos)/n) > askewDeg {
		return 0, false
	}
	return geo.Deg(math.Atan2(a.sin, a.cos)), true
}

// turned opens all terms of the compass about a phone turned by so many degrees.
func (l *Learner) turned(byDeg float64) {
	l.each(func(k *filter) {
		for _, i := range []int{termA, termB, termC} {
			k.loosen(i, askewSD*askewSD)
		}
		k.mean[termA] = geo.Wrap180(k.mean[termA] + byDeg)
		k.prior[termA] = k.mean[termA]
	})
}
