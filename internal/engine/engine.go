package engine

import (
	"helmcue/internal/boat"
	"helmcue/internal/cue"
	"helmcue/internal/exercise"
	"helmcue/internal/manoeuvre"
	"helmcue/internal/mode"
	"helmcue/internal/polar"
	"helmcue/internal/sense"
	"helmcue/internal/shift"
	"helmcue/internal/wind"
)

// Pace of thinking. Sheet and helm words must come within the second they help;
// a tenth of a second is the pace of the samples.
const (
	secondMS = 1000
	thinkMS  = 100
	// A silence longer than this is a break in the session, not a silence in it:
	// no status lines fill it.
	breakMS = 10 * 60 * secondMS
)

// Engine is one boat's engine. Make it with New; it is for one goroutine.
type Engine struct {
	set    boat.Settings
	filter *sense.Filter
	wind   *wind.Estimator
	polar  *polar.Polar
	watch  *manoeuvre.Watch
	judge  *mode.Judge
	coach  *cue.Coach
	drill  *exercise.Runner
	shifts *shift.Watch
	shift  boat.Shift // as it stands
	factor factor
	reckon reckoning
	target targetCache
	lake   lake
	stream stream

	now      boat.Time // the furthest input time seen
	met      bool      // an input has come
	begun    bool      // a sample has come
	thought  boat.Time // last time it thought
	second   boat.Time // next status line
	deaf     bool
	asked    request // last cue about the helm
	unmoved  bool    // leave out what motion tells of the wind: for comparison
	reported boat.Status
	once     map[string]bool // notes that are made once a session
	out      []boat.Output
}

// New makes an engine with default settings. Settings inputs change them.
func New() *Engine {
	e := &Engine{
		filter: sense.New(""), wind: wind.New(), watch: manoeuvre.New(), judge: mode.New(),
		drill: exercise.New(), shifts: shift.New(), once: map[string]bool{},
	}
	e.apply(boat.Settings{})
	return e
}

// Step takes one input and returns what it caused, ordered by time. The returned
// slice is the caller's to keep.
func (e *Engine) Step(in boat.Input) []boat.Output {
	e.out = nil
	if !e.met {
		e.met, e.now = true, in.T
	}
	first := !e.begun && in.Kind == boat.SampleIn
	switch {
	case first: // it may lie before what was told before it, which is then the time
		e.begun, e.now = true, max(e.now, in.T)
		e.second = e.now
	case in.T > e.now:
		e.advance(in)
	}
	e.take(in)
	if e.begun && (first || in.T >= e.now) {
		e.settle(e.now)
	}
	return e.out
}

// advance lets the silent seconds before the input pass.
func (e *Engine) advance(in boat.Input) {
	if !e.begun {
		e.now = in.T
		return
	}
	if in.T-e.now > breakMS {
		e.note(in.T, "break", "nothing was heard for more than ten minutes: a new stretch begins here")
		e.second, e.thought = in.T, 0
	}
	for ; e.second < in.T; e.second += secondMS {
		e.think(e.second)
		e.status(e.second)
	}
	e.now = in.T
}

// settle thinks at the input's own time when it is due, and reports on the second.
func (e *Engine) settle(t boat.Time) {
	onSecond := e.second == t
	if onSecond || e.thought == 0 || t-e.thought >= thinkMS {
		e.think(t)
	}
	if onSecond {
		e.status(t)
		e.second += secondMS
	}
}

// Settings returns what holds, with defaults filled in.
func (e *Engine) Settings() boat.Settings { return e.set }

func (e *Engine) note(t boat.Time, code, text string) {
	e.out = append(e.out, boat.Output{Note: &boat.Note{T: t, Code: code, Text: text}})
}

func (e *Engine) noteOnce(t boat.Time, code, text string) {
	if !e.once[code] {
		e.once[code] = true
		e.note(t, code, text)
	}
}
