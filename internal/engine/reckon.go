package engine

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/polar"
)

// reckoning guesses the wind's speed where somebody told its direction and nobody
// its strength, as a tap with flapping sails does: the wind in which her polar
// gives the speed she reaches in her better moments. It starts from what people
// learn to sail in (common practice, no source) and stays doubtful; no warning
// about the wind's strength hangs on it.
type reckoning struct {
	off     float64 // knots from firstKn
	sailedS float64 // of sailing it stands on
	last    boat.Time
}

const (
	firstKn   = 8.0
	firstSD   = 4.0
	laterSD   = 2.5
	surerS    = 120.0
	quickS    = 60.0
	quickStep = 0.3  // knots a second, at first
	slowStep  = 0.05 // and later
	better    = 0.8  // she is slower than her better moments so much of the time
	weakestKn = 2.0
	strongKn  = 22.0
)

// fill completes a wind whose speed nobody told.
func (r *reckoning) fill(w boat.Wind) boat.Wind {
	if w.SpeedKn.OK || !w.Known {
		return w
	}
	w.Reckoned = true
	w.SpeedKn = boat.Some(firstKn + r.off).Round(0.1)
	w.SpeedSD = firstSD
	if r.sailedS > surerS {
		w.SpeedSD = laterSD
	}
	return w
}

// learn takes in a second of sailing on a course where speed tells the wind.
func (r *reckoning) learn(t boat.Time, p *polar.Polar, s boat.State, twa boat.Reading) {
	if t-r.last < secondMS {
		return
	}
	r.last = t
	a := math.Abs(twa.Val)
	if !twa.OK || !s.SpeedKn.OK || a < 40 || a > 130 {
		return
	}
	r.sailedS++
	step := slowStep
	if r.sailedS < quickS {
		step = quickStep
	}
	if s.SpeedKn.Val > p.Speed(firstKn+r.off, a) {
		r.off += float64(better * step)
	} else {
		r.off -= float64((1 - better) * step)
	}
	r.off = math.Min(strongKn-firstKn, math.Max(weakestKn-firstKn, r.off))
}
