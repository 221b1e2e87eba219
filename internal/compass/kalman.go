package compass

import "math"

// The terms of the model, in the order of the filter's numbers.
const (
	termA       = iota // degrees
	termB              // degrees, by the sine of the heading
	termC              // degrees, by the cosine
	termLeeway         // degrees to leeward, on a beat at her usual speed
	termEast           // knots of current
	termNorth          //
	termLog            // share by which the log reads too much
	termLeg            // degrees: whatever else turns the course on this leg
	termBeat           // knots through the water close-hauled
	termReach          // across the wind
	termRun            // before it
	termBeatBy         // knots she gains by bearing away ten degrees close-hauled
	termReachBy        // across the wind
	termRunBy          // before it
	termSided          // share by which she is faster on port tack than on the mean of both
	termLegKn          // knots: whatever else makes her faster on this leg
	terms
)

type vector [terms]float64

// filter is a Kalman filter with scalar observations: the mean of the terms and
// their covariance. Between facts each term forgets towards its prior.
type filter struct {
	mean, prior vector // expected values: now, and before any fact
	priorVar    vector
	open        vector // variance before the facts that count now: the prior's, and what a change opened
	forgetS     vector // time constants
	cov         [terms]vector
}

// newFilter knows its priors only: the standard deviation of A, B and C, and that of
// either part of the current.
func newFilter(compassDeg, currentKn float64) filter {
	sd := vector{
		termA: compassDeg, termB: compassDeg, termC: compassDeg, termLeeway: leewaySD,
		termEast: currentKn, termNorth: currentKn, termLog: logShare, termLeg: legSD,
		termBeat: paceSD, termReach: paceSD, termRun: paceSD,
		termBeatBy: bySD, termReachBy: bySD, termRunBy: bySD, termSided: sidedSD, termLegKn: legKnSD,
	}
	f := filter{prior: vector{termLeeway: leewayDeg, termBeat: paceKn, termReach: paceKn, termRun: paceKn}}
	walk := vector{
		termA: walkDeg, termB: walkDeg, termC: walkDeg, termLeeway: walkDeg, termEast: walkKn, termNorth: walkKn,
		termLog: walkShare, termLeg: legSD, termBeat: walkPaceKn, termReach: walkPaceKn, termRun: walkPaceKn,
		termBeatBy: walkByKn, termReachBy: walkByKn, termRunBy: walkByKn,
		termSided: walkShare, termLegKn: legKnSD,
	}
	for i, v := range sd {
		f.priorVar[i] = float64(v * v)
		f.cov[i][i] = f.priorVar[i]
		f.forgetS[i] = 2 * walkS * f.priorVar[i] / float64(walk[i]*walk[i])
	}
	f.mean, f.open = f.prior, f.priorVar
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
// means give, with the variance r of the observation. It returns the logarithm of
// how likely that was, up to a constant.
func (f *filter) learn(h vector, off, r float64) float64 {
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
	return -(float64(off*off/s) + math.Log(s)) / 2
}

// renew forgets term i altogether: it starts again with variance v.
func (f *filter) renew(i int, v float64) {
	for j := range terms {
		f.cov[i][j], f.cov[j][i] = 0, 0
	}
	f.mean[i], f.cov[i][i], f.priorVar[i] = f.prior[i], v, v
}

// loosen adds v to the variance of term i: it may have changed by so much.
func (f *filter) loosen(i int, v float64) {
	f.cov[i][i] += v
	f.open[i] += v
}

func dot(a, b vector) float64 {
	sum := 0.0
	for i := range a {
		sum += float64(a[i] * b[i])
	}
	return sum
}
