package geo

import (
	"math"

	"github.com/tidwall/geodesic"
)

// Valid says whether p is finite and within -90..90 and -180..180 degrees.
func (p Position) Valid() bool {
	return math.Abs(p.LatDeg) <= 90 && math.Abs(p.LonDeg) <= 180
}

// Distance returns the length in metres of the shortest way from a to b on the
// ellipsoid (Karney 2013, J. Geod. 87, 43-55, by library). It is NaN where a
// position is. It takes some microseconds; many points near each other go
// through a Frame.
func Distance(a, b Position) float64 {
	m := math.NaN()
	geodesic.WGS84.Inverse(a.LatDeg, a.LonDeg, b.LatDeg, b.LonDeg, &m, nil, nil)
	return m
}

// Bearing returns the direction in which the shortest way from a to b sets out,
// degrees true, 0 to 360. ok is false where the two are one place or a position
// is not finite: then there is no bearing.
func Bearing(a, b Position) (deg float64, ok bool) {
	m, azi := math.NaN(), math.NaN()
	geodesic.WGS84.Inverse(a.LatDeg, a.LonDeg, b.LatDeg, b.LonDeg, &m, &azi, nil)
	if !(m > 0) || !finite(azi) {
		return 0, false
	}
	return Wrap360(azi), true
}

// Destination returns where one comes to from p, setting out at a bearing in
// degrees true and going a distance in metres the shortest way.
func Destination(p Position, bearingDeg, distM float64) Position {
	var q Position
	geodesic.WGS84.Direct(p.LatDeg, p.LonDeg, bearingDeg, distM, &q.LatDeg, &q.LonDeg, nil)
	return q
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
