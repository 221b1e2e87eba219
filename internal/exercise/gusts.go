package exercise

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// gustTry: three minutes of steady heel. A gust is a rise of the heel by six degrees
// or more above its mean of the last twenty seconds; it is met when the heel is back
// within three degrees of that mean in four seconds, and she has not lost speed.
type gustTry struct {
	seconds float64
	from    boat.Time
	gust    boat.Time // since when one is under way
	base    float64   // heel before it
	kn      float64
	late    bool // counted, waiting until it is over
	seen    int
	met     int
}

const (
	gustsS   = 180.0
	riseDeg  = 6.0
	backTo   = 3.0
	meetS    = 4.0
	gustSD   = 4.0
	metShare = 0.75
)

func newGusts(st boat.PlanStep) try {
	t := &gustTry{seconds: st.Seconds}
	if t.seconds < 60 {
		t.seconds = gustsS
	}
	return t
}

func (t *gustTry) step(s *Sight) move {
	mute := boat.Mute{Helm: true, Sheet: true}
	heel, kn := s.heelDeg(), s.State.SpeedKn
	if t.from == 0 {
		if !s.past.steady(s.Now, 15, 8) || !heel.OK || s.offDeg() > 125 {
			return waiting("waits for a steady course, close-hauled or across the wind")
		}
		t.from = s.Now
	}
	if s.inTurn() || !s.straight() {
		return void("she turned").muted(mute)
	}
	if !heel.OK || !kn.OK {
		return void("heel or speed was not heard").muted(mute)
	}
	t.follow(s, heel.Val, kn.Val)
	m := move{begun: true, mute: mute, text: "out in the gust, in again in the lull"}
	if s.Now.Seconds(t.from) >= t.seconds {
		m.end = t.result(s)
	}
	return m
}

func (t *gustTry) follow(s *Sight, heel, kn float64) {
	if t.gust == 0 {
		if base := boat.Mean(s.past.last(s.Now, 20), heelOf); base.OK && heel >= base.Val+riseDeg {
			t.gust, t.base, t.kn, t.late = s.Now, base.Val, kn, false
			t.seen++
		}
		return
	}
	back := heel <= t.base+backTo
	if back && !t.late && kn >= 0.9*t.kn {
		t.met++
	}
	t.late = t.late || s.Now.Seconds(t.gust) > meetS
	if back || s.Now.Seconds(t.gust) > 30 {
		t.gust = 0
	}
}

func (t *gustTry) result(s *Sight) *end {
	points := s.past.since(t.from)
	_, sd := boat.MeanSD(points, heelOf)
	share := boat.Mean(points, shareOf).Or(0)
	x := &end{why: fmt.Sprintf("%d of %d gusts met in time, heel steady within %.0f°", t.met, t.seen, sd),
		score: map[string]float64{"heel_sd_deg": sd, "gusts": float64(t.seen), "met": float64(t.met), "share": share}}
	if t.seen == 0 {
		x.good = sd <= gustSD
		return x
	}
	x.good = float64(t.met) >= math.Ceil(metShare*float64(t.seen))
	return x
}
