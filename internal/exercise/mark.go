package exercise

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// eightTry is a figure of eight across the wind: past a mark in the water, round
// through the wind, and past the mark again on the other tack. The score is how
// near she passed, the mean of both.
type eightTry struct {
	mark  geo.Position
	set   bool
	legT  boat.Time
	near  float64 // metres, least of this pass
	first float64 // of the first pass
	half  bool    // the first pass is done
	round bool    // the turn is done
	asked bool
}

const (
	eightAhead  = 12.0 // lengths to the mark, where it is set
	eightLeastM = 40.0
	beyondM     = 12.0 // past it, when the distance has grown by so much
	missLengths = 5.0
)

func newEight(boat.PlanStep) try { return &eightTry{} }

func (t *eightTry) step(s *Sight) move {
	if !s.State.PosOK {
		return waiting("waits: the position is not known")
	}
	if !t.set {
		return t.place(s)
	}
	if s.Mode == boat.Irons {
		return failed("stuck", "stuck in the wind on the way round")
	}
	if _, ok := s.finished("gybe"); ok {
		return void("she went round by a gybe; this one is through the wind")
	}
	d := geo.Distance(s.State.Pos, t.mark)
	m := move{begun: true, text: "to the mark"}
	if _, ok := s.finished("tack"); ok && t.half && !t.round {
		t.round, t.near, t.legT = true, d, s.Now
		m.prompt = s.bearing(t.mark, "back to the mark")
		return m
	}
	t.near = math.Min(t.near, d)
	passed := d > t.near+beyondM && s.Now.Seconds(t.legT) > 8
	switch {
	case passed && !t.half:
		t.first, t.half = t.near, true
	case passed && t.round:
		m.end = t.result(s)
	case t.half && !t.round:
		m.text = "past the mark: round through the wind when it is clear"
		if !t.asked && s.reaching() && d > t.first+2*beyondM {
			t.asked = true
			m.turn = boat.TurnWish{Kind: "tack", Why: "the figure of eight goes round through the wind here"}
		}
	}
	return m
}

// place sets the mark ahead of her.
func (t *eightTry) place(s *Sight) move {
	if !s.reaching() || !s.past.steady(s.Now, 12, 8) {
		return waiting("waits for a steady course across the wind")
	}
	ahead := math.Max(eightLeastM, eightAhead*s.Settings.LengthM)
	t.mark = geo.Destination(s.State.Pos, s.State.HeadingDeg.Or(0), ahead)
	if !s.room(t.mark) {
		return waiting("waits: the mark would lie too near the shore")
	}
	t.set, t.legT, t.near = true, s.Now, ahead
	return move{begun: true, text: "the mark is set ahead", prompt: s.bearing(t.mark, fmt.Sprintf("the mark is set %.0f m ahead", ahead))}
}

const (
	markRoom = 10.0 // lengths of clear water about a mark
	wayRoom  = 5.0  // and about the way to it
	wayParts = 6
)

// room says whether a mark and the straight way to it have clear water, as far as a
// chart tells. Without one nothing is known: there a person has said that it is clear.
func (s *Sight) room(mark geo.Position) bool {
	if s.Water.ClearM == nil {
		return true
	}
	b, ok := geo.Bearing(s.State.Pos, mark)
	d := geo.Distance(s.State.Pos, mark)
	for i := 1; ok && i < wayParts; i++ {
		at := geo.Destination(s.State.Pos, b, d*float64(i)/wayParts)
		ok = s.Water.ClearM(at) >= wayRoom*s.Settings.LengthM
	}
	return ok && s.Water.ClearM(mark) >= markRoom*s.Settings.LengthM
}

// bearing is a prompt that names where the mark lies.
func (s *Sight) bearing(mark geo.Position, why string) *boat.Prompt {
	b, ok := geo.Bearing(s.State.Pos, mark)
	if !ok {
		return nil
	}
	return &boat.Prompt{Key: boat.Bearing, Variant: "mark", TrueDeg: boat.Some(b), WhyCode: "exercise", Why: why}
}

func (t *eightTry) result(s *Sight) *end {
	miss := (t.first + t.near) / 2
	n := s.lengths(miss)
	most := math.Max(missLengths*s.Settings.LengthM, 2*s.State.PosAccM.Or(5))
	return &end{good: math.Max(t.first, t.near) <= most,
		why:   fmt.Sprintf("passed the mark %.0f and %.0f m off", t.first, t.near),
		score: map[string]float64{"miss_m": miss, "miss_lengths": n}}
}
