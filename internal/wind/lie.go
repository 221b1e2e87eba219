package wind

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// A boat that lies still with nobody steering swings to the wind like a vane; but
// others lie at a dock, hove to, or aground. So it says little, and once.
const (
	lieKn    = 0.5
	lieS     = 20.0
	lieDeg   = 15.0
	lieSDDeg = 20.0
	lieWild  = 0.6
)

// lie is how long she has lain on one heading.
type lie struct {
	since boat.Time
	hdg   float64
	told  bool
}

func (e *Estimator) lies(in Sight) {
	l, s := &e.motion.lie, in.State
	still := s.SpeedKn.OK && s.SpeedKn.Val < lieKn && s.HeadingDeg.OK && s.HeadingBy == "compass" &&
		in.Mode != boat.Motoring && in.Mode != boat.Capsized
	switch {
	case !still:
		*l = lie{}
	case l.since == 0 || math.Abs(geo.Diff(l.hdg, s.HeadingDeg.Val)) > lieDeg:
		*l = lie{since: s.T, hdg: s.HeadingDeg.Val, told: l.told}
	case !l.told && s.T.Seconds(l.since) >= lieS:
		l.told = true
		e.moved(s.T, false, near(l.hdg, lieSDDeg, lieWild))
	}
}
