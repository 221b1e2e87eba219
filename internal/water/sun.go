package water

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Day is the light of one day at a place. OK is false where the sun does not rise or
// does not set; DuskOK where it does not get dark.
type Day struct {
	Rise, Set boat.Time
	OK        bool
	Up        bool      // without OK: the sun stays up, else it stays down
	Dusk      boat.Time // end of civil twilight, the sun six degrees below
	DuskOK    bool
}

const (
	dayMS    = 86_400_000
	riseZen  = 90 + 50.0/60 // of the sun's centre: half its width and what the air bends
	duskZen  = 96.0
	j2000MS  = 946_728_000_000 // 2000-01-01T12:00:00Z
	centDays = 36525.0
)

// SunOn returns the light of the day whose noon by the sun is nearest to t.
//
// Source: NOAA Global Monitoring Laboratory, solar calculation details, after Meeus,
// Astronomical Algorithms; written from memory and held to a second ephemeris in the
// tests. Each event is worked out with the sun where it stands at that event, to
// some seconds up to 65 degrees of latitude; hills round the lake are not in it.
func SunOn(p geo.Position, t boat.Time) Day {
	noon := t
	for range 3 {
		_, eqMin := sunAt(noon)
		// Minutes of the UTC day at which the sun stands south (or north).
		minute := 720 - float64(4*p.LonDeg) - eqMin
		day := math.Round((float64(t)/60000 - minute) / 1440)
		noon = boat.Time(math.Round((float64(day*1440) + minute) * 60000))
	}
	var d Day
	rise, okRise := crossing(p, noon, riseZen, -1)
	set, okSet := crossing(p, noon, riseZen, 1)
	d.Rise, d.Set, d.OK = rise, set, okRise && okSet
	d.Dusk, d.DuskOK = crossing(p, noon, duskZen, 1)
	if !d.OK {
		decl, _ := sunAt(noon)
		d.Up = p.LatDeg*decl > 0
	}
	return d
}

// crossing returns when the sun's centre is so far from overhead, before noon (way
// -1) or after it (+1).
func crossing(p geo.Position, noon boat.Time, zenithDeg, way float64) (boat.Time, bool) {
	t := noon
	_, eqNoon := sunAt(noon)
	lat := geo.Rad(p.LatDeg)
	for range 5 {
		decl, eq := sunAt(t)
		d := geo.Rad(decl)
		c := (math.Cos(geo.Rad(zenithDeg)) - float64(math.Sin(lat)*math.Sin(d))) / (math.Cos(lat) * math.Cos(d))
		if !(c >= -1 && c <= 1) {
			return 0, false
		}
		minutes := float64(way*4*geo.Deg(math.Acos(c))) - (eq - eqNoon)
		t = noon.After(minutes * 60)
	}
	return t, true
}

// sunAt returns the sun's declination, degrees, and the equation of time, minutes.
func sunAt(t boat.Time) (declDeg, eqMin float64) {
	c := float64(t-j2000MS) / dayMS / centDays
	l := geo.Rad(geo.Wrap360(280.46646 + float64(c*(36000.76983+float64(c*0.0003032)))))
	m := geo.Rad(geo.Wrap360(357.52911 + float64(c*(35999.05029-float64(0.0001537*c)))))
	ecc := 0.016708634 - float64(c*(0.000042037+float64(0.0000001267*c)))
	centre := float64(math.Sin(m)*(1.914602-float64(c*(0.004817+float64(0.000014*c))))) +
		float64(math.Sin(2*m)*(0.019993-float64(0.000101*c))) + float64(math.Sin(3*m)*0.000289)
	omega := geo.Rad(125.04 - float64(1934.136*c))
	lon := geo.Rad(geo.Deg(l) + centre - 0.00569 - float64(0.00478*math.Sin(omega)))
	tilt := geo.Rad(23.43929111 - float64(c*(0.013004167+float64(c*(0.000000164-float64(c*0.000000504))))) + float64(0.00256*math.Cos(omega)))
	declDeg = geo.Deg(math.Asin(math.Sin(tilt) * math.Sin(lon)))
	y := math.Tan(tilt/2) * math.Tan(tilt/2)
	eq := float64(y*math.Sin(2*l)) - float64(2*ecc*math.Sin(m)) + float64(4*ecc*y*math.Sin(m)*math.Cos(2*l)) -
		float64(0.5*y*y*math.Sin(4*l)) - float64(1.25*ecc*ecc*math.Sin(2*m))
	return declDeg, 4 * geo.Deg(eq)
}

// Margins of the way home: a way takes longer than the target says, and boats are
// put away by daylight. Common practice, no source.
const (
	homeFactor = 1.5
	homeSpareS = 20 * 60.0
)

// Leave returns when to head back so as to be at the ramp by sunset, given the
// seconds the way takes as the target says. It is false where the sun does not set.
func (d Day) Leave(wayS float64) (boat.Time, bool) {
	if !d.OK {
		return 0, false
	}
	return d.Set.After(-float64(homeFactor*wayS) - homeSpareS), true
}
