package boat

import "math"

// Mean returns the mean of what get reads of each item, absent where fewer than two
// thirds of the items have it.
func Mean[T any](items []T, get func(T) Reading) Reading {
	sum, n := 0.0, 0
	for _, it := range items {
		if r := get(it); r.OK {
			sum += r.Val
			n++
		}
	}
	if n == 0 || 3*n < 2*len(items) {
		return Reading{}
	}
	return Some(sum / float64(n))
}

// MeanSD returns Mean and the standard deviation about it, absent and 0 where there is
// no mean.
func MeanSD[T any](items []T, get func(T) Reading) (mean Reading, sd float64) {
	mean = Mean(items, get)
	if !mean.OK {
		return mean, 0
	}
	sum, n := 0.0, 0
	for _, it := range items {
		if r := get(it); r.OK {
			sum += float64((r.Val - mean.Val) * (r.Val - mean.Val))
			n++
		}
	}
	return mean, math.Sqrt(sum / float64(n))
}
