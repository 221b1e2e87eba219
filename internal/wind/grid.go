package wind

import (
	"math"

	"helmcue/internal/geo"
)

// The circle is cut into bins of two degrees; bin i is centred on 2i degrees.
const (
	bins   = 180
	binDeg = 360.0 / bins
)

// How the wind changes by itself (common practice, no source): it wanders 10
// degrees in a quarter of an hour, root of mean square, and once in six hours it
// jumps to anywhere.
const (
	driftDeg2S = 10.0 * 10 / 900 // degrees squared a second
	jumpEveryS = 6 * 3600.0
	forgetS    = 4 * 3600.0 // after so long without a step all is forgotten
)

// grid is a probability for each bin, of sum 1. Facts multiply it, time spreads
// it: a histogram filter, which holds two-sided doubt as easily as a single peak.
type grid struct{ p [bins]float64 }

func (g *grid) clear() {
	for i := range g.p {
		g.p[i] = 1.0 / bins
	}
}

// spread lets the wind drift and jump for some seconds, drifting swing times as
// far as usual.
func (g *grid) spread(seconds, swing float64) {
	if seconds >= forgetS {
		g.clear()
		return
	}
	variance := driftDeg2S * seconds * swing * swing / (binDeg * binDeg)
	passes := math.Ceil(variance / 0.4)
	share := variance / passes / 2 // to each neighbour, at most 0.2
	for range int(passes) {
		g.pass(share)
	}
	g.doubt(1 - math.Exp(-seconds/jumpEveryS))
}

func (g *grid) pass(share float64) {
	first, before := g.p[0], g.p[bins-1]
	for i := range g.p {
		after := first
		if i+1 < bins {
			after = g.p[i+1]
		}
		here := g.p[i]
		g.p[i] = here + float64(share*(before-here)) + float64(share*(after-here))
		before = here
	}
}

// doubt mixes in a share of knowing nothing.
func (g *grid) doubt(share float64) {
	for i := range g.p {
		g.p[i] = float64(g.p[i]*(1-share)) + share/bins
	}
}

// multiply takes a fact: how likely it would be, for each direction of the wind.
// A fact that is impossible everywhere is left out.
func (g *grid) multiply(likely func(dirDeg float64) float64) {
	next := g.p
	total := 0.0
	for i := range next {
		next[i] *= likely(float64(i) * binDeg)
		total += next[i]
	}
	if !(total > 1e-200) || math.IsInf(total, 0) {
		return
	}
	for i := range next {
		g.p[i] = next[i] / total
	}
}

// near is the likelihood of a direction measured with a standard deviation, and
// a share of measurements that mean nothing. Its peak is 1 before the share.
func near(dirDeg, sdDeg, wild float64) func(float64) float64 {
	k := 1 / (geo.Rad(sdDeg) * geo.Rad(sdDeg))
	// Mass under the peak in degrees, so that the share of wild ones is a share.
	peak := math.Sqrt(2*math.Pi) * sdDeg
	floor := wild / (1 - wild) * peak / 360
	return func(d float64) float64 {
		return math.Exp(k*(math.Cos(geo.Rad(d-dirDeg))-1)) + floor
	}
}
