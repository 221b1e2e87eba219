package engine

import (
	"math"

	"helmcue/internal/boat"
)

// factor learns how fast this boat is against her polar. It climbs to the speeds
// she shows now and then and sinks hardly at all: a learner who sails her badly
// must not lower what she could do.
type factor struct {
	off  float64 // value minus one
	last boat.Time
}

const (
	climb  = 0.004  // a second, while she is faster
	sink   = 0.0002 // a second, while she is slower
	lowest = 0.85
	utmost = 1.5
)

func (f *factor) value() float64 { return 1 + f.off }

func (f *factor) learn(t boat.Time, speed, want boat.Reading) {
	if t-f.last < secondMS {
		return
	}
	f.last = t
	if !speed.OK || !want.OK || want.Val < 1 {
		return
	}
	step := -sink
	if speed.Val > float64(want.Val*f.value()) {
		step = climb
	}
	f.off = math.Min(utmost-1, math.Max(lowest-1, f.off+step))
}
