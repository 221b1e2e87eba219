package geo

import "math"

// undefinedR is the resultant length below which directions cancel out and the
// mean is rounding, not direction.
const undefinedR = 1e-9

// Mean returns the circular mean of directions, degrees 0 to 360, and their mean
// resultant length R, 0 (spread all round) to 1 (all equal). ok is false where
// there is no mean: no directions, or directions that cancel out, as 0 and 180 do.
// Source: Mardia and Jupp, Directional Statistics, 2000, chapter 2.
func Mean(deg []float64) (meanDeg, r float64, ok bool) {
	var s, c float64
	for _, d := range deg {
		sin, cos := math.Sincos(Rad(d))
		s += sin
		c += cos
	}
	if len(deg) == 0 {
		return 0, 0, false
	}
	r = math.Min(1, math.Hypot(s, c)/float64(len(deg)))
	if !(r > undefinedR) {
		return 0, 0, false
	}
	return Wrap360(Deg(math.Atan2(s, c))), r, true
}

// CircularSD returns the circular standard deviation, degrees, of directions
// with mean resultant length r: sqrt(-2 ln r) radians. It grows without limit as
// r goes to 0 and is +Inf there.
func CircularSD(r float64) float64 {
	if r >= 1 {
		return 0
	}
	return Deg(math.Sqrt(-2 * math.Log(math.Max(r, 0))))
}

// Kappa returns the concentration of the von Mises distribution with mean
// resultant length r: the k for which I1(k)/I0(k) = r (maximum likelihood,
// Mardia and Jupp 2000, section 5.3). r must be 0 <= r < 1; 1 gives +Inf.
func Kappa(r float64) float64 {
	switch {
	case !(r > 0):
		return 0
	case r >= 1:
		return math.Inf(1)
	}
	k := r * (2 - float64(r*r)) / (1 - float64(r*r)) // Banerjee et al. 2005, good to a few per cent
	for range 20 {
		a := Resultant(k)
		k = math.Max(k/2, k-(a-r)/(1-a/k-float64(a*a)))
	}
	return k
}

// Resultant returns I1(k)/I0(k), the mean resultant length of a von Mises
// distribution of concentration k >= 0.
func Resultant(k float64) float64 {
	if k > 1e4 {
		return 1 - 1/(2*k) - 1/(8*k*k)
	}
	// Gauss's continued fraction from the tail: 1/(2/k + 1/(4/k + 1/(6/k + ...))).
	terms := 30 + int(3*math.Sqrt(k)) + int(k/2)
	v := 0.0
	for n := terms; n >= 1; n-- {
		v = k / (float64(2*n) + float64(k*v))
	}
	return v
}
