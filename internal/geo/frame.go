package geo

import "math"

// Frame is a flat map round an origin: metres east and north. It is cheap enough
// for every sample and every shore point.
//
// Its error, up to 70 degrees of latitude: within 2 km of the origin distances
// between any two points are right to 1 cm or 0.001 %, within 10 km to 0.5 m or
// 0.01 %. North on the map is true north only on the origin's meridian; 10 km
// beside it the two differ by 0.16 degrees at 60 degrees of latitude.
type Frame struct {
	origin  Position
	sin     float64 // of the origin's latitude
	cos     float64
	northM  float64 // metres a radian of latitude at the origin
	tan2N   float64 // how much a parallel bends: tan(latitude) / (2 N), 1/m
	meridD  float64 // how fast northM grows, metres a radian squared
	acrossM float64 // radius of curvature across the meridian at the origin, N
}

// NewFrame returns the map round origin, which must be Valid and not at a pole.
func NewFrame(origin Position) Frame {
	f := Frame{origin: origin}
	f.sin, f.cos = math.Sincos(Rad(origin.LatDeg))
	w := 1 - float64(wgsE2*f.sin*f.sin)
	f.acrossM = wgsRadiusM / math.Sqrt(w)
	f.northM = f.acrossM * (1 - wgsE2) / w
	f.meridD = 3 * f.northM * wgsE2 * f.sin * f.cos / w
	f.tan2N = f.sin / f.cos / (2 * f.acrossM)
	return f
}

// Origin returns the place that lies at 0, 0.
func (f Frame) Origin() Position { return f.origin }

// To returns where p lies on the map, metres east and north of the origin. It
// takes the short way round the date line.
func (f Frame) To(p Position) (eastM, northM float64) {
	dLat := Rad(p.LatDeg - f.origin.LatDeg)
	dLon := Rad(Wrap180(p.LonDeg - f.origin.LonDeg))
	eastM = f.across(dLat) * dLon
	northM = float64(f.northM*dLat) + float64(f.meridD/2*dLat*dLat)
	// A parallel bends towards its pole: a point due east by longitude lies a
	// little north of the straight line (in the northern half).
	return eastM, northM + float64(f.tan2N*eastM*eastM)
}

// From returns the place eastM and northM metres from the origin; it undoes To.
func (f Frame) From(eastM, northM float64) Position {
	north := northM - float64(f.tan2N*eastM*eastM)
	dLat := north / f.northM
	for range 2 {
		dLat = (north - float64(f.meridD/2*dLat*dLat)) / f.northM
	}
	dLon := eastM / f.across(dLat)
	return Position{
		LatDeg: f.origin.LatDeg + Deg(dLat),
		LonDeg: Wrap180(f.origin.LonDeg + Deg(dLon)),
	}
}

// across is the length in metres of a radian of longitude, dLat radians north of
// the origin: the parallel's radius, N cos(latitude), to second order.
func (f Frame) across(dLat float64) float64 {
	slope := -float64(f.northM * f.sin) // d(N cos)/d(lat) = -M sin
	bend := -float64(f.northM*f.cos) - float64(f.meridD*f.sin)
	return float64(f.acrossM*f.cos) + float64(slope*dLat) + float64(bend/2*dLat*dLat)
}
