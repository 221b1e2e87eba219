package sense

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/compass"
	"helmcue/internal/geo"
)

// tooSlowKn is the speed under which a course over the ground means nothing: a
// phone's position wanders by about as much in a second.
const tooSlowKn = 0.7

// How each reading behaves. Jumps are what a small boat cannot do: she gains or
// loses at most about a knot a second and spins at most about 60 degrees a second.
func sogLaw() law     { return law{hi: 60, tauS: 0.7, jump: 2.5, rate: 1.5, lasts: 3} }
func waterLaw() law   { return sogLaw() }
func courseLaw() law  { return law{hi: 360, circle: true, tauS: 0.7, jump: 70, rate: 40, lasts: 2} }
func compassLaw() law { return law{hi: 360, circle: true, jump: 45, rate: 60, lasts: 4} }
func heelLaw() law    { return law{lo: -180, hi: 180, tauS: 0.4, jump: 40, rate: 90, lasts: 3} }
func pitchLaw() law   { return law{lo: -90, hi: 90, tauS: 0.4, jump: 40, rate: 90, lasts: 3} }
func yawLaw() law     { return law{lo: -720, hi: 720, tauS: 0.3, jump: 60, rate: 200, lasts: 3} }
func angleLaw() law {
	return law{lo: -180, hi: 360, circle: true, tauS: 1, jump: 90, rate: 60, lasts: 3}
}
func windKnLaw() law { return law{hi: 120, tauS: 1, jump: 15, rate: 5, lasts: 3} }
func battLaw() law   { return law{hi: 1, jump: math.MaxFloat64, lasts: 1} }

// Filter holds what was heard of one boat. Make it with New.
type Filter struct {
	mount boat.Mount // from Settings, where samples do not say

	pos             place
	sog, cog        channel
	compass         channel // true or magnetic as compassRef says
	compassRef      boat.Ref
	ownCompass      bool    // the boat's, not a phone's
	heading         channel // compass led by yaw, true but for the compass's own error
	errors          *compass.Estimator
	yaw, yawFromHdg channel
	heel, pitch     channel
	water           channel
	awa, aws        channel
	twa, tws, twd   channel
	batt            channel
	said            boat.Mount // by the last sample that said
	heelZero        float64    // what the phone shows when she is upright
	variation       variation
}

// New makes a Filter for a boat whose phone is mounted as the settings say.
func New(mount boat.Mount) *Filter { return &Filter{mount: mount, errors: compass.New()} }

// SetMount changes the mount that holds where samples do not say.
func (f *Filter) SetMount(m boat.Mount) { f.mount = m }

func (f *Filter) worn() bool {
	if f.said != "" {
		return f.said == boat.Worn
	}
	return f.mount == boat.Worn
}

// Add takes one sample made at time t. Readings out of any boat's reach are
// dropped one by one; the rest of the sample stands.
func (f *Filter) Add(t boat.Time, s boat.Sample) {
	if s.Mount != "" {
		f.said = s.Mount
	}
	f.addPlace(t, s)
	f.sog.put(t, s.SOGKn, sogLaw())
	if s.COGDeg.OK && f.sog.fresh(t) && f.sog.val >= tooSlowKn {
		f.cog.put(t, s.COGDeg, courseLaw())
	}
	f.water.put(t, s.WaterKn, waterLaw())
	f.heel.put(t, s.HeelDeg, heelLaw())
	f.pitch.put(t, s.PitchDeg, pitchLaw())
	f.yaw.put(t, s.YawDps, yawLaw())
	f.addHeading(t, s)
	f.awa.put(t, s.AWADeg, angleLaw())
	f.aws.put(t, s.AWSKn, windKnLaw())
	f.twa.put(t, s.TWADeg, angleLaw())
	f.tws.put(t, s.TWSKn, windKnLaw())
	f.twd.put(t, s.TWDDeg, angleLaw())
	f.batt.put(t, s.Batt, battLaw())
	f.addCourse(t)
}

// addCourse shows the compass's estimator a course that came with this sample.
func (f *Filter) addCourse(t boat.Time) {
	if f.cog.at != t || !f.cog.seen || f.worn() {
		return
	}
	f.errors.Course(compass.Course{T: t, COGDeg: f.cog.raw, SOGKn: f.sog.val, WaterKn: f.water.read(t), HeelDeg: f.upright(t)})
}

// Lean tells the filter her angle to the wind, degrees, starboard positive, where
// somebody knows it and absent where nobody does: leeway goes to the other side.
func (f *Filter) Lean(t boat.Time, twaDeg boat.Reading) { f.errors.Lean(t, twaDeg) }

// upright is the heel less the mount's tilt.
func (f *Filter) upright(t boat.Time) boat.Reading {
	h := f.heel.read(t)
	if h.OK {
		h.Val -= f.heelZero
	}
	return h
}

// addHeading leads the heading by the yaw rate and pulls it to the compass over
// about a second: the compass of a phone is slow and shaken by waves, the yaw
// rate is quick and drifts.
func (f *Filter) addHeading(t boat.Time, s boat.Sample) {
	if s.VarDeg.OK && math.Abs(s.VarDeg.Val) <= 180 {
		f.variation.state(s.VarDeg.Val)
	}
	if !s.HeadingDeg.OK || s.HeadingDeg.Val < 0 || s.HeadingDeg.Val > 360 {
		return
	}
	if !f.compass.add(t, s.HeadingDeg.Val, compassLaw()) {
		return
	}
	// A phone sends how it lies with every heading; an instrument sends the heading.
	f.ownCompass = s.Mount == "" && !s.HeelDeg.OK && !s.PitchDeg.OK && !s.YawDps.OK
	f.compassRef = s.HeadingRef
	if f.compassRef == "" {
		f.compassRef = boat.Magnetic
	}
	trueDeg := f.compass.val
	if f.compassRef == boat.Magnetic {
		trueDeg = geo.Wrap360(trueDeg + f.variation.deg)
	}
	f.lead(t, trueDeg)
}

func (f *Filter) lead(t boat.Time, trueDeg float64) {
	h := &f.heading
	if !h.fresh(t) {
		h.note(t)
		h.val, h.seen = trueDeg, true
		f.shown(t)
		return
	}
	dt := t.Seconds(h.at)
	if dt <= 0 {
		return
	}
	before := h.val
	led := before
	if f.yaw.fresh(t) {
		led += float64(f.yaw.val * dt)
	}
	pull := 1.0
	if f.yaw.fresh(t) {
		pull = 1 - math.Exp(-dt/0.8)
	}
	h.note(t)
	h.val = geo.Wrap360(led + float64(geo.Diff(led, trueDeg)*pull))
	f.yawFromHdg.add(t, geo.Diff(before, h.val)/dt, yawLaw())
	f.shown(t)
}

// shown hands on what the compass shows; on a body it shows the body's heading.
func (f *Filter) shown(t boat.Time) {
	if !f.worn() {
		f.errors.Bow(t, f.heading.val)
	}
}

// Upright tells the filter that she is upright now, head to wind with the sail
// empty: what the phone shows as heel is its mount. More than 12 degrees is no
// mount but a boat that is not upright, and changes nothing.
func (f *Filter) Upright(t boat.Time) {
	if f.heel.fresh(t) && math.Abs(f.heel.val) <= 12 {
		f.heelZero = f.heel.val
	}
}

// State returns what is believed at time t, which must not be before the last
// sample added.
func (f *Filter) State(t boat.Time) boat.State {
	s := boat.State{
		T: t, SOGKn: f.sog.read(t), WaterKn: f.water.read(t),
		AWADeg: signed(f.awa.read(t)), AWSKn: f.aws.read(t),
		TWADeg: signed(f.twa.read(t)), TWSKn: f.tws.read(t), TWDDeg: f.twd.read(t),
		Batt: f.batt.last(), Mount: boat.Fixed,
		VarDeg: f.variation.deg, VarOK: f.variation.known, CompassRef: f.ref(),
	}
	s.Pos, s.PosAccM, s.PosOK = f.pos.read(t)
	if s.SOGKn.OK && s.SOGKn.Val >= tooSlowKn {
		s.COGDeg = f.cog.read(t)
	}
	s.SpeedKn = s.SOGKn
	if s.WaterKn.OK {
		s.SpeedKn = s.WaterKn
	}
	if f.worn() {
		s.Mount = boat.Worn // heel and heading are the body's
	} else {
		s.YawDps = f.yaw.read(t)
		s.PitchDeg = f.pitch.read(t)
		s.HeelDeg = f.upright(t)
		if h := f.heading.read(t); h.OK {
			s.Deviation, s.OwnCompass = f.errors.Deviation(), f.ownCompass
			s.HeadingSDDeg = f.errors.SD(h.Val)
			h.Val = geo.Wrap360(h.Val + s.Deviation.At(h.Val))
			s.HeadingDeg, s.HeadingBy, s.HeadingT = h, "compass", f.heading.at
			if !s.YawDps.OK {
				s.YawDps = f.yawFromHdg.read(t)
			}
		}
	}
	if !s.HeadingDeg.OK && s.COGDeg.OK {
		s.HeadingDeg, s.HeadingBy, s.HeadingT = s.COGDeg, "course", f.cog.at
		s.HeadingSDDeg = f.errors.CourseSD(s.SOGKn.Val)
	}
	s.LeewayDeg, s.LeewaySDDeg = f.errors.Learner().Leeway()
	s.Current = f.errors.Learner().Current()
	s.GPSLagS, s.GPSLagSDS = f.errors.LagS()
	return s
}

// ref is what cues that name a heading must speak in: what the sailor's compass
// shows, which is magnetic unless an instrument said true.
func (f *Filter) ref() boat.Ref {
	if f.compass.seen && f.compassRef == boat.True {
		return boat.True
	}
	if !f.variation.known {
		return boat.True
	}
	return boat.Magnetic
}

// last is the latest value however old: a battery does not refill by silence.
func (c *channel) last() boat.Reading {
	if !c.seen {
		return boat.Reading{}
	}
	return boat.Some(c.val)
}

func signed(r boat.Reading) boat.Reading {
	if r.OK {
		r.Val = geo.Wrap180(r.Val)
	}
	return r
}
