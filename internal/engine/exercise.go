package engine

import (
	"helmcue/internal/boat"
	"helmcue/internal/cue"
	"helmcue/internal/exercise"
	"helmcue/internal/geo"
)

// exercises lets the exercise under way look at the boat, puts out where it stands
// and returns what it asks of the coach.
func (e *Engine) exercises(sit cue.Situation) boat.Guide {
	guide, out := e.drill.Step(exercise.Sight{
		Now: sit.Now, Settings: sit.Settings, State: sit.State, Wind: sit.Wind, TWADeg: sit.TWADeg,
		Target: sit.Target, Share: sit.Share, Mode: sit.Mode, Turn: sit.Turn, Finished: sit.Scored,
		TauS: sit.TauS, Deaf: sit.Deaf, Planned: e.coach.Planning(), Water: e.about(sit),
	})
	for i := range out {
		e.out = append(e.out, boat.Output{Exercise: &out[i]})
	}
	return guide
}

// clearM is how far clear water is looked for about a mark.
const clearM = 200.0

// about is what the exercises are told of the water: the room about her, the ramp and
// the marks of its chart.
func (e *Engine) about(sit cue.Situation) exercise.Water {
	var w exercise.Water
	if chart := e.lake.chart; chart != nil {
		w.ClearM = func(p geo.Position) float64 {
			if !chart.Afloat(p) {
				return 0
			}
			return chart.ClearM(p, clearM)
		}
	}
	w.Charted, w.Near = room(sit)
	w.Ramp, w.RampOK, w.Marks = e.lake.ramp, e.lake.rampOK, e.lake.buoys
	return w
}

// drilled hands an instructor's act to the exercises and notes why one was not followed.
func (e *Engine) drilled(a boat.Act) {
	if why := e.drill.Act(e.now, a); why != "" {
		e.note(e.now, "exercise_refused", why)
	}
}
