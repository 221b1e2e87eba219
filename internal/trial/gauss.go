package trial

import "math"

// A component is one independent part of a Gaussian state, in degrees. Exactly one
// way of changing holds: a walk, a swing with a period, or an Ornstein-Uhlenbeck
// process, which with tauS 0 is a constant.
type component struct {
	sdDeg    float64 // prior and, for the last two, for ever
	walk     float64 // variance gained, degrees squared a second
	periodS  float64 // of a swing of random phase; it takes two places in the state
	tauS     float64 // correlation time
	constant bool
}

func (c component) size() int {
	if c.periodS > 0 {
		return 2
	}
	return 1
}

// gauss is the covariance of a linear Gaussian filter that is told the noise as it
// really is. Its variances are those of the best estimate there can be: for a
// linear Gaussian model the Kalman covariance is the inverse of the posterior
// Fisher information, so the recursion gives the posterior Cramér–Rao bound
// (Tichavský, Muravchik and Nehorai 1998, IEEE Trans. Signal Processing 46,
// 1386–1396, their equation 21, reduces to it; from memory). The estimate itself
// is not needed: the covariance does not depend on what was measured.
type gauss struct {
	parts []component
	at    []int // where each part begins in the state
	n     int
	p     [][]float64
}

func newGauss(parts []component) *gauss {
	g := &gauss{parts: parts}
	for _, c := range parts {
		g.at = append(g.at, g.n)
		g.n += c.size()
	}
	g.p = make([][]float64, g.n)
	for i := range g.p {
		g.p[i] = make([]float64, g.n)
	}
	for k, c := range parts {
		for i := g.at[k]; i < g.at[k]+c.size(); i++ {
			g.p[i][i] = c.sdDeg * c.sdDeg
		}
	}
	return g
}

// step lets dt seconds pass.
func (g *gauss) step(dt float64) {
	for k, c := range g.parts {
		i := g.at[k]
		switch {
		case c.constant:
		case c.periodS > 0:
			g.rotate(i, 2*math.Pi*dt/c.periodS)
		case c.tauS > 0:
			f := math.Exp(-dt / c.tauS)
			g.scale(i, f)
			g.p[i][i] += c.sdDeg * c.sdDeg * (1 - f*f)
		}
		g.p[i][i] += c.walk * dt
	}
}

func (g *gauss) scale(i int, f float64) {
	for j := range g.n {
		g.p[i][j] *= f
		g.p[j][i] *= f
	}
}

// rotate turns the pair at i by an angle: P becomes R P R'.
func (g *gauss) rotate(i int, rad float64) {
	sin, cos := math.Sincos(rad)
	for j := range g.n {
		a, b := g.p[i][j], g.p[i+1][j]
		g.p[i][j], g.p[i+1][j] = cos*a-sin*b, sin*a+cos*b
	}
	for j := range g.n {
		a, b := g.p[j][i], g.p[j][i+1]
		g.p[j][i], g.p[j][i+1] = cos*a-sin*b, sin*a+cos*b
	}
}

// measure takes a measurement of row times state with noise of this variance.
func (g *gauss) measure(row []float64, variance float64) {
	ph := make([]float64, g.n)
	for i := range ph {
		for j, h := range row {
			ph[i] += g.p[i][j] * h
		}
	}
	s := variance
	for i, h := range row {
		s += h * ph[i]
	}
	for i := range g.n {
		for j := range g.n {
			g.p[i][j] -= ph[i] * ph[j] / s
		}
	}
}

// variance is that of row times state.
func (g *gauss) variance(row []float64) float64 {
	v := 0.0
	for i, a := range row {
		for j, b := range row {
			v += a * b * g.p[i][j]
		}
	}
	return math.Max(0, v)
}
