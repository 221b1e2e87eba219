package shift

import (
	"math"

	"helmcue/internal/boat"
)

// What is taken for ordinary. Learners' helms and lake winds, common practice, no
// source; the test scale follows what is seen.
const (
	carry      = 0.7   // how much of a departure the next block keeps: swings of the helm over some 15 s
	calmDeg    = 5.0   // swings to either side that are no shift
	findDeg    = 10.0  // the shift that is to be found soon
	calmS      = 14400 // mean seconds of sailing between chance calls of the helm, to each side: half of one an hour in both; the swings are left the other half
	meanBlocks = 60.0  // the mean of the tack forgets over so many: five minutes
	warmBlocks = 8.0   // of a mean before it is relied on
	meanDoubt  = 8.0   // blocks that see no more of the swings than one does
	scale0     = 2.2   // degrees of surprise from block to block, at first
	lnScale0   = 0.04
	scaleLeast = 1.2
	scaleMost  = 5.0
	leastLift  = 4.0 // degrees below which a departure is over
	callLift   = 6.0 // degrees, meant since it began, below which it is not told
)

// sum is the cumulative-sum test of one tack against its own mean.
type sum struct {
	mean     float64 // degrees, relative to an origin that the owner keeps
	n        float64 // blocks in it
	lnKn     float64 // mean of her speed's logarithm
	lnLast   float64 // departure of the block before
	lnScale  float64 // typical surprise of it
	last     float64 // departure of the block before
	lastT    boat.Time
	scale    float64 // typical surprise, degrees
	up, down float64
	upT      boat.Time // since when the sum is above zero
	downT    boat.Time
}

func newSum() sum { return sum{scale: scale0, lnScale: lnScale0} }

// take follows one block's departure, lift positive, and returns +1 or -1 when the
// test calls a shift to that side, else 0. farDeg is how far swings are known to go.
func (s *sum) take(t boat.Time, x, lnKn, farDeg float64) int {
	if s.n == 0 {
		s.mean, s.lnKn = x, lnKn
	}
	off := x - s.mean
	surprise := off - float64(s.last*carry)
	if s.lastT == 0 || t.Seconds(s.lastT) > 3*blockS { // after a gap the swings may stand anywhere: that is no news
		surprise = 0
	}
	s.last, s.lastT = off, t
	// The mean of few blocks is itself in doubt.
	unit := s.scale * math.Sqrt(1+meanDoubt/math.Max(1, s.n))
	z := math.Max(-5, math.Min(5, surprise/unit))
	k := allowance(math.Max(calmDeg, farDeg), unit)
	if s.n >= warmBlocks {
		s.up, s.upT = climb(s.up, z-k, s.upT, t)
		s.down, s.downT = climb(s.down, -z-k, s.downT, t)
	}
	bar := Bar(k, calmS/blockS)
	s.learn(off, lnKn, surprise)
	switch {
	case s.up >= bar && off >= leastLift:
		return 1
	case s.down >= bar && -off >= leastLift:
		return -1
	}
	return 0
}

// allowance is the surprise that is written off in each block, in units: half-way
// between the swings and the shift to be found on top of half of them.
func allowance(farDeg, unit float64) float64 {
	k := (1 - carry) * (farDeg + findDeg) / 2 / unit
	return math.Max(0.25, math.Min(1.5, k))
}

func climb(sum, step float64, since, now boat.Time) (float64, boat.Time) {
	if sum <= 0 {
		since = now
	}
	return math.Max(0, math.Min(20, sum+step)), since
}

func (s *sum) learn(off, lnKn, surprise float64) {
	s.n = math.Min(meanBlocks, s.n+1)
	s.mean += off / s.n
	s.last -= off / s.n
	d := lnKn - s.lnKn
	s.lnKn += d / s.n
	if s.n < 3 {
		return
	}
	gust := math.Min(3*s.lnScale, math.Abs(d-float64(gustKeep()*s.lnLast)))
	s.lnScale += (float64(1.25*gust) - s.lnScale) / meanBlocks
	s.lnLast = d
	most := 3 * s.scale // what is to be found must not pass for what is usual
	a := 1.25 * math.Min(most, math.Abs(surprise))
	s.scale = math.Max(scaleLeast, math.Min(scaleMost, s.scale+(a-s.scale)/meanBlocks))
}

// restart begins a new mean at x with what is known of her speed.
func (s *sum) restart(x float64) {
	s.mean, s.n, s.last, s.up, s.down = x, warmBlocks/2, 0, 0, 0
}
