package compass

import (
	"math"

	"helmcue/internal/geo"
)

// The speed over the ground tells the current along the course, where the speed
// through the water is known: by a log, or because she sailed the same angle to the
// wind on other courses. This is what tells a current from B and C. Figures are
// common practice, no source.
const (
	logSDKn   = 0.15 // log and receiver against each other, in the mean of a fact
	paceShare = 0.15 // gusts, trim and how far she has got up her speed, in the mean of a fact
	beatDeg   = 65.0 // as far off the wind is a beat
	runDeg    = 125.0
)

// speed takes in the speed over the ground and returns the logarithm of how likely
// it was. A speed far from the expected (weed on the log, a motor) counts little.
func (f *filter) speed(a Fact) float64 {
	h, v, ok := f.pace(a)
	if !ok {
		return 0
	}
	sin, cos := math.Sincos(geo.Rad(a.COGDeg))
	h[termEast], h[termNorth] = sin, cos
	off := a.SOGKn - dot(h, f.mean)
	if h[termLog] != 0 {
		off -= a.WaterKn.Val
	}
	v *= math.Max(1, float64(off*off)/(4*(f.spread(h)+v)))
	return f.learn(h, off, v)
}

// pace is how the terms make up her speed through the water, and the variance of
// what they leave out.
func (f *filter) pace(a Fact) (h vector, v float64, ok bool) {
	if a.WaterKn.OK && a.WaterKn.Val >= leastKn {
		h[termLog] = -a.WaterKn.Val
		return h, logSDKn * logSDKn, true
	}
	if !a.TWADeg.OK {
		return h, 0, false
	}
	at, by, mid := termReach, termReachBy, 95.0
	off := math.Abs(geo.Wrap180(a.TWADeg.Val))
	switch {
	case off < beatDeg:
		at, by, mid = termBeat, termBeatBy, 48
	case off > runDeg:
		at, by, mid = termRun, termRunBy, 155
	}
	side := -1.0 // starboard tack
	if geo.Wrap180(a.TWADeg.Val) < 0 {
		side = 1
	}
	h[at], h[by], h[termSided], h[termLegKn] = 1, (off-mid)/10, float64(side*a.SOGKn), 1
	sd := math.Hypot(0.1, float64(paceShare*a.SOGKn))
	return h, float64(sd * sd), true
}
