package wind

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// calmKn is the speed below which a wind has no direction, only rounding.
const calmKn = 1e-9

// True returns the true wind over the water, knots and degrees off the bow, from
// the apparent wind and the boat's speed through the water along her bow. A calm
// gives 0, 0. Leeway is not known and left out: it turns the result by some
// degrees to leeward of the truth. Source of the formula: Smith, Bourassa and
// Sharp 1999, J. Atmos. Oceanic Technol. 16, 939-952, turned to the bow.
func True(awsKn, awaDeg, boatKn float64) (twsKn, twaDeg float64) {
	return sum(awsKn, awaDeg, -boatKn)
}

// Apparent returns the wind as felt on board, knots and degrees off the bow, from
// the true wind over the water and the boat's speed. It undoes True.
func Apparent(twsKn, twaDeg, boatKn float64) (awsKn, awaDeg float64) {
	return sum(twsKn, twaDeg, boatKn)
}

// sum adds a wind along the bow to a wind at an angle off it.
func sum(kn, deg, alongKn float64) (outKn, outDeg float64) {
	sin, cos := math.Sincos(geo.Rad(deg))
	x, y := float64(kn*cos)+alongKn, float64(kn*sin)
	outKn = math.Hypot(x, y)
	if outKn < calmKn {
		return 0, 0
	}
	return outKn, geo.Wrap180(geo.Deg(math.Atan2(y, x)))
}

// Ground is how a boat moves over the ground and where her bow points.
type Ground struct {
	HeadingDeg, COGDeg float64 // true, 0..360
	SOGKn              float64
}

// TrueOverGround returns the true wind over the ground, knots and the direction
// it comes from, 0 to 360, which is what a weather station would show and differs
// from True by the current. A calm gives 0, 0. Source as for True.
func TrueOverGround(awsKn, awaDeg float64, g Ground) (kn, dirDeg float64) {
	aSin, aCos := math.Sincos(geo.Rad(g.HeadingDeg + awaDeg))
	cSin, cCos := math.Sincos(geo.Rad(g.COGDeg))
	east := float64(awsKn*aSin) - float64(g.SOGKn*cSin)
	north := float64(awsKn*aCos) - float64(g.SOGKn*cCos)
	kn = math.Hypot(east, north)
	if kn < calmKn {
		return 0, 0
	}
	return kn, geo.Wrap360(geo.Deg(math.Atan2(east, north)))
}

// Angle returns the true wind angle that the boat's instruments show now, off the
// bow, -180 to 180, from the apparent wind where that is there, else as an
// instrument computed it. It needs no heading. It is absent where neither shows.
func Angle(s boat.State) boat.Reading {
	if _, twa, ok := fromApparent(s); ok {
		return boat.Some(twa)
	}
	return s.TWADeg
}

func fromApparent(s boat.State) (twsKn, twaDeg float64, ok bool) {
	if !s.AWADeg.OK || !s.AWSKn.OK || !s.SpeedKn.OK {
		return 0, 0, false
	}
	twsKn, twaDeg = True(s.AWSKn.Val, s.AWADeg.Val, s.SpeedKn.Val)
	return twsKn, twaDeg, twsKn > 0 && !math.IsNaN(twaDeg)
}
