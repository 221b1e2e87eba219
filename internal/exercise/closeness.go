package exercise

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// closenessTry: how close will she go, as a measurement: the smallest angle to the
// believed wind, meant over three seconds, at which she keeps most of her speed. It
// hangs on the believed wind: said is only whether it is closer than the best angle
// to windward by the polar.
type closenessTry struct {
	offDeg  float64 // before
	kn      float64
	begun   boat.Time
	closest float64
	least   float64 // speed on the way
}

const (
	closeReadyS = 12.0
	closeFrom   = 12.0 // lower than her best angle by more, coming up is no test
	upLeastDeg  = 4.0
	keptKn      = 0.85
	backKn      = 0.9
	backDeg     = 3.0
	closerDeg   = 3.0
	tooSlowKn   = 0.5
)

func newCloseness(boat.PlanStep) try { return &closenessTry{} }

func (t *closenessTry) step(s *Sight) move {
	m := move{begun: t.begun != 0, text: "waits for a steady course close-hauled", mute: boat.Mute{Helm: true}}
	kn := boat.Mean(s.past.last(s.Now, 3), knOf)
	switch {
	case s.inTurn() || s.Mode == boat.Irons:
		if t.begun == 0 {
			m.mute = boat.Mute{}
			return m
		}
		return move{begun: true, mute: m.mute, end: &end{why: "she came through or lost her way: less, and more slowly", result: "stuck"}}
	case !s.straight() || !kn.OK:
		return m
	case t.begun == 0:
		return t.ready(s, m)
	}
	off := s.offDeg()
	t.least = math.Min(t.least, kn.Val)
	if kn.Val >= keptKn*t.kn {
		t.closest = math.Min(t.closest, off)
	}
	if t.least < tooSlowKn*t.kn {
		return move{begun: true, mute: m.mute, end: &end{why: fmt.Sprintf("she all but stopped, %.1f of %.1f kn left", t.least, t.kn)}}
	}
	m.text = "coming up: as the luff goes soft, fall back a little"
	if off >= t.closest+backDeg && kn.Val >= backKn*t.kn {
		m.end = t.result(s)
	}
	return m
}

func (t *closenessTry) ready(s *Sight, m move) move {
	near := s.offDeg()-s.halfDeg() < s.Target.NoSailUp+nearWind
	if s.Mode != boat.CloseHauled || s.offDeg() > s.Target.BeatDeg+closeFrom || t.kn == 0 && (near || !s.past.steady(s.Now, closeReadyS, 5)) {
		m.mute = boat.Mute{}
		return m
	}
	if t.kn == 0 {
		t.offDeg, t.kn = s.past.twaOff(s.Now, closeReadyS), boat.Mean(s.past.last(s.Now, closeReadyS), knOf).Or(0)
		m.prompt = &boat.Prompt{Key: boat.Look, Variant: "luff", WhyCode: "luff", Why: "the exercise: come up by the luff to see how close she goes"}
	}
	m.text = "ready: come up slowly"
	if s.offDeg() <= t.offDeg-upLeastDeg {
		t.begun, t.closest, t.least = s.Now, s.offDeg(), t.kn
		m.begun = true
	}
	return m
}

func (t *closenessTry) result(s *Sight) *end {
	x := &end{
		good: t.offDeg-t.closest >= upLeastDeg, result: "as_close",
		why:   fmt.Sprintf("from %.0f° up to %.0f° to the wind with her speed held", t.offDeg, t.closest),
		score: map[string]float64{"closest_deg": t.closest, "gained_deg": t.offDeg - t.closest},
	}
	if t.closest <= s.Target.BeatDeg-closerDeg {
		x.result = "closer"
	}
	return x
}
