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
