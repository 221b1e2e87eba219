package engine

import (
	"helmcue/internal/boat"
	"helmcue/internal/cue"
	"helmcue/internal/wind"
)

// motion hands on what her own motion tells of the wind.
func (e *Engine) motion(sit cue.Situation) {
	e.asked.watch(sit)
	if e.unmoved {
		return
	}
	e.wind.Motion(wind.Sight{
		State: sit.State, Mode: sit.Mode, Polar: e.polar.Speed,
		Coached: e.asked.leads(sit.Now),
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
