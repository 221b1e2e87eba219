package boat

import (
	"math"

	"helmcue/internal/geo"
)

// Deviation is the error of a compass by heading, with the coefficients named as
// compass adjusters name them, cut after the first harmonic. Degrees, east
// positive: it is added to what the compass shows.
type Deviation struct{ ADeg, BDeg, CDeg float64 }

// At returns the deviation where the compass shows headingDeg, degrees.
func (d Deviation) At(headingDeg float64) float64 {
	sin, cos := math.Sincos(geo.Rad(headingDeg))
	return d.ADeg + float64(d.BDeg*sin) + float64(d.CDeg*cos)
}

// Current is where the water goes, knots east and north.
type Current struct {
	EastKn, NorthKn float64
	SDKn            float64 // standard deviation of either part
	OK              bool    // false where nothing was learned yet
}

// DriftKn is how fast the water goes.
func (c Current) DriftKn() float64 { return math.Hypot(c.EastKn, c.NorthKn) }

// SetDeg is the direction the water goes to, true, 0..360. It is absent where the
// drift is less than twice its doubt: there it may be any.
func (c Current) SetDeg() Reading {
	if !c.OK || c.DriftKn() < 2*c.SDKn {
		return Reading{}
	}
	return Some(geo.Wrap360(geo.Deg(math.Atan2(c.EastKn, c.NorthKn))))
}

// OnCompass returns what the sailor's compass shows when she heads trueDeg, degrees
// 0..360, and what it is measured from; false where that cannot be told. Where the
// heading comes from the boat's own compass, it is that compass, with its deviation.
// A phone's error is the phone's alone: the sailor looks at another compass, which is
// taken to be right.
func (s State) OnCompass(trueDeg float64) (deg float64, ref Ref, ok bool) {
	switch {
	case s.CompassRef == True:
		return s.undeviated(trueDeg), True, true
	case s.VarOK:
		return geo.Wrap360(s.undeviated(trueDeg) - s.VarDeg), Magnetic, true
	}
	return 0, "", false
}

// FromCompass returns the true heading, degrees 0..360, when the sailor's compass
// shows deg, measured from ref.
func (s State) FromCompass(deg float64, ref Ref) float64 {
	if ref == Magnetic {
		deg += s.VarDeg
	}
	if s.OwnCompass {
		deg += s.Deviation.At(deg)
	}
	return geo.Wrap360(deg)
}

// undeviated is the heading that the own compass shows, turned true by the variation
// alone. The deviation goes by what is shown; a few rounds find it, as it is small.
func (s State) undeviated(trueDeg float64) float64 {
	if !s.OwnCompass {
		return geo.Wrap360(trueDeg)
	}
	deg := trueDeg
	for range 8 {
		deg = trueDeg - s.Deviation.At(deg)
	}
	return geo.Wrap360(deg)
}
