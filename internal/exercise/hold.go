package exercise

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// holdTry: one course, the sheet for speed. Scatter is the standard deviation of the
// heading about its mean; speed is compared as share of what she should do, first
// thirty seconds against last. Where the ramp is known it is the course, and within
// 150 m of it the exercise ends.
type holdTry struct {
	seconds float64
	from    boat.Time
	toRamp  bool
}

const (
	holdS      = 120.0
	holdReadyS = 10.0
	holdSDDeg  = 6.0
	holdShare  = 0.9
	holdGain   = 0.05
	holdPartS  = 30.0
	rampOffDeg = 15.0
	rampLeastM = 250.0
	rampUpDeg  = 10.0 // clearance from her best angle to windward
)

func newHold(st boat.PlanStep) try {
	t := &holdTry{seconds: st.Seconds}
	if t.seconds < 2*holdPartS {
		t.seconds = holdS
	}
	return t
}

func (t *holdTry) step(s *Sight) move {
	if t.from == 0 {
		return t.ready(s)
	}
	m := move{begun: true, text: "leave the helm, sheet for speed", mute: boat.Mute{Helm: true}}
	d, _ := s.rampOff()
	switch {
	case s.inTurn() || !s.Mode.Sailing():
		if s.Now.Seconds(t.from) < holdPartS {
			return void("she turned at once")
		}
		return failed("", fmt.Sprintf("the course was left after %.0f s", s.Now.Seconds(t.from)))
	case t.toRamp && d < rampM && s.Now.Seconds(t.from) < 2*holdPartS:
		return void("the ramp came too near")
	case s.Now.Seconds(t.from) >= t.seconds || t.toRamp && d < rampM:
		m.end = t.result(s)
	}
	return m
}

func (t *holdTry) ready(s *Sight) move {
	m := waiting("waits for a steady course")
	if !s.past.steady(s.Now, holdReadyS, holdSDDeg+4) {
		return m
	}
	t.from = s.Now
	m = move{begun: true, text: "leave the helm, sheet for speed", mute: boat.Mute{Helm: true}}
	if d, bearing := s.rampOff(); d > rampLeastM && s.offWind(bearing) >= s.Target.BeatDeg+rampUpDeg && s.offWind(bearing) <= 150 {
		t.toRamp = true
		t.from = s.Now.After(compareSetS) // the turn onto it does not count
		if s.Settings.Level != boat.Beginner {
			m.prompt = &boat.Prompt{Key: boat.Bearing, Variant: "ramp", TrueDeg: boat.Some(bearing), WhyCode: "exercise", Why: fmt.Sprintf("hold a course to the ramp, %.0f m", d)}
		}
	}
	return m
}

// rampOff returns how far the ramp is, metres, and in which direction; 0 where it is not known.
func (s *Sight) rampOff() (m, bearing float64) {
	if !s.Water.RampOK || !s.State.PosOK {
		return 0, 0
	}
	b, ok := geo.Bearing(s.State.Pos, s.Water.Ramp)
	if !ok {
		return 0, 0
	}
	return geo.Distance(s.State.Pos, s.Water.Ramp), b
}

// offWind is the angle between a direction and the wind, 0..180.
func (s *Sight) offWind(deg float64) float64 { return math.Abs(geo.Diff(s.Wind.DirDeg.Or(deg), deg)) }

func (t *holdTry) result(s *Sight) *end {
	points := s.past.since(t.from)
	h, sd := angleMeanSD(points, headingOf)
	first := boat.Mean(s.past.between(t.from, t.from.After(holdPartS)), shareOf)
	last := boat.Mean(s.past.last(s.Now, holdPartS), shareOf)
	if !h.OK || !first.OK || !last.OK {
		return &end{void: true, why: "heading or speed was not heard all the while"}
	}
	gain := last.Val - first.Val
	x := &end{good: sd <= holdSDDeg && (last.Val >= holdShare || gain >= holdGain),
		why:   fmt.Sprintf("course held within %.0f°, %.0f %% of her speed at the end, %.0f %% at first", sd, 100*last.Val, 100*first.Val),
		score: map[string]float64{"steady_deg": sd, "share": last.Val, "gain_share": gain}}
	if _, b := s.rampOff(); t.toRamp && math.Abs(geo.Diff(b, h.Val)) > rampOffDeg {
		x.good = false
		x.why += fmt.Sprintf("; the ramp lay %.0f° beside it", math.Abs(geo.Diff(b, h.Val)))
	}
	return x
}
