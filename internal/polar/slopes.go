package polar

import "math"

// slopes returns slopes at the knots for which the cubic between them rises and
// falls only where the table does: weighted harmonic means (Fritsch and Butland
// 1984, SIAM J. Sci. Stat. Comput. 5, 300-304) inside, a limited three-point
// difference at the ends.
func slopes(x, y []float64) []float64 {
	n := len(x)
	out := make([]float64, n)
	if n < 2 {
		return out
	}
	h, d := make([]float64, n-1), make([]float64, n-1)
	for i := range d {
		h[i] = x[i+1] - x[i]
		d[i] = (y[i+1] - y[i]) / h[i]
	}
	if n == 2 {
		out[0], out[1] = d[0], d[0]
		return out
	}
	for i := 1; i < n-1; i++ {
		if d[i-1]*d[i] > 0 {
			w1, w2 := float64(2*h[i])+h[i-1], h[i]+float64(2*h[i-1])
			out[i] = (w1 + w2) / (w1/d[i-1] + w2/d[i])
		}
	}
	out[0] = endSlope(h[0], h[1], d[0], d[1])
	out[n-1] = endSlope(h[n-2], h[n-3], d[n-2], d[n-3])
	return out
}

// endSlope is the slope at an end whose first interval has width h0 and rise d0.
func endSlope(h0, h1, d0, d1 float64) float64 {
	s := (float64((float64(2*h0)+h1)*d0) - float64(h0*d1)) / (h0 + h1)
	switch {
	case s*d0 <= 0:
		return 0
	case d0*d1 < 0 && math.Abs(s) > 3*math.Abs(d0):
		return 3 * d0
	}
	return s
}
