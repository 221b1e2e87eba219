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
	squareDeg  = 10.0
	squareSkip = 3.0
	squareS    = 12.0
)

func newSquare(boat.PlanStep) try {
	return &squareTry{turn: newShortTack(boat.PlanStep{}).(*turnTry)}
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
		return move{begun: true, text: "on the new course"}
	}
	return t.turn.step(s)
}

func (t *squareTry) look(s *Sight) move {
	m := move{begun: true, text: "on the new course"}
	if s.inTurn() {
		return void("she turned again at once")
	}
	if s.Now.Seconds(t.doneT) < squareS {
		return m
	}
	h := angleMean(s.past.since(t.doneT.After(squareSkip)), headingOf)
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
		good: math.Abs(off) <= squareDeg, why: fmt.Sprintf("came out %.0f° %s of the heading that was named", math.Abs(off), way),
		score: map[string]float64{"off_deg": off, "turn_deg": t.tacked.TurnDeg.Or(0)},
	}
	return m
}
