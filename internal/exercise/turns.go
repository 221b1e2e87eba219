package exercise

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// turnTry is a try that is one tack or gybe: ready says where it begins, judge what
// came of it by the engine's own score of the turn.
type turnTry struct {
	kind    string
	from    string // for people: where it begins
	readyS  float64
	ready   func(*Sight) bool
	judge   func(*Sight, boat.Manoeuvre) end
	call    string    // for people: what to do when she is ready
	begins  boat.Time // since when she is ready
	turned  boat.Time // last seen in a turn that began from there
	was     boat.Time // last ready
	asked   boat.Time
	stuck   bool
	mostDeg float64 // heel in the turn
}

const (
	againS     = 75.0 // a turn that was not made is asked for again
	memoryS    = 20.0 // so long ago she must have been ready
	scoreS     = 90.0 // until a turn is scored
	fromOffDeg = 58.0
	keptShare  = 0.5
	backTaus   = 5.0
	defLengths = 4.0
	gybeHeel   = 25.0
	gybeTurn   = 100.0
)

func (t *turnTry) step(s *Sight) move {
	if m, ok := s.finished(t.kind); ok {
		return t.finish(s, m)
	}
	if s.inTurn() {
		t.mostDeg = math.Max(t.mostDeg, s.heelDeg().Or(0))
		if t.was != 0 && s.Now.Seconds(t.was) < memoryS {
			t.turned = s.Now
		}
		return move{begun: t.was != 0, text: "turning"}
	}
	if s.Mode == boat.Irons {
		if t.was != 0 && s.Now.Seconds(t.was) < 60 && !t.stuck {
			t.stuck = true
			return move{begun: true, end: &end{why: "stuck in the wind", result: "stuck"}}
		}
		return waiting("in irons: first out of them")
	}
	if t.turned != 0 { // back to speed counts too
		if s.Now.Seconds(t.turned) > scoreS {
			return void("the " + t.kind + " could not be scored")
		}
		return move{begun: true, text: "let her run: the " + t.kind + " is being scored"}
	}
	if !s.straight() || !t.ready(s) {
		t.begins = 0
		return waiting("waits for " + t.from)
	}
	t.mostDeg = 0
	if t.begins == 0 {
		t.begins = s.Now
	}
	if s.Now.Seconds(t.begins) < t.readyS {
		return waiting("waits for " + t.from + ", held for a while")
	}
	t.was = s.Now
	m := waiting("ready: look round, then " + t.call)
	if !s.Planned && (t.asked == 0 || s.Now.Seconds(t.asked) > againS) && s.unfit() == "" {
		t.asked = s.Now
		m.turn = boat.TurnWish{Kind: t.kind, Why: "the exercise asks for a " + t.kind + " from " + t.from}
	}
	return m
}

func (t *turnTry) finish(s *Sight, m boat.Manoeuvre) move {
	if t.was == 0 || m.Start.Seconds(t.was) > memoryS {
		t.begins, t.was = 0, 0
		return void("the " + t.kind + " did not begin from " + t.from)
	}
	x := t.judge(s, m)
	return move{begun: true, end: &x}
}

// newReachTack: a tack from across the wind. Good when she keeps half her speed or
// has it back within five time constants.
func newReachTack(boat.PlanStep) try {
	return &turnTry{kind: "tack", call: "tack when it is clear", from: "a reach with way on", readyS: 15,
		ready: func(s *Sight) bool {
			a := s.offDeg()
			return a >= fromOffDeg && a <= 110 && s.Share.Or(0) >= slowShare
		},
		judge: func(s *Sight, m boat.Manoeuvre) end {
			kept := 0.0
			if m.EntryKn.Or(0) > 0 {
				kept = m.LeastKn.Or(0) / m.EntryKn.Val
			}
			back := m.RecoveredS.OK && m.RecoveredS.Val <= math.Max(15, backTaus*s.TauS)
			x := turned(m)
			x.good = m.Settled != nil && (kept >= keptShare || back)
			x.score["least_share"] = kept
			return x
		}}
}

// newShortTack: a tack close-hauled. Lengths lost are metres made good lost against
// keeping on, over the boat's length, as package manoeuvre scores them.
func newShortTack(st boat.PlanStep) try {
	most := st.Lengths
	if most <= 0 {
		most = defLengths
	}
	return &turnTry{kind: "tack", call: "tack when it is clear", from: "close-hauled with way on", readyS: 15,
		ready: func(s *Sight) bool { return s.Mode == boat.CloseHauled && s.Share.Or(0) >= 0.75 },
		judge: func(s *Sight, m boat.Manoeuvre) end {
			x := turned(m)
			if !m.LostLen.OK {
				x.void, x.why = true, "what the tack cost could not be worked out"
				return x
			}
			x.good, x.result = m.LostLen.Val <= most, lost(m.LostLen.Val)
			return x
		}}
}

// lost names the spoken result for lengths lost.
func lost(n float64) string {
	switch n = math.Round(n); {
	case n < 1:
		return "lost_0"
	case n <= 5:
		return fmt.Sprintf("lost_%.0f", n)
	}
	return "lost_more"
}

// newGybe: a gybe from a broad reach, called only after a yes.
func newGybe(boat.PlanStep) try {
	t := &turnTry{kind: "gybe", call: "gybe when it is said", from: "a broad reach", readyS: 10,
		ready: func(s *Sight) bool {
			a := s.offDeg()
			return a >= 115 && a <= 160 && s.calm()
		}}
	t.judge = func(s *Sight, m boat.Manoeuvre) end {
		x := turned(m)
		kept := 0.0
		if m.EntryKn.Or(0) > 0 {
			kept = m.LeastKn.Or(0) / m.EntryKn.Val
		}
		x.good = m.Settled != nil && t.mostDeg <= gybeHeel && m.TurnDeg.Or(180) <= gybeTurn
		x.score["most_heel_deg"], x.score["least_share"] = t.mostDeg, kept
		x.why += fmt.Sprintf(", heel at most %.0f°", t.mostDeg)
		return x
	}
	return t
}

// turned is the engine's score of a turn as the end of a try.
func turned(m boat.Manoeuvre) end {
	x := end{score: map[string]float64{}, why: "the " + m.Kind}
	put := func(name, words string, r boat.Reading) {
		if r.OK {
			x.score[name] = r.Val
		}
		if r.OK && words != "" {
			x.why += fmt.Sprintf(words, r.Val)
		}
	}
	put("turn_deg", " turned %.0f°", m.TurnDeg)
	put("recovered_s", ", back to speed in %.0f s", m.RecoveredS)
	put("lost_lengths", "", m.LostLen)
	switch n := math.Round(10*m.LostLen.Val) / 10; {
	case m.LostLen.OK && n > 0:
		x.why += fmt.Sprintf(", %.1f lengths lost", n)
	case m.LostLen.OK:
		x.why += ", nothing lost"
	}
	return x
}
