package exercise

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// stopTry: from full way to still with a loose sheet, and off again. Stopping and
// starting are each timed by her speed alone.
type stopTry struct {
	entryKn float64
	slowT   boat.Time // she began to slow
	stillT  boat.Time
	firstT  boat.Time // the first way again
	stopS   float64
	inIrons bool
}

const (
	entryS     = 8.0
	fadeKn     = 0.9995 // a tenth of a second: what she did a while ago counts less
	leastEntry = 1.0
	slowing    = 0.7 // of the speed before
	stillShare = 0.2
	stillKn    = 0.5
	stillS     = 3.0
	slowMostS  = 45.0
	wayShare   = 0.3
	underWay   = 0.67
	stopGoodS  = 20.0
	startGoodS = 30.0
)

func newStop(boat.PlanStep) try { return &stopTry{} }

func (t *stopTry) step(s *Sight) move {
	kn := s.State.SpeedKn
	if !kn.OK {
		return waiting("waits: her speed is not known")
	}
	t.inIrons = t.inIrons || s.Mode == boat.Irons
	switch {
	case t.slowT == 0:
		return t.way(s, kn.Val)
	case t.stillT == 0:
		if kn.Val > 0.9*t.entryKn || s.inTurn() || s.Now.Seconds(t.slowT) > slowMostS {
			*t = stopTry{} // she only slowed, or turned
			return waiting("waits until she has way on")
		}
		if kn.Val <= math.Max(stillKn, stillShare*t.entryKn) {
			t.stillT, t.stopS = s.Now, s.Now.Seconds(t.slowT)
		}
		return move{begun: t.stillT != 0, text: "slowing down", mute: boat.Mute{Helm: true, Sheet: true}}
	}
	return t.start(s, kn.Val)
}

func (t *stopTry) way(s *Sight, kn float64) move {
	if s.inTurn() {
		t.entryKn = 0 // what a turn costs is no stopping
	}
	if m := boat.Mean(s.past.last(s.Now, entryS), knOf); m.OK && s.straight() && s.past.steady(s.Now, entryS, 15) {
		t.entryKn = math.Max(m.Val, fadeKn*t.entryKn)
	}
	if t.entryKn >= leastEntry && kn < slowing*t.entryKn && !s.inTurn() {
		t.slowT = s.Now
	}
	if t.entryKn < leastEntry {
		return waiting("waits until she has way on")
	}
	return waiting("waits until the sheet is let go")
}

func (t *stopTry) start(s *Sight, kn float64) move {
	m := move{begun: true, text: "still: trim in and sail off", mute: boat.Mute{Helm: true, Sheet: true}}
	lay := s.Now.Seconds(t.stillT)
	if t.firstT == 0 && lay >= stillS && kn > math.Max(stillKn, wayShare*t.entryKn) {
		t.firstT = s.Now
	}
	if t.firstT == 0 || kn < underWay*t.entryKn {
		return m
	}
	startS := s.Now.Seconds(t.firstT)
	m.end = &end{
		good:  t.stopS <= stopGoodS && startS <= startGoodS && !t.inIrons,
		why:   fmt.Sprintf("still after %.0f s, and %.0f s from the first way to sailing again", t.stopS, startS),
		score: map[string]float64{"stop_s": t.stopS, "start_s": startS},
	}
	if t.inIrons {
		m.end.why += "; she lay head to wind meanwhile"
	}
	return m
}
