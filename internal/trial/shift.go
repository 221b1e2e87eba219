package trial

import (
	"math"

	"helmcue/internal/geo"
)

// When a called shift counts as one that was there, and a shift as called (the
// first two are half of the least and of the usual shift that is worth a word:
// common practice, no source).
const (
	trueShiftDeg = 4.0
	lastingDeg   = 8.0
	nowS         = 20   // the wind now is its mean over so long
	agoS         = 600  // and before, over so long
	heardS       = 120. // a call later than this is about something else
)

// shifts scores the calls. One is false where the wind has not gone the called way
// by trueShiftDeg, its mean over the last 20 s against that over the ten minutes
// before them. A lasting shift is missed where no call of the right way
// comes within two minutes of it; it counts where she beats on one tack until then
// or until the call.
func (t *trip) shifts(s *Score, jumps []jump) {
	for _, m := range t.ms {
		if m.mode.Sailing() {
			s.Hours += 1.0 / 3600
		}
	}
	for _, c := range t.calls {
		if c.i < 0 || t.gone(c.i)*math.Copysign(1, c.lift*t.ms[max(0, c.i)].twa) < trueShiftDeg {
			s.False++
		}
	}
	for _, j := range jumps {
		if math.Abs(j.deg) >= lastingDeg && j.atS+heardS < float64(len(t.ms)) {
			t.lasting(s, j)
		}
	}
}

// gone is how far the wind has gone at moment i from what it was before, clockwise
// positive.
func (t *trip) gone(i int) float64 {
	from := max(0, i-nowS)
	now := t.windMean(from, i+1)
	before := t.windMean(max(0, from-agoS), from)
	return geo.Diff(before, now)
}

func (t *trip) windMean(from, to int) float64 {
	var d []float64
	for _, m := range t.ms[from:to] {
		d = append(d, m.twd)
	}
	mean, _, _ := geo.Mean(d)
	return mean
}

func (t *trip) lasting(s *Score, j jump) {
	i := int(j.atS)
	if !beating(t.ms, i) {
		return
	}
	for _, c := range t.calls {
		after := float64(c.i) - j.atS
		if after >= 0 && after <= heardS && c.lift*t.ms[i].twa*j.deg > 0 {
			s.Shifts++
			s.Delays = append(s.Delays, after)
			return
		}
	}
	for k := i; k < i+heardS; k++ {
		if !beating(t.ms, k) {
			return
		}
	}
	s.Shifts++
}
