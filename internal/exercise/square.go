package exercise

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// squareTry: the heading after the tack is named before it; what counts is the mean
// heading from settled on against the one that was named.
type squareTry struct {
	turn   *turnTry
	named  boat.Reading // true
	side   float64      // before the tack
	doneT  boat.Time
	tacked boat.Manoeuvre
}

const (
	squareDeg   = 10.0
	squareSkip  = 3.0
	squareSDDeg = 4.5 // up to this doubt of the wind the coach names headings
	squareS     = 12.0
)

func newSquare(boat.PlanStep) try {
	t := newShortTack(boat.PlanStep{}).(*turnTry)
	fast := t.ready
	t.ready = func(s *Sight) bool { // a heading is named only where it is sure enough
		return fast(s) && (s.Settings.Level == boat.Beginner || s.Wind.SDDeg <= squareSDDeg)
	}
	return &squareTry{turn: t}
}

func (t *squareTry) step(s *Sight) move {
	if t.doneT != 0 {
		return t.look(s)
	}
	if c, ok := s.spoke(boat.PrepareTack); ok {
		t.side = s.side()
		t.named = boat.Some(geo.Wrap360(s.Wind.DirDeg.Or(0) + float64(t.side*s.Target.BeatDeg)))
		if c.Amount.OK {
			t.named = boat.Some(s.State.FromCompass(c.Amount.Val, c.Ref))
		}
	}
	if m, ok := s.finished("tack"); ok {
		if !t.named.OK {
			return void("she tacked before the new heading was named")
		}
		t.doneT, t.tacked = s.Now, m
		if m.Settled != nil {
			t.doneT = *m.Settled
		}
		return move{begun: true, text: "on the new course"}
	}
	return t.turn.step(s)
}

func (t *squareTry) look(s *Sight) move {
	m := move{begun: true, text: "on the new course"}
	if s.Now.Seconds(t.doneT) < squareS {
		if s.inTurn() {
			return void("she turned again at once")
		}
		return m
	}
	h := angleMean(s.past.between(t.doneT.After(squareSkip), t.doneT.After(squareS)), headingOf)
	if !h.OK {
		return void("no heading was heard after the tack")
	}
	// Low is away from the wind: clockwise on port tack, which follows starboard.
	off := float64(t.side * geo.Diff(t.named.Val, h.Val))
	way := "low"
	if off < 0 {
		way = "high"
	}
	m.end = &end{
		good: math.Abs(off) <= squareDeg, why: fmt.Sprintf("came out %.0f° %s of the new course as meant", math.Abs(off), way),
		score: map[string]float64{"off_deg": off, "turn_deg": t.tacked.TurnDeg.Or(0)},
	}
	return m
}
