package wind

import (
	"math"

	"helmcue/internal/boat"
)

// How the wind's speed changes by itself, and when it is forgotten (common
// practice, no source): 3 knots in a quarter of an hour, root of mean square.
const (
	gustKn2S   = 3.0 * 3 / 900 // knots squared a second
	forgetKn   = 6.0           // standard deviation beyond which nothing is known
	surpriseSD = 3.0           // a value further off than this replaces what was believed
)

// strength is the believed speed of the wind, a normal distribution.
type strength struct {
	kn, variance float64
	ok           bool
	at           boat.Time
}

// step lets the speed wander until t.
func (s *strength) step(t boat.Time) {
	if !s.ok || t <= s.at {
		return
	}
	s.variance += float64(gustKn2S * t.Seconds(s.at))
	s.at = t
	if s.variance > forgetKn*forgetKn {
		*s = strength{}
	}
}

// take joins a measured speed to what was believed. One that contradicts it is
// taken as it is: the wind has changed, or the last value was wrong.
func (s *strength) take(t boat.Time, kn, sdKn float64) {
	s.step(t)
	noise := sdKn * sdKn
	off := kn - s.kn
	if !s.ok || math.Abs(off) > surpriseSD*math.Sqrt(s.variance+noise) {
		at := t
		if s.ok && s.at > t {
			at = s.at
		}
		*s = strength{kn: kn, variance: noise, ok: true, at: at}
		return
	}
	gain := s.variance / (s.variance + noise)
	s.kn += float64(gain * off)
	s.variance *= 1 - gain
}
