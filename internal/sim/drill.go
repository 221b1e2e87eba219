package sim

import (
	"math"
	"math/rand/v2"

	"helmcue/internal/boat"
)

// drill is what the learner practises, as an introduction told, until a result says
// that it is learned. An exercise that the simulator does not know is sailed as
// always.
type drill struct {
	name string
	next float64 // when it is done again
}

// The exercises by the names in which they are introduced.
const (
	drillStop      = "stop_and_start"
	drillReach     = "reach_to_and_fro"
	drillReachTack = "tack_from_reach"
	drillClose     = "closeness_test"
	drillHold      = "hold_course"
)

const (
	drillReachDeg = 88.0
	drillLegS     = 48.0 // of a leg to and fro
	drillStopS    = 26.0 // with a loose sheet,
	drillStopDeg  = 65.0 // on a close reach, where it flaps freely
	drillUpDeg    = 8.0
)

// practise takes an introduction or a result in. It is not misheard: who does not
// understand what is to be practised asks.
func (l *learner) practise(r *rand.Rand, t float64, c boat.Cue) {
	if c.WhyCode != "exercise" {
		return
	}
	if c.Key == boat.Result {
		if c.Variant == "opened" || c.Variant == "plan_over" {
			l.stopDrill(r, t)
		}
		return
	}
	l.stopDrill(r, t)
	l.drill = drill{name: c.Variant, next: t + between(r, 8, 14)}
	if l.acrossTheWind() {
		l.enter(r, reach, t)
		l.goalDeg = drillReachDeg
		if l.drill.name == drillStop {
			l.goalDeg = drillStopDeg
		}
		l.turnAt = t + drillLegS
	}
}

// acrossTheWind says whether what is practised is sailed on a reach.
func (l *learner) acrossTheWind() bool {
	switch l.drill.name {
	case drillStop, drillReach, drillReachTack, drillHold:
		return true
	}
	return false
}

func (l *learner) stopDrill(r *rand.Rand, t float64) {
	if l.acrossTheWind() && l.leg == reach {
		l.enter(r, beat, t)
	}
	l.drill = drill{}
}

// drills does what is practised and says whether that leads instead of the round.
func (l *learner) drills(r *rand.Rand, t float64, h *hull) bool {
	if l.drill.name == drillClose && l.leg == beat && t >= l.drill.next {
		l.offDeg, l.offUntil = -drillUpDeg, t+10
		l.drill.next = t + between(r, 50, 70)
	}
	if !l.acrossTheWind() || l.leg != reach {
		return false
	}
	switch l.drill.name {
	case drillStop:
		if t >= l.drill.next && h.speedKn > 1.5 {
			l.freeTill = t + drillStopS
			l.drill.next = t + between(r, 75, 90)
		}
	case drillReach, drillReachTack:
		if t >= l.turnAt && math.Abs(h.twaDeg) > 60 {
			l.turnAt = t + drillLegS
			l.tryTack(r, t, h)
		}
	}
	return true
}
