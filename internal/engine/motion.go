package engine

import (
	"helmcue/internal/boat"
	"helmcue/internal/cue"
	"helmcue/internal/wind"
)

// askedS is how long after a cue about the helm her heading shows what was asked
// for and not where the wind is: taken as evidence it would prove the coach right
// whatever he said.
const askedS = 60.0

// motion hands on what her own motion tells of the wind.
func (e *Engine) motion(sit cue.Situation) {
	if e.unmoved {
		return
	}
	e.wind.Motion(wind.Sight{
		State: sit.State, Mode: sit.Mode, Polar: e.polar.Speed,
		Coached: e.asked != 0 && sit.Now.Seconds(e.asked) < askedS,
	})
}

// steers says whether a cue asks for a heading.
func steers(c boat.Cue) bool {
	switch c.Key {
	case boat.HeadUp, boat.BearAway, boat.SteerTo, boat.Straighten:
		return true
	case boat.PrepareTack, boat.PrepareGybe:
		return c.Amount.OK
	}
	return false
}
