package trial

import "math"

// Errors are counted in bins of a tenth of a degree, so that sessions add up and
// quantiles of all of them can be told.
const (
	binsADeg = 10
	mostDeg  = 180
)

// Errors is a count of unsigned errors, 0 to 180 degrees. The zero Errors is empty.
type Errors struct {
	n      int
	square float64
	bins   [mostDeg*binsADeg + 1]int32
}

// Add takes one error, degrees, of either sign.
func (e *Errors) Add(deg float64) {
	a := math.Min(mostDeg, math.Abs(deg))
	e.n++
	e.square += a * a
	e.bins[int(a*binsADeg)]++
}

// Merge adds another count.
func (e *Errors) Merge(o *Errors) {
	e.n += o.n
	e.square += o.square
	for i, n := range o.bins {
		e.bins[i] += n
	}
}

// N is how many errors were taken.
func (e *Errors) N() int { return e.n }

// RMS is the root of the mean square, degrees; NaN where there are none.
func (e *Errors) RMS() float64 { return math.Sqrt(e.square / float64(e.n)) }

// Quantile is the error that a share q (0 to 1) of them do not exceed, to half a
// bin; NaN where there are none.
func (e *Errors) Quantile(q float64) float64 {
	if e.n == 0 {
		return math.NaN()
	}
	left := int(math.Ceil(q * float64(e.n)))
	for i, n := range e.bins {
		if left -= int(n); left <= 0 {
			return (float64(i) + 0.5) / binsADeg
		}
	}
	return mostDeg
}
