package compass

import "math"

// The terms of the model, in the order of the filter's numbers.
const (
	termA      = iota // degrees
	termB             // degrees, by the sine of the heading
	termC             // degrees, by the cosine
	termLeeway        // degrees to leeward, on a beat at her usual speed
	termEast          // knots of current
	termNorth         //
	termLog           // share by which the log reads too much
	termLeg           // degrees: whatever else turns the course on this leg
	terms
)

type vector [terms]float64

// filter is a Kalman filter with scalar observations: the mean of the terms and
// their covariance. Between facts each term forgets towards its prior.
type filter struct {
	mean, prior vector // expected values: now, and before any fact
	priorVar    vector
	forgetS     vector // time constants
	cov         [terms]vector
}

func newFilter() filter {
	f := filter{
		// Standard deviations are common practice, no source: a phone's compass is
		// off by five degrees or so, a dinghy makes three degrees of leeway, most
		// water that people learn on runs at less than half a knot.
		prior:    vector{termLeeway: 3},
		priorVar: vector{25, 25, 25, 9, 0.35 * 0.35, 0.35 * 0.35, 0.05 * 0.05, legSD * legSD},
		forgetS:  vector{7200, 7200, 7200, 1800, 5400, 5400, 7200, 600},
	}
	f.mean = f.prior
	for i, v := range f.priorVar {
		f.cov[i][i] = v
	}
	return f
}

// pass lets dt seconds go by: an Ornstein–Uhlenbeck step of each term.
func (f *filter) pass(dt float64) {
	if !(dt > 0) {
		return
	}
	var keep vector
	for i := range keep {
		keep[i] = math.Exp(-dt / f.forgetS[i])
		f.mean[i] = f.prior[i] + float64((f.mean[i]-f.prior[i])*keep[i])
	}
	for i := range keep {
		for j := range keep {
			f.cov[i][j] = float64(f.cov[i][j] * keep[i] * keep[j])
		}
		f.cov[i][i] += float64(f.priorVar[i] * (1 - float64(keep[i]*keep[i])))
	}
}

// spread is the variance of the terms' sum weighted by h.
func (f *filter) spread(h vector) float64 {
	return dot(h, f.times(h))
}

func (f *filter) times(h vector) vector {
	var out vector
	for i := range out {
		out[i] = dot(f.cov[i], h)
	}
	return out
}

// learn takes in that the terms' sum weighted by h differs by off from what the
// means give, with the variance r of the observation.
func (f *filter) learn(h vector, off, r float64) {
	ph := f.times(h)
	s := dot(h, ph) + r
	for i := range ph {
		f.mean[i] += float64(ph[i] / s * off)
	}
	for i := range ph {
		for j := range i + 1 {
			f.cov[i][j] -= float64(ph[i] * ph[j] / s)
			f.cov[j][i] = f.cov[i][j]
		}
		f.cov[i][i] = math.Max(f.cov[i][i], 1e-9)
	}
}

// renew forgets term i altogether: it starts again with variance v.
func (f *filter) renew(i int, v float64) {
	for j := range terms {
		f.cov[i][j], f.cov[j][i] = 0, 0
	}
	f.mean[i], f.cov[i][i], f.priorVar[i] = f.prior[i], v, v
}

func dot(a, b vector) float64 {
	sum := 0.0
	for i := range a {
		sum += float64(a[i] * b[i])
	}
	return sum
}
