package exercise

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// aloneTry is the last ten minutes without the voice. Her share of speed is the mean
// of every second under way out of turns; what was kept is that against the ten
// minutes before, where there were at least three with the voice.
type aloneTry struct {
	seconds float64
	from    boat.Time
	before  boat.Reading
	now     boat.Time
	sailedS float64
	ironsS  float64
	tacks   int
	lost    float64
	scored  int
}

const (
	aloneS     = 600.0
	aloneShare = 0.8
	aloneLeast = 0.6 // of the time under way
	beforeS    = 180 // points
)

func newAlone(st boat.PlanStep) try {
	t := &aloneTry{seconds: st.Seconds}
	if t.seconds < 60 {
		t.seconds = aloneS
	}
	return t
}

func (t *aloneTry) step(s *Sight) move {
	if t.from == 0 {
		if sailed := straightOf(s.past.last(s.Now, aloneS)); len(sailed) >= beforeS {
			t.before = boat.Mean(sailed, shareOf)
		}
		t.from, t.now = s.Now, s.Now
	}
	dt := math.Min(2, s.Now.Seconds(t.now))
	t.now = s.Now
	if s.Mode.Sailing() {
		t.sailedS += dt
	}
	if s.Mode == boat.Irons {
		t.ironsS += dt
	}
	if m, ok := s.finished("tack"); ok {
		t.tacks++
		if m.LostLen.OK {
			t.lost += m.LostLen.Val
			t.scored++
		}
	}
	m := move{begun: true, mute: boat.Mute{All: true}, text: fmt.Sprintf("on your own, %.0f min left", math.Ceil((t.seconds-s.Now.Seconds(t.from))/60))}
	if s.Now.Seconds(t.from) >= t.seconds {
		m.end = t.result(s)
	}
	return m
}

func straightOf(points []point) []point {
	var out []point
	for _, p := range points {
		if p.straight {
			out = append(out, p)
		}
	}
	return out
}

func (t *aloneTry) result(s *Sight) *end {
	share := boat.Mean(straightOf(s.past.since(t.from)), shareOf)
	if t.sailedS < aloneLeast*t.seconds || !share.OK {
		return &end{void: true, why: "she sailed too little of it to judge"}
	}
	x := &end{good: share.Val >= aloneShare && t.ironsS < 3, result: "alone_over",
		why:   fmt.Sprintf("%.0f %% of her speed on your own", 100*share.Val),
		score: map[string]float64{"share": share.Val, "tacks": float64(t.tacks), "irons_s": t.ironsS}}
	if t.before.OK && t.before.Val > 0.1 {
		x.score["kept_share"] = share.Val / t.before.Val
		x.why += fmt.Sprintf(", %.0f %% before", 100*t.before.Val)
	}
	if t.scored > 0 {
		x.score["lost_lengths"] = t.lost / float64(t.scored)
		x.why += fmt.Sprintf("; %d tacks, %.1f lengths each", t.tacks, t.lost/float64(t.scored))
	}
	return x
}
