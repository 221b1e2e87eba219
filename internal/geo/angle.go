package geo

import "math"

// KnotMS is one knot in metres a second (international nautical mile, 1852 m).
const KnotMS = 1852.0 / 3600.0

// Wrap360 returns deg turned into 0 <= d < 360.
func Wrap360(deg float64) float64 {
	d := math.Mod(deg, 360)
	if d < 0 {
		d += 360
	}
	if d >= 360 { // a tiny negative plus 360 rounds up to 360
		d = 0
	}
	return d
}

// Wrap180 returns deg turned into -180 < d <= 180.
func Wrap180(deg float64) float64 {
	d := Wrap360(deg)
	if d > 180 {
		d -= 360
	}
	return d
}

// Diff returns how far clockwise b is from a, -180 < d <= 180.
func Diff(a, b float64) float64 { return Wrap180(b - a) }

// Rad returns degrees as radians.
func Rad(deg float64) float64 { return deg * (math.Pi / 180) }

// Deg returns radians as degrees.
func Deg(rad float64) float64 { return rad * (180 / math.Pi) }

// Position is a place on the WGS84 ellipsoid, degrees, south and west negative.
type Position struct {
	LatDeg float64
	LonDeg float64
}
