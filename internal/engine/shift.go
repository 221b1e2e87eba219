package engine

import (
	"fmt"

	"helmcue/internal/boat"
	"helmcue/internal/cue"
	"helmcue/internal/shift"
)

// closenessTest is the variant of the words that ask how close she will go.
const closenessTest = "closeness_test"

// shifted lets the watch for shifts look at the boat.
func (e *Engine) shifted(sit cue.Situation) boat.Shift {
	in := shift.Sight{
		State: sit.State, Wind: sit.Wind, Target: sit.Target, Mode: sit.Mode, TWADeg: sit.TWADeg,
		Turn: sit.Turn, Coached: e.asked.leads(sit.Now),
	}
	if e.polar != nil {
		in.Polar = e.polar.Speed
	}
	in.State.T = sit.Now
	if e.deaf || sit.Mode == boat.Motoring {
		in.State.HeadingDeg = boat.Reading{}
	}
	was := e.shift.Close
	e.shift = e.shifts.Step(in)
	if c := e.shift.Close; c != was && c.T != 0 {
		e.note(sit.Now, "closeness", fmt.Sprintf("closeness test: her speed began to fall on %03.0f° true", c.HeadingDeg))
	}
	return e.shift
}

// asksCloseness says whether a cue asks how close she will go, for an exercise or
// because a shift was unclear.
func asksCloseness(c boat.Cue) bool { return c.Key == boat.Intro && c.Variant == closenessTest }
