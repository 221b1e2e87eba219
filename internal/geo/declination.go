package geo

import "math"

// The WGS84 ellipsoid (NIMA TR8350.2) and the model's own reference radius.
const (
	wgsRadiusM    = 6378137.0
	wgsFlattening = 1 / 298.257223563
	wgsE2         = wgsFlattening * (2 - wgsFlattening)
	wmmRadiusKm   = 6371.2
)

// What the model's makers state about its error: 0.26 degrees and 5417 nT over
// the horizontal intensity, as root of squares (constants of the NOAA/CIRES
// program). Outside its years the field's own change of pace adds to it: the
// 2020 model is off by up to 0.1 degrees a year of age against the 2025 one at
// six sailing places (recomputed, see the tests).
const (
	wmmBaseSDDeg   = 0.26
	wmmBySDDegNT   = 5417.0
	wmmStaleDegAYr = 0.1
	wmmUnsureNT    = 2000.0 // horizontal intensity below which a compass is unreliable
)

// Declination returns the angle from true to magnetic north, degrees, east
// positive, -180..180, by the World Magnetic Model 2025 at a height in kilometres
// over the ellipsoid, with its standard deviation in degrees. It evaluates the
// field afresh, a few microseconds: keep the value while the boat is near.
//
// ok is false where the value is not to be relied on: outside 2025.0 to 2030.0
// (older recordings still get their value, and the deviation grows by 0.1 degrees
// for each year outside), where the horizontal field is under 2000 nT near a
// magnetic pole, or for a position that is none (then 0 with deviation 180).
//
// The evaluation is our own because the usual Go library reads its coefficients
// from a file and, as it comes, carries the 2020 model for later years without
// a word.
func Declination(p Position, heightKm, year float64) (deg, sdDeg float64, ok bool) {
	if !p.Valid() || !finite(heightKm) || !finite(year) {
		return 0, 180, false
	}
	north, east := field(p, heightKm, year)
	h := math.Hypot(north, east)
	outside := math.Max(0, math.Max(wmmEpoch-year, year-wmmUntil))
	sd := math.Hypot(wmmBaseSDDeg, wmmBySDDegNT/math.Max(h, 1))
	sd = math.Min(180, math.Hypot(sd, float64(wmmStaleDegAYr*outside)))
	return Deg(math.Atan2(east, north)), sd, outside == 0 && h >= wmmUnsureNT
}

// field returns the north and east components of the field, nT, in the frame of
// the ellipsoid. Formulas: The US/UK World Magnetic Model technical report, the
// section on computing the field.
func field(p Position, heightKm, year float64) (north, east float64) {
	lat := math.Max(-89.99999, math.Min(89.99999, p.LatDeg)) // east is singular at a pole
	latC, r := geocentric(lat, heightKm)
	s := newSeries(latC)
	ratio := wmmRadiusKm / r
	pow := ratio * ratio
	lon := Rad(p.LonDeg)
	terms := wmm2025()
	var x, y, z float64
	for n := 1; n <= wmmDegree; n++ {
		pow *= ratio
		for m := 0; m <= n; m++ {
			t := terms[n*(n+1)/2+m-1]
			g := t.g + float64(t.gDot*(year-wmmEpoch))
			h := t.h + float64(t.hDot*(year-wmmEpoch))
			sin, cos := math.Sincos(float64(m) * lon)
			along := float64(g*cos) + float64(h*sin)
			x -= float64(pow * along * s.slope(n, m))
			y += float64(pow * float64(m) * (float64(g*sin) - float64(h*cos)) * s.p[n][m])
			z -= float64(float64(n+1) * pow * along * s.p[n][m])
		}
	}
	sin, cos := math.Sincos(latC - Rad(lat))
	return float64(x*cos) - float64(z*sin), y / s.cos
}

// geocentric returns the geocentric latitude, radians, and radius, kilometres.
func geocentric(latDeg, heightKm float64) (lat, radiusKm float64) {
	sin, cos := math.Sincos(Rad(latDeg))
	across := wgsRadiusM / 1000 / math.Sqrt(1-float64(wgsE2*sin*sin))
	p := float64((across + heightKm) * cos)
	z := float64((float64(across*(1-wgsE2)) + heightKm) * sin)
	radiusKm = math.Hypot(p, z)
	return math.Asin(z / radiusKm), radiusKm
}

// series is the Schmidt semi-normalised associated Legendre functions of the sine
// of one geocentric latitude.
type series struct {
	sin, cos float64
	p        [wmmDegree + 2][wmmDegree + 2]float64
}

// newSeries fills the functions up to one degree above the model's, as their
// slope needs it. Recursion: Holmes and Featherstone 2002, in Schmidt's norm.
func newSeries(lat float64) *series {
	s := new(series)
	s.sin, s.cos = math.Sincos(lat)
	s.p[0][0] = 1
	s.p[1][1] = s.cos
	for n := 2; n <= wmmDegree+1; n++ {
		s.p[n][n] = s.p[n-1][n-1] * s.cos * math.Sqrt(1-1/float64(2*n))
	}
	for n := 1; n <= wmmDegree+1; n++ {
		for m := 0; m < n; m++ {
			k := math.Sqrt(float64(n*n - m*m))
			v := float64(float64(2*n-1) * s.sin * s.p[n-1][m])
			if n >= 2 {
				v -= float64(math.Sqrt(float64((n-1)*(n-1)-m*m)) * s.p[n-2][m])
			}
			s.p[n][m] = v / k
		}
	}
	return s
}

// slope is the derivative by latitude of the function of degree n and order m.
func (s *series) slope(n, m int) float64 {
	up := math.Sqrt(float64((n+1)*(n+1) - m*m))
	return (float64(float64(n+1)*s.sin*s.p[n][m]) - float64(up*s.p[n+1][m])) / s.cos
}
