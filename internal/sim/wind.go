package sim

import (
	"math"
	"math/rand/v2"

	"helmcue/internal/geo"
)

// breeze is the true wind over the water at the boat: a mean, an oscillation, a
// slow drift, lasting shifts, the flutter and gusts of every real wind, and less of
// it in a lee. The current is beside it.
type breeze struct {
	of                   Wind
	meanDeg, phase       float64
	drift, flutter, gust noise

	currentEastMS, currentNorthMS float64

	slowDeg float64 // from, true, its flutter left out
	dirDeg  float64 // from, true, 0..360
	kn      float64
}

func newBreeze(r *rand.Rand, c Conditions) breeze {
	w := c.Wind
	b := breeze{
		of: w, meanDeg: geo.Wrap360(w.DirDeg + between(r, -12, 12)), phase: between(r, 0, 2*math.Pi),
		drift:   noise{sd: w.DriftDeg, tauS: or(w.DriftTauS, 1500)},
		flutter: settled(r, or(w.FlutterDeg, 2), 6), gust: settled(r, w.Gust, or(w.GustTauS, 25)),
	}
	set, ms := geo.Rad(c.Water.SetDeg), c.Water.DriftKn*geo.KnotMS
	b.currentEastMS, b.currentNorthMS = ms*math.Sin(set), ms*math.Cos(set)
	b.step(r, 0, moved{})
	return b
}

// moved is a step of the boat: how long it took and where it led.
type moved struct{ dt, eastM, northM float64 }

// step lets the wind blow on until t seconds after the start.
func (b *breeze) step(r *rand.Rand, t float64, m moved) {
	dt := m.dt
	swing := 0.0
	if b.of.PeriodS > 0 {
		swing = float64(b.of.SwingDeg * math.Sin(float64(2*math.Pi*t/b.of.PeriodS)+b.phase))
	}
	b.slowDeg = b.meanDeg + b.shifted(t) + swing + b.drift.step(r, dt)
	b.dirDeg = geo.Wrap360(b.slowDeg + b.flutter.step(r, dt))
	b.kn = float64(b.of.Kn * math.Max(0.2, 1+b.gust.step(r, dt)) * b.left(m.eastM, m.northM))
}

// shifted is how far the mean has gone by t.
func (b *breeze) shifted(t float64) float64 {
	sum := 0.0
	for _, s := range b.of.Shifts {
		sum += float64(s.Deg * clamp((t-s.AtS)/math.Max(1, s.InS), 0, 1))
	}
	return sum
}

// left is the share of the wind that reaches a place.
func (b *breeze) left(eastM, northM float64) float64 {
	share := 1.0
	for _, l := range b.of.Lees {
		d := math.Hypot(eastM-l.EastM, northM-l.NorthM) / l.RadiusM
		share *= mixed(l.Left, 1, clamp(d, 0, 1))
	}
	for _, r := range b.of.Rows {
		share *= r.left(Place{eastM, northM}, b.slowDeg)
	}
	return share
}

func mixed(a, b, share float64) float64 { return a + float64((b-a)*share) }
