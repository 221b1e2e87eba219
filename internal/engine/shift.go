package engine

import (
	"fmt"

	"helmcue/internal/boat"
	"helmcue/internal/cue"
	"helmcue/internal/shift"
	"helmcue/internal/wind"
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
		e.tellClose(sit, c)
	}
	return e.shift
}

// tellClose lets the wind be found from how close she went.
func (e *Engine) tellClose(sit cue.Situation, c boat.Closeness) {
	kn := sit.Wind.SpeedKn
	if e.polar == nil || !kn.OK {
		return
	}
	best, ok := e.polar.Upwind(kn.Val)
	if !ok {
		return
	}
	side := -1.0
	if c.Starboard {
		side = 1
	}
	e.wind.Close(sit.Now, c.HeadingDeg, side, wind.Closest{
		BestDeg: best.TWADeg, Kept: shift.KeptShare,
		SpeedKn: func(twa float64) float64 { return e.polar.Speed(kn.Val, twa) },
	})
}

// asksCloseness says whether a cue asks how close she will go, for an exercise or
// because a shift was unclear.
func asksCloseness(c boat.Cue) bool { return c.Key == boat.Intro && c.Variant == closenessTest }
