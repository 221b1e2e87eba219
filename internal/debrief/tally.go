package debrief

import (
	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// tally is a running mean of readings; absent ones do not count.
type tally struct {
	sum float64
	n   int
}

func (a *tally) add(r boat.Reading) {
	if r.OK {
		a.sum += r.Val
		a.n++
	}
}

func (a tally) mean() boat.Reading {
	if a.n == 0 {
		return boat.Reading{}
	}
	return boat.Some(a.sum / float64(a.n))
}

// direction is the circular mean of directions, absent where they cancel out.
func direction(deg []float64) boat.Reading {
	mean, _, ok := geo.Mean(deg)
	if !ok {
		return boat.Reading{}
	}
	return boat.Some(mean)
}
