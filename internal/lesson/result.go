package lesson

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/sim"
)

// Result is what came of one lesson or of many.
type Result struct {
	Lessons  int
	Taught   Sailed // while somebody might speak
	Quiet    Sailed // in the quiet at the end
	Said     Said
	ByKey    map[boat.Key]Count // of the directed cues, those that were right
	TackLen  float64            // boat lengths lost in tacks to windward while taught
	TackSeen int                // of so many
	Lost     Losses             // on the way to windward while taught
}

// Sailed is a stretch of sailing, measured.
type Sailed struct {
	BeatS  float64 // seconds on the way to windward: beating, fallen off, tacking, stuck
	UpM    float64 // metres made good to windward in them, against the wind as it stood
	Tacks  int
	IronsS float64
	AllS   float64
}

// Said is what was said.
type Said struct {
	Cues, Corrections int
	AirS              float64 // of speech outside turns and danger
	Directed          Count   // cues with a direction, and the right ones
	Late              int     // right when begun, no longer right when heard
	Praise            Count   // praise for a change of sheet, and what was earned
	Contradictions    int     // orders opposite to one less than 20 s before
}

// Count is how often something was so, of how many times.
type Count struct{ N, Right int }

func (c *Count) add(right bool) {
	c.N++
	if right {
		c.Right++
	}
}

// Merge adds another count.
func (c *Count) Merge(o Count) { c.N, c.Right = c.N+o.N, c.Right+o.Right }

// Merge adds another result.
func (r *Result) Merge(o *Result) {
	r.Lessons += o.Lessons
	r.Taught.merge(o.Taught)
	r.Quiet.merge(o.Quiet)
	r.Said.merge(o.Said)
	r.TackLen += o.TackLen
	r.TackSeen += o.TackSeen
	r.Lost.merge(o.Lost)
	for _, k := range boat.Keys() {
		if n, ok := o.ByKey[k]; ok {
			if r.ByKey == nil {
				r.ByKey = map[boat.Key]Count{}
			}
			sum := r.ByKey[k]
			sum.Merge(n)
			r.ByKey[k] = sum
		}
	}
}

func (s *Said) merge(o Said) {
	s.Cues += o.Cues
	s.Corrections += o.Corrections
	s.AirS += o.AirS
	s.Directed.Merge(o.Directed)
	s.Late += o.Late
	s.Praise.Merge(o.Praise)
	s.Contradictions += o.Contradictions
}

func (s *Sailed) merge(o Sailed) {
	s.BeatS += o.BeatS
	s.UpM += o.UpM
	s.Tacks += o.Tacks
	s.IronsS += o.IronsS
	s.AllS += o.AllS
}

// VMGKn is the way made good to windward, knots; NaN where she never beat.
func (s Sailed) VMGKn() float64 { return s.UpM / s.BeatS / geo.KnotMS }

const (
	stepS     = 0.1
	upwindDeg = 62.0 // who means to sail no lower is on the way to windward
)

// see takes a tenth of a second.
func (s *Sailed) see(t sim.Truth, before boat.Mode) {
	s.AllS += stepS
	if !toWindward(t) {
		return
	}
	switch t.Mode {
	case boat.Tacking:
		if before != boat.Tacking {
			s.Tacks++
		}
	case boat.Irons:
		s.IronsS += stepS
	}
	s.BeatS += stepS
	s.UpM += upMS(t, t.TWDDeg) * stepS
}

// toWindward says whether she is on the way to windward: beating, fallen off from it,
// tacking or stuck.
func toWindward(t sim.Truth) bool {
	switch t.Mode {
	case boat.Tacking, boat.Irons, boat.CloseHauled, boat.Reaching, boat.Stopped:
		return t.AimDeg <= upwindDeg
	}
	return false
}

// upMS is how fast she goes towards where the wind comes from, metres a second.
func upMS(t sim.Truth, fromDeg float64) float64 {
	return t.SOGKn * geo.KnotMS * math.Cos(geo.Rad(geo.Diff(t.COGDeg, fromDeg)))
}
