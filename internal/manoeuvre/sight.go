package manoeuvre

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Sight is what the watch looks at.
type Sight struct {
	State   boat.State
	Wind    boat.Wind
	Target  boat.Target
	LengthM float64 // overall, for lengths lost; 0: lengths stay unknown
	TauS    float64 // how long her speed takes to answer, seconds
}

// gpsLagS is how late a receiver's speed and course are: they are smoothed over a
// second or so and come a second late (common practice, no source: 1 to 2 s).
const gpsLagS = 1.5

// moment is a sight boiled down.
type moment struct {
	t      boat.Time
	off    float64 // bow to the true wind, -180..180, starboard positive
	hdg    float64 // of the bow, unwrapped so that it runs on through north
	hdgOK  bool
	kn     float64
	knOK   bool
	upKn   float64 // made good towards the wind
	want   float64 // knots that the polar asks for at this angle; 0: not known
	lagS   float64 // how much later kn is than the angle
	windKn float64 // true wind; +Inf where not known
	course bool    // the angle stands on the course over the ground; t allows for its lag
}

// look boils a sight down; false where there is no angle to the wind.
func look(in Sight, before *moment) (moment, bool) {
	s := in.State
	m := moment{t: s.T, kn: s.SpeedKn.Val, knOK: s.SpeedKn.OK}
	off, course := angle(in)
	if !off.OK {
		return m, false
	}
	m.off, m.course = off.Val, course
	if course { // speed and course are late alike: the whole moment is an older one
		m.t = s.T.After(-gpsLagS)
		if s.HeadingT != 0 {
			m.t = s.HeadingT.After(-gpsLagS)
		}
	}
	if before != nil {
		m.hdg = before.hdg // carried over a gap, so that it runs on from there
	}
	if s.HeadingDeg.OK {
		m.hdgOK = true
		m.hdg += geo.Diff(m.hdg, s.HeadingDeg.Val)
	}
	if !s.WaterKn.OK && !course {
		m.lagS = gpsLagS
	}
	m.upKn = madeGood(in, m)
	m.windKn = windKn(in.Wind)
	m.want = want(in.Target, math.Abs(m.off))
	return m, true
}

// windKn is the most wind there may well be, infinite where none is known, so that
// nothing is too fast for it. An instrument's own reading is not asked: a boat
// coasting through a lull outruns the wind without an engine.
func windKn(w boat.Wind) float64 {
	if !w.SpeedKn.OK {
		return math.Inf(1)
	}
	return w.SpeedKn.Val + float64(1.5*w.SpeedSD)
}

// angle is the bow to the true wind. Without a compass an instrument's own angle
// is better than one from the course, which is late and fails at low speed.
func angle(in Sight) (off boat.Reading, course bool) {
	s := in.State
	own := instrument(s)
	known := in.Wind.Known && in.Wind.DirDeg.OK && s.HeadingDeg.OK
	switch {
	case known && s.HeadingBy == "compass", known && !own.OK:
		return boat.Some(geo.Diff(s.HeadingDeg.Val, in.Wind.DirDeg.Val)), s.HeadingBy != "compass"
	}
	return own, false
}

// instrument is the true wind angle by the boat's own instruments: as they compute
// it, else from the apparent wind less the boat's own speed.
func instrument(s boat.State) boat.Reading {
	switch {
	case s.TWADeg.OK:
		return boat.Some(geo.Wrap180(s.TWADeg.Val))
	case s.AWADeg.OK && s.AWSKn.OK && s.SpeedKn.OK:
		a := geo.Rad(s.AWADeg.Val)
		across := s.AWSKn.Val * math.Sin(a)
		ahead := float64(s.AWSKn.Val*math.Cos(a)) - s.SpeedKn.Val
		if math.Hypot(across, ahead) < 1 {
			return boat.Reading{} // hardly any wind has no direction
		}
		return boat.Some(geo.Deg(math.Atan2(across, ahead)))
	case s.AWADeg.OK:
		return boat.Some(geo.Wrap180(s.AWADeg.Val))
	}
	return boat.Reading{}
}

// madeGood is the speed towards the wind, knots: over the ground where that and
// the wind's direction are known, since it feels leeway and drifting astern, else
// by the bow.
func madeGood(in Sight, m moment) float64 {
	s := in.State
	if in.Wind.Known && in.Wind.DirDeg.OK && s.SOGKn.OK && !s.WaterKn.OK {
		if !s.COGDeg.OK {
			return 0 // too slow for a course: she makes good next to nothing
		}
		return float64(s.SOGKn.Val * math.Cos(geo.Rad(geo.Diff(s.COGDeg.Val, in.Wind.DirDeg.Val))))
	}
	return float64(m.kn * math.Cos(geo.Rad(m.off)))
}

// want is the speed to get back to after a turn: that of the best angle where she
// sails near it, else that of the angle she sails.
func want(t boat.Target, a float64) float64 {
	switch {
	case !t.OK:
		return 0
	case a < t.BeatDeg+10:
		return t.BeatKn
	case a > t.RunDeg-10:
		return t.RunKn
	}
	return math.Max(t.HereKn, 0)
}
