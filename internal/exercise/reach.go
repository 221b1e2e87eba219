package exercise

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// reachTry: a straight leg across the wind, through the wind, a straight leg back.
// The heading's scatter is a standard deviation about its own mean, the settling
// after the turn left out.
type reachTry struct {
	from  boat.Time // of the leg
	legs  []leg
	turnT boat.Time // the turn was finished
}

type leg struct{ sdDeg, share float64 }

const (
	legS       = 25.0
	reachSDDeg = 8.0
	settleS    = 8.0
	turnAwayS  = 4.0 // before a turn is noticed, it has begun
)

func newReach(boat.PlanStep) try { return &reachTry{} }

func (t *reachTry) step(s *Sight) move {
	if s.Mode == boat.Irons && len(t.legs) > 0 {
		return failed("", "stuck in the wind on the way round")
	}
	if _, ok := s.finished("gybe"); ok && len(t.legs) > 0 {
		return void("she went round by a gybe; this one is through the wind")
	}
	if _, ok := s.finished("tack"); ok && len(t.legs) == 1 {
		t.turnT, t.from = s.Now, 0
	}
	m := move{begun: len(t.legs) > 0, text: "waits for a straight course across the wind"}
	if s.inTurn() {
		t.close(s)
		m.text = "going round"
		return m
	}
	if !s.reaching() {
		if !s.straight() || len(t.legs) == 0 || s.Now.Seconds(t.turnT) > 20 {
			t.from = 0
		}
		return m
	}
	if t.from == 0 {
		t.from = s.Now
	}
	if sailed := s.Now.Seconds(t.from); sailed >= legS {
		m.text = "straight across the wind: turn through it when it is clear"
		if len(t.legs) == 1 && t.turnT != 0 && sailed >= legS+settleS {
			t.legs = append(t.legs, legOf(s, t.from.After(settleS), s.Now))
			m.end = t.result()
		}
	} else {
		m.text = fmt.Sprintf("across the wind, %.0f s more of it", math.Ceil((legS-sailed)/5)*5)
	}
	return m
}

// close ends the first leg where a turn begins.
func (t *reachTry) close(s *Sight) {
	if len(t.legs) == 0 && t.from != 0 && s.Now.Seconds(t.from) >= legS {
		t.legs = append(t.legs, legOf(s, t.from, s.Now.After(-turnAwayS)))
	}
	t.from = 0
}

func legOf(s *Sight, from, to boat.Time) leg {
	points := s.past.between(from, to)
	_, sd := angleMeanSD(points, headingOf)
	return leg{sd, boat.Mean(points, shareOf).Or(0)}
}

func (t *reachTry) result() *end {
	sd := math.Max(t.legs[0].sdDeg, t.legs[1].sdDeg)
	share := (t.legs[0].share + t.legs[1].share) / 2
	return &end{
		good:  sd <= reachSDDeg,
		why:   fmt.Sprintf("straight within %.0f° on the worse leg, %.0f %% of her speed", sd, 100*share),
		score: map[string]float64{"steady_deg": sd, "share": share},
	}
}
