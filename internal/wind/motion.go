package wind

import (
	"math"

	"helmcue/internal/boat"
)

// Sight is one look at how the boat moves, with what is needed to read it.
type Sight struct {
	State   boat.State
	Mode    boat.Mode
	Coached bool // a steer cue was spoken in the last minute: her heading shows what was asked for
	// Polar is her speed in knots in a true wind of twsKn, twaDeg (0..180) off it.
	Polar func(twsKn, twaDeg float64) float64
}

// How motion is listened to (common practice, no source).
const (
	lookEveryS  = 0.9
	instrumentS = 120.0
	toldS       = 3600.0 // so long what was told is named as the source
	underWayKn  = 0.8
	courseWayKn = 1.2 // the course over the ground means something from here on
	// Beside what the cells hold: the swing of the wind from minute to minute (5), which
	// facts so far apart follow by half at best, and current where the course stands
	// for the heading.
	motionSys    = 5.5
	motionSysCOG = 6.5
)

// motion is what was seen of the boat's own motion.
type motion struct {
	past   past
	leg    leg
	before leg // the last leg that was long enough to tell anything
	prior  leg // and the one before it
	arc    arc
	tack   float64 // how likely the dip in the last turn is in a tack
	flat   float64 // and in any other turn
	lie    lie
	tilt   tilt
	proof  float64 // how much turns told so far of where the bow went, log odds without their sign
	lean   lean
	pace   pace
	early  early
	proved bool // something told the side: a person, an instrument, a tack, the heel
}

// Motion looks at how the boat moves; call it with each state, after Instruments.
// It learns nothing while she motors, waits, drifts or lies stopped (save a little
// where she lies head to wind), nor while an instrument tells the wind. Headings that
// were asked for say about half as much. It gathers blocks of a quarter of a
// minute on one leg and learns when one closes.
// What a person told in the last hour stays named as the source, with its age: the
// speed of the wind, which motion does not tell, is as old as that.
func (e *Estimator) Motion(in Sight) {
	m, s := &e.motion, in.State
	if last := m.past.last(); last != nil && s.T.Seconds(last.t) < lookEveryS {
		return
	}
	if e.by == byInstrument && s.T.Seconds(e.fact) < instrumentS {
		*m = motion{proved: true}
		e.joint.on = false
		return
	}
	m.lean.see(s, m.tilt)
	if m.motors(in) {
		m.leg, m.before, m.prior = leg{}, leg{}, leg{}
	}
	if !m.sails(in) {
		e.lies(in)
		return
	}
	m.lie = lie{}
	look, ok := glance(in, m.past.last())
	if !ok {
		return
	}
	m.past.add(look)
	e.follow(in, look)
}

// motors says whether an engine drives her. That may be believed because the wind is
// wrong; no engine heels her for long.
func (m *motion) motors(in Sight) bool { return in.Mode == boat.Motoring && !m.lean.much() }

// sails says whether her motion can mean anything about the wind now.
func (m *motion) sails(in Sight) bool {
	switch in.Mode {
	case boat.Drifting, boat.Waiting, boat.Stopped, boat.Capsized, boat.Irons:
		return false
	}
	s := in.State
	if m.motors(in) || !s.SpeedKn.OK || !s.HeadingDeg.OK || in.Polar == nil {
		return false
	}
	// In a turn she may lose her way for a moment; that is no lying still.
	return s.SpeedKn.Val >= 0.2
}

// follow takes a glance into the leg under way, or into the turn to the next one. A
// leg too short to tell anything belongs to the turn.
func (e *Estimator) follow(in Sight, g glimpse) {
	m := &e.motion
	switch {
	case !m.leg.on:
		if from, ok := m.past.settled(); ok {
			m.leg.begin(from, g)
		}
	case m.leg.left(g):
		if m.leg.blocks > 0 {
			m.prior, m.before = m.before, m.leg
		}
		m.leg = leg{}
	default:
		e.closeBlock(in, g)
	}
}

// moved learns a fact of motion.
func (e *Estimator) moved(t boat.Time, course bool, likely func(dirDeg float64) float64) {
	by, sys, told := e.by, e.sysDeg, e.fact
	f := fact{t: t, by: byMotion, sysDeg: motionSys, likely: likely}
	if course {
		f.sysDeg = motionSysCOG
	}
	e.learn(f)
	if by != "" && by != byMotion && t.Seconds(told) < toldS {
		e.by, e.fact = by, told
		e.sysDeg = math.Max(sys, f.sysDeg)
	}
}
