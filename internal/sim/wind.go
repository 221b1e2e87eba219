package sim

import (
	"math"
	"math/rand/v2"

	"helmcue/internal/geo"
)

// breeze is the true wind over the water at the boat: a mean, an oscillation, a
// slow drift, and the flutter and gusts of every real wind. There is no current,
// so over water and over ground are the same.
type breeze struct {
	meanDeg, swingDeg, periodS, phase float64
	meanKn                            float64
	drift, flutter, gust              noise

	dirDeg float64 // from, true, 0..360
	kn     float64
}

func newBreeze(r *rand.Rand, sc scene) breeze {
	b := breeze{
		meanDeg: geo.Wrap360(sc.dirDeg + between(r, -12, 12)), swingDeg: sc.swingDeg, periodS: sc.periodS,
		phase: between(r, 0, 2*math.Pi), meanKn: sc.kn,
		drift: noise{sd: sc.driftDeg, tauS: 1500}, flutter: settled(r, 2, 6), gust: settled(r, sc.gust, 25),
	}
	b.step(r, 0, 0)
	return b
}

func (b *breeze) step(r *rand.Rand, t, dt float64) {
	swing := float64(b.swingDeg * math.Sin(float64(2*math.Pi*t/b.periodS)+b.phase))
	b.dirDeg = geo.Wrap360(b.meanDeg + swing + b.drift.step(r, dt) + b.flutter.step(r, dt))
	b.kn = float64(b.meanKn * math.Max(0.2, 1+b.gust.step(r, dt)))
}
