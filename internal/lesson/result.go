package lesson

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/sim"
)

// Result is what came of one lesson or of many.
type Result struct {
	Lessons     int
	Cues        int
	Corrections int
	Taught      Sailed // while somebody might speak
	Quiet       Sailed // in the quiet at the end
}

// Sailed is a stretch of sailing, measured.
type Sailed struct {
	BeatS  float64 // seconds on the way to windward: beating, fallen off, tacking, stuck
	UpM    float64 // metres made good to windward in them, against the wind as it stood
	Tacks  int
	IronsS float64
	AllS   float64
}

// Merge adds another result.
func (r *Result) Merge(o *Result) {
	r.Lessons += o.Lessons
	r.Cues += o.Cues
	r.Corrections += o.Corrections
	r.Taught.merge(o.Taught)
	r.Quiet.merge(o.Quiet)
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
	if t.AimDeg > upwindDeg {
		return
	}
	switch t.Mode {
	case boat.Tacking:
		if before != boat.Tacking {
			s.Tacks++
		}
	case boat.Irons:
		s.IronsS += stepS
	case boat.CloseHauled, boat.Reaching, boat.Stopped:
	default:
		return
	}
	s.BeatS += stepS
	s.UpM += t.SOGKn * geo.KnotMS * math.Cos(geo.Rad(geo.Diff(t.COGDeg, t.TWDDeg))) * stepS
}
