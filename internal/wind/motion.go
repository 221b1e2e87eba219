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
	Polar  func(twsKn, twaDeg float64) float64
	Factor float64 // how fast she is against the polar, about 1
	TWSKn  boat.Reading
	TWSSD  float64
}

// How motion is listened to (common practice, no source).
const (
	lookEveryS  = 0.9
	factEveryS  = 20.0 // heading and speed within such a time share their errors
	instrumentS = 120.0
	longLegS    = 600.0 // a course held for longer may be one to somewhere
	headedS     = 60.0
	headedSwing = 1.5    // an oscillation of 7 degrees in five minutes moves so much in 20 s
	toldS       = 3600.0 // so long what was told is named as the source
	underWayKn  = 0.8
	courseWayKn = 1.2 // the course over the ground means something from here on
	// Steady: compass, leeway and one tack pointed higher than the other (4), and
	// the swing of the wind from minute to minute (5), which facts so far apart
	// follow by half at best.
	motionSys    = 6.4
	motionSysCOG = 7.8 // the same with current, where the course stands for the heading
)

// motion is what was seen of the boat's own motion.
type motion struct {
	past   past
	leg    leg
	before leg       // the last leg that was long enough to compare; zero where there is none
	fact   boat.Time // last fact taken from this leg
	headed boat.Time // last fact from a heading on a beat
	lie    lie
	tilt   tilt
	lean   lean
	beat   pointing
	proof  float64 // log odds so far that the turns were tacks, at least 0
	proved bool    // something told the side: a person, an instrument, a tack, the heel
}

// Motion looks at how the boat moves; call it with each state, after Instruments.
// It learns nothing while she motors, waits, drifts or lies stopped (save a little
// where she lies head to wind), while an instrument tells the wind, nor from
// headings that were asked for. Each kind of fact comes about every 20 s at most.
// What a person told in the last hour stays named as the source, with its age: the
// speed of the wind, which motion does not tell, is as old as that.
func (e *Estimator) Motion(in Sight) {
	m, s := &e.motion, in.State
	if last := m.past.last(); last != nil && s.T.Seconds(last.t) < lookEveryS {
		return
	}
	if e.by == byInstrument && s.T.Seconds(e.fact) < instrumentS {
		*m = motion{proved: true}
		return
	}
	m.lean.see(s, m.tilt)
	if !m.sails(in) {
		m.leg, m.before = leg{}, leg{}
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

// sails says whether her motion can mean anything about the wind. That she motors
// may be believed because the wind is wrong; no engine heels her for long.
func (m *motion) sails(in Sight) bool {
	switch in.Mode {
	case boat.Motoring:
		if !m.lean.much() {
			return false
		}
	case boat.Drifting, boat.Waiting, boat.Stopped, boat.Capsized, boat.Irons:
		return false
	}
	s := in.State
	if !s.SpeedKn.OK || !s.HeadingDeg.OK || in.Polar == nil || !(in.Factor > 0) {
		return false
	}
	// In a turn she may lose her way for a moment; that is no lying still.
	return s.SpeedKn.Val >= 0.2
}

// follow takes a glance into the leg under way, or into the turn to the next one.
func (e *Estimator) follow(in Sight, g glimpse) {
	m := &e.motion
	if !m.leg.on {
		if from, ok := m.past.settled(); ok {
			m.leg.begin(from, g, m.before)
			m.fact = g.t
		}
		return
	}
	if m.leg.left(g) {
		m.before = leg{}
		if m.leg.end.Seconds(m.leg.start) >= leastLegS {
			m.before = m.leg
		}
		m.leg = leg{}
		return
	}
	age := g.t.Seconds(m.leg.start)
	if age < afterTurnS || g.kn < m.leg.least(in) {
		return
	}
	if !m.leg.compared {
		m.leg.compared = true
		m.leg.paired = e.compare(in, m.before, m.leg, g.t)
		if m.leg.paired {
			e.sailedOn(in, g)
		} else {
			e.firstHeading(in, g)
		}
		m.fact = g.t
		return
	}
	if g.t.Seconds(m.fact) >= factEveryS {
		m.fact = g.t
		e.sailedOn(in, g)
	}
}

// sailedOn takes the facts of another 20 s on the same leg.
func (e *Estimator) sailedOn(in Sight, g glimpse) {
	m := &e.motion
	now := m.past.mean(g.t.After(-factEveryS), g.t)
	if !m.leg.paced {
		m.leg.paced = true
		e.speedAllows(in, now)
	}
	if now.heel.OK && !m.leg.heeled {
		m.leg.heeled = e.heels(now)
	}
	if g.t.Seconds(m.leg.start) < longLegS && !in.Coached && !m.past.coached(g.t.After(-factEveryS)) {
		e.heading(now)
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
