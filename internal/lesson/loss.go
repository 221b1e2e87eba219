package lesson

import (
	"fmt"
	"io"
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/sim"
)

// Fault is what keeps her from her best to windward, as it truly is. Where several
// hold, the first of the list is counted.
type Fault int

// The faults.
const (
	InIrons Fault = iota
	InTack
	AfterTack // the afterS seconds from the end of a tack or of irons
	High      // closer to the wind than her best angle by faultHelmDeg
	Low       // further off it
	SheetIn   // too far by faultSheetDeg
	SheetOut
	NoFault
)

func (f Fault) String() string {
	return []string{"in irons", "in a tack", "after a tack", "too high", "too low", "sheet in", "sheet out", "none of these"}[f]
}

const (
	afterS        = 15.0
	faultHelmDeg  = 5.0
	faultSheetDeg = 6.0
)

// Losses is the time spent under each fault on the way to windward, and the metres
// to windward that were missing in it to her best.
type Losses [NoFault + 1]struct{ S, M float64 }

// losses measures a lesson while somebody might speak.
func (l *Log) losses() (out Losses) {
	turned := math.Inf(-1)
	for i, t := range l.Truths[:l.quietFrom()] {
		now := float64(i) * stepS
		if t.Mode == boat.Tacking || t.Mode == boat.Irons {
			turned = now
		}
		if !toWindward(t) {
			continue
		}
		f := fault(t, now-turned)
		out[f].S += stepS
		out[f].M += (t.BeatUpKn*geo.KnotMS - upMS(t, t.TWDDeg)) * stepS
	}
	return out
}

// fault names what is wrong, sinceS seconds after the last turn.
func fault(t sim.Truth, sinceS float64) Fault {
	off := math.Abs(t.TWADeg) - t.BeatDeg
	switch {
	case t.Mode == boat.Irons:
		return InIrons
	case t.Mode == boat.Tacking:
		return InTack
	case sinceS < afterS:
		return AfterTack
	case off < -faultHelmDeg:
		return High
	case off > faultHelmDeg:
		return Low
	case t.SheetErrDeg() > faultSheetDeg:
		return SheetIn
	case t.SheetErrDeg() < -faultSheetDeg:
		return SheetOut
	}
	return NoFault
}

// merge adds other losses.
func (l *Losses) merge(o Losses) {
	for f := range l {
		l[f].S += o[f].S
		l[f].M += o[f].M
	}
}

// LossTable writes where the way to windward was lost under each teacher: the share
// of the time on the way to windward, and the share of her best that was missing
// there, both percent.
func LossTable(w io.Writer, r Row) error {
	if _, err := fmt.Fprintf(w, "# %-14s %15s %15s %15s\n", "time, lost in %", Nobody, Ours, Knowing); err != nil {
		return err
	}
	for f := range NoFault + 1 {
		line := fmt.Sprintf("# %-14s", f)
		for t := range r.By {
			res := &r.By[t]
			all := res.Taught.BeatS
			best := res.Taught.UpM + res.Lost.sumM()
			line += fmt.Sprintf(" %7.1f %7.1f", 100*res.Lost[f].S/all, 100*res.Lost[f].M/best)
		}
		if _, err := fmt.Fprintln(w, line); err != nil {
			return err
		}
	}
	return nil
}

// sumM is all that was lost, metres to windward.
func (l *Losses) sumM() (m float64) {
	for _, f := range l {
		m += f.M
	}
	return m
}
