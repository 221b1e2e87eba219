package wind

import (
	"math"

	"helmcue/internal/geo"
)

// Shapes looked for in the grid.
const (
	windowBins   = 10  // half of the window in which a lobe is weighed: 20 degrees
	lobeBins     = 22  // half of the stretch over which a lobe is averaged: 44 degrees
	apartDeg     = 60  // how far another solution must lie off
	otherShows   = 0.3 // another lobe shows from this share of the first one's mass
	otherGoes    = 0.2 // and goes under this one
	otherAtLeast = 0.2 // a lobe's mass; a flat grid has 0.12 in a window
	within       = 0.9
	sdOfWithin   = 1.645 // standard deviations on either side that hold 0.9 of a normal distribution
)

// belief is what a grid says.
type belief struct {
	dirDeg   float64 // mean of the heaviest lobe
	other    bool
	otherDeg float64
	loDeg    float64 // smallest arc with 0.9 of everything, dirDeg in it
	widthDeg float64
}

func (g *grid) belief(hadOther bool) belief {
	weight := g.windows()
	first := heaviest(weight, func(int) bool { return true })
	b := belief{dirDeg: g.lobe(first)}
	second := heaviest(weight, func(i int) bool {
		return math.Abs(geo.Diff(b.dirDeg, float64(i)*binDeg)) >= apartDeg
	})
	share := otherShows
	if hadOther {
		share = otherGoes
	}
	if w := weight[second]; w >= otherAtLeast && w >= share*weight[first] {
		b.other, b.otherDeg = true, g.lobe(second)
	}
	b.loDeg, b.widthDeg = g.arc(b.dirDeg)
	return b
}

// windows returns the mass round each bin.
func (g *grid) windows() [bins]float64 {
	var out [bins]float64
	for i := range out {
		for d := -windowBins; d <= windowBins; d++ {
			out[i] += g.p[(i+d+bins)%bins]
		}
	}
	return out
}

// heaviest returns the first bin with the most weight among those that may be
// taken. Weights are compared in millionths, so that rounding never chooses.
func heaviest(weight [bins]float64, may func(int) bool) int {
	best, most := 0, -1.0
	for i, w := range weight {
		if q := math.Round(w * 1e6); q > most && may(i) {
			best, most = i, q
		}
	}
	return best
}

// lobe returns the mean of the stretch round a bin, moved onto itself until it
// stays.
func (g *grid) lobe(i int) float64 {
	for range 8 {
		mass, moment := 0.0, 0.0
		for d := -lobeBins; d <= lobeBins; d++ {
			p := g.p[(i+d+bins)%bins]
			mass += p
			moment += float64(float64(d) * p)
		}
		off := moment / mass
		step := int(math.Round(off))
		if step == 0 {
			return geo.Wrap360((float64(i) + off) * binDeg)
		}
		i = (i + step + bins) % bins
	}
	return geo.Wrap360(float64(i) * binDeg)
}

// arc returns the smallest arc that holds 0.9 of everything, from where and how
// wide, looked for in steps of half a degree. Of arcs equally small the one
// centred best on dirDeg is taken, and dirDeg is in it.
func (g *grid) arc(dirDeg float64) (loDeg, widthDeg float64) {
	const parts = 4 // steps a bin
	var sums [2*bins*parts + 1]float64
	for i := range sums[1:] {
		sums[i+1] = sums[i] + g.p[(i/parts)%bins]/parts
	}
	best := math.Inf(1)
	end := 0
	for start := range bins * parts {
		for sums[end] < sums[start]+within {
			end++
		}
		over := (sums[end] - sums[start] - within) / (sums[end] - sums[end-1])
		width := (float64(end-start) - over) * binDeg / parts
		lo := float64(start)*binDeg/parts - binDeg/2
		score := width + 0.002*math.Abs(geo.Diff(dirDeg, lo+width/2))
		if score < best {
			best, loDeg, widthDeg = score, lo, width
		}
	}
	return hold(geo.Wrap360(loDeg), widthDeg, dirDeg)
}

// hold widens the arc until dirDeg is in it.
func hold(loDeg, widthDeg, dirDeg float64) (lo, width float64) {
	into := geo.Wrap360(dirDeg - loDeg)
	if into <= widthDeg {
		return loDeg, widthDeg
	}
	if 360-into < into-widthDeg {
		return dirDeg, widthDeg + 360 - into
	}
	return loDeg, into
}
