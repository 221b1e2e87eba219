package compass

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// shakeSD is what a compass is off for a moment, in waves, degrees (common
// practice, no source); the variation's own doubt is in it.
const shakeSD = 1.5

// Deviation returns the part of the compass error that the facts prove, to be
// added to what the compass shows.
func (l *Learner) Deviation() boat.Deviation {
	return boat.Deviation{ADeg: l.proved[0], BDeg: l.proved[1], CDeg: l.proved[2]}
}

// SD is the standard deviation of the heading after d was added to it, degrees,
// where the compass shows headingDeg. It holds what was not added, and what a fact
// not yet believed speaks of.
func (l *Learner) SD(headingDeg float64, d boat.Deviation) float64 {
	f := &l.belief
	sin, cos := math.Sincos(geo.Rad(headingDeg))
	h := [3]float64{1, sin, cos} // of A, B and C
	left, v := -d.At(headingDeg), shakeSD*shakeSD
	for i := range h {
		left += float64(h[i] * f.mean[i])
		for j := range h {
			v += float64(h[i] * h[j] * f.cov[i][j])
		}
	}
	v += float64(left * left)
	return math.Min(180, math.Max(math.Sqrt(v), math.Abs(l.doubt)))
}

// Leeway returns the leeway on a beat at her usual speed, degrees, and its
// standard deviation.
func (l *Learner) Leeway() (deg, sd float64) {
	f := &l.belief
	return f.mean[termLeeway], math.Sqrt(f.cov[termLeeway][termLeeway])
}

// Current returns where the water goes, with the standard deviation of either
// part.
func (l *Learner) Current() boat.Current {
	f := &l.belief
	return boat.Current{
		EastKn: f.mean[termEast], NorthKn: f.mean[termNorth],
		SDKn: math.Sqrt(math.Max(f.cov[termEast][termEast], f.cov[termNorth][termNorth])), OK: l.facts > 0,
	}
}
