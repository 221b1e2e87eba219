package cue

import "helmcue/internal/boat"

// spell is a condition and since when it has held without a break.
type spell struct {
	on    bool
	since boat.Time
}

// see notes whether the condition holds at t.
func (s *spell) see(t boat.Time, on bool) {
	if on && !s.on {
		s.since = t
	}
	s.on = on
}

// lasted says whether it has held for sec seconds.
func (s *spell) lasted(t boat.Time, sec float64) bool {
	return s.on && t.Seconds(s.since) >= sec
}
