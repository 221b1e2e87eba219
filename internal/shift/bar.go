package shift

import "math"

// Siegmund's correction for the overshoot of the bar, in standard deviations
// (Siegmund, Sequential Analysis, 1985; from memory).
const overshoot = 1.166

// RunLength is the mean number of independent steps until a one-sided
// cumulative-sum test with allowance k and bar h calls, where the steps have mean
// mu and a standard deviation of one; k, h and mu in standard deviations, h above
// zero. Siegmund's approximation, good to a few per cent where k is 0.25 to 1.5.
func RunLength(mu, k, h float64) float64 {
	d, b := mu-k, h+overshoot
	if math.Abs(d) < 1e-6 {
		return b * b
	}
	return (math.Exp(-2*d*b) + float64(2*d*b) - 1) / (2 * d * d)
}

// Bar is the height of a one-sided cumulative-sum test with allowance k, in
// standard deviations, that calls once in steps by chance: the inverse of
// RunLength at mean zero. It is not below 0.5.
func Bar(k, steps float64) float64 {
	lo, hi := 0.5, 40.0
	for range 50 {
		mid := (lo + hi) / 2
		if RunLength(0, k, mid) < steps {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}
