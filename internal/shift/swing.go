package shift

import (
	"math"
	"slices"

	"helmcue/internal/boat"
)

const (
	swingBlocks = 120.0 // the mean that swings are measured about forgets over ten minutes
	flipDeg     = 1.5   // beyond the mean before a swing is on the other side
	flipsKept   = 6
	usualMost   = 1.5
	flipsLeast  = 4
	unevenMost  = 2.5  // longest over shortest half of a swing
	halfLeastS  = 30.0 // shorter is the helm
	halfMostS   = 450.0
)

// swing learns how far and how fast the wind goes back and forth.
type swing struct {
	smooth float64
	side   int
	peak   float64
	at     boat.Time // of the last block
	flips  []flip
}

// slow is the mean that swings are measured about.
type slow struct{ mean, n, square float64 }

// off takes a direction into the mean and returns how far it is off.
func (m *slow) off(x float64) float64 {
	m.n = math.Min(swingBlocks, m.n+1)
	m.mean += (x - m.mean) / m.n
	off := x - m.mean
	most := float64(usualMost*math.Sqrt(m.square)) + 1 // what is to be found must not pass for what is usual
	part := math.Min(most, math.Abs(off))
	m.square += (float64(part*part) - m.square) / math.Min(m.n, swingBlocks/2)
	return off
}

// far is how far the wind and the helm together swing to either side, degrees: the
// amplitude of a sine that scatters as much. It is known sooner than the period.
func (m *slow) far() float64 { return math.Sqrt(2 * m.square) }

// flip is a crossing of the mean.
type flip struct {
	t    boat.Time
	peak float64 // how far it had gone before
}

// take follows one block; off is the departure of the wind from its slow mean,
// clockwise, whatever the tack.
func (w *swing) take(t boat.Time, off float64) {
	if w.at != 0 && t.Seconds(w.at) > 180 {
		*w = swing{}
	}
	w.at = t
	w.smooth += float64(0.3 * (off - w.smooth))
	off = w.smooth
	w.peak = math.Max(w.peak, math.Abs(off))
	side := 0
	if math.Abs(off) > flipDeg {
		side = int(math.Copysign(1, off))
	}
	if side == 0 || side == w.side {
		return
	}
	if w.side != 0 {
		w.flips = append(w.flips, flip{t, w.peak})
		w.flips = w.flips[max(0, len(w.flips)-flipsKept):]
	}
	w.side, w.peak = side, math.Abs(off)
}

// known returns period and size of the swings, absent before several were seen
// that are alike.
func (w *swing) known() (periodS, swingDeg boat.Reading) {
	if len(w.flips) < flipsLeast {
		return boat.Reading{}, boat.Reading{}
	}
	var halves, peaks []float64
	for i := 1; i < len(w.flips); i++ {
		halves = append(halves, w.flips[i].t.Seconds(w.flips[i-1].t))
		peaks = append(peaks, w.flips[i].peak)
	}
	least, most := slices.Min(halves), slices.Max(halves)
	if least < halfLeastS || most > halfMostS || most > unevenMost*least {
		return boat.Reading{}, boat.Reading{}
	}
	return boat.Some(2 * average(halves)), boat.Some(average(peaks))
}

func average(xs []float64) float64 {
	sum := 0.0
	for _, x := range xs {
		sum += x
	}
	return sum / float64(len(xs))
}
