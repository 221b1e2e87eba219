package wind

import (
	"math"

	"helmcue/internal/geo"
)

// Shapes looked for in the grid.
const (
	windowBins   = 10  // half of the window in which a lobe is weighed: 20 degrees
	lobeDeg      = 60  // how far on either side a lobe is averaged
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
	first := heaviest(weight, 0, 0)
	b := belief{dirDeg: g.lobe(first)}
	second := heaviest(weight, b.dirDeg, apartDeg)
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
	sum := 0.0
	for d := -windowBins; d <= windowBins; d++ {
		sum += g.p[wrap(d)]
	}
	for i := range out {
		out[i] = sum
		sum += g.p[wrap(i+1+windowBins)] - g.p[wrap(i-windowBins)]
	}
	return out
}

// wrap turns a bin's number, less than one circle off, into 0 to bins-1. It spares
// the division.
func wrap(i int) int {
	switch {
	case i < 0:
		return i + bins
	case i >= bins:
		return i - bins
	}
	return i
}

// heaviest returns the first bin with the most weight among those at least
// apartDeg from a direction, or among all where apartDeg is 0. Weights are compared
// in millionths, so that rounding never chooses.
func heaviest(weight [bins]float64, fromDeg, apartDeg float64) int {
	best, most := 0, -1.0
	for i, w := range weight {
		if w <= most || math.Round(w*1e6) <= math.Round(most*1e6) {
			continue
		}
		if apartDeg == 0 || math.Abs(geo.Diff(fromDeg, float64(i)*binDeg)) >= apartDeg {
			best, most = i, w
		}
	}
	return best
}

// lobe returns the mean of the hump round a bin, with weights that fall to nothing
// lobeDeg away, moved onto itself until it stays.
func (g *grid) lobe(i int) float64 {
	const reach = int(lobeDeg / binDeg)
	at := float64(i) * binDeg
	for range 40 {
		middle := int(math.Round(at / binDeg))
		mass, moment := 0.0, 0.0
		for k := middle - reach; k <= middle+reach; k++ {
			d := float64(float64(k)*binDeg) - at
			u := 1 - float64(d*d)/(lobeDeg*lobeDeg)
			if u <= 0 {
				continue
			}
			w := g.p[wrap(wrap(k))] * u * u
			mass += w
			moment += float64(w * d)
		}
		if !(mass > 0) {
			break
		}
		at += moment / mass
		if math.Abs(moment/mass) < 0.005 {
			break
		}
	}
	return geo.Wrap360(at)
}

// arc returns the smallest arc that holds 0.9 of everything, from where and how
// wide, looked for in steps of a degree. Of arcs equally small the one centred
// best on dirDeg is taken, and dirDeg is in it.
func (g *grid) arc(dirDeg float64) (loDeg, widthDeg float64) {
	const parts = 2 // steps a bin
	const step = binDeg / parts
	// The circle is rolled out from opposite dirDeg on, one and a half times round.
	first := wrap(int(math.Round(dirDeg/binDeg))) + bins/2
	var sums [bins*parts*2 + 1]float64
	for i := range bins * 2 {
		p := g.p[wrap(wrap(first+i-bins))] / parts
		for j := range parts {
			k := i*parts + j
			sums[k+1] = sums[k] + p
		}
	}
	origin := float64(float64(first-bins)*binDeg) - binDeg/2
	middle := geo.Wrap360(dirDeg - origin)
	best, end := math.Inf(1), 0
	for start := range bins * parts {
		for sums[end] < sums[start]+within {
			end++
		}
		if float64(end-start-1)*step > best { // wider, whatever the part of the last step
			continue
		}
		over := (sums[end] - sums[start] - within) / (sums[end] - sums[end-1])
		width := (float64(end-start) - over) * step
		lo := float64(start) * step
		if score := width + float64(0.002*math.Abs(lo+width/2-middle)); score < best {
			best, loDeg, widthDeg = score, origin+lo, width
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
