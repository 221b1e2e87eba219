package cue

import (
	"math"

	"helmcue/internal/boat"
)

// exerciseRule speaks what an exercise under way asks for, and hands a turn that it
// wants to the same preparation as one an instructor asks for. An order that is not
// safe now is not proposed; the exercise waits for it and gives up.
type exerciseRule struct {
	spoken int // the last prompt
	turn   int // the last turn taken on
}

func (r *exerciseRule) propose(v *view) (candidate, bool) {
	if w := v.Guide.Turn; w.Kind != "" && w.ID != r.turn && !v.mem.plan.under() {
		r.turn = w.ID
		v.mem.plan = plan{kind: w.Kind, asked: v.Now, by: "exercise", why: w.Why, own: !w.Call}
	}
	p := v.Guide.Prompt
	if p == nil || p.ID == r.spoken {
		return candidate{}, false
	}
	k := candidate{class: lesson, since: p.Since, life: 4, wait: 3, again: 0}
	k.cue = boat.Cue{Key: p.Key, Variant: p.Variant, Amount: p.Amount, Conf: 0.8, WhyCode: p.WhyCode, Why: p.Why}
	switch p.Key {
	case boat.Intro:
		k.wait = 8
	case boat.HeadUp, boat.BearAway:
		k.life, k.wait, k.cue.Conf = 2, 6, v.angleConf()
		if !v.mayTurnBy(p.Key, p.Amount.Or(10)) {
			return k, false
		}
	}
	if p.TrueDeg.OK {
		deg, ref, ok := v.heading(p.TrueDeg.Val)
		if !ok {
			return k, false
		}
		k.cue.Amount, k.cue.Ref = deg, ref
	}
	k.done = func() { r.spoken = p.ID }
	return k, true
}

// mayTurnBy says whether an exercise may ask for a change of course: never up to the
// wind's eye, never towards a gybe, never while she heels much.
func (v *view) mayTurnBy(k boat.Key, deg float64) bool {
	if !v.straight() || !v.sided() || v.heavy || math.Abs(v.State.HeelDeg.Or(0)) > soonDeg {
		return false
	}
	if k == boat.HeadUp {
		return v.mayHeadUp(deg)
	}
	return v.mayBearAway(deg)
}

// byExercise: what an exercise wants left unsaid. Danger, warnings, the way out of
// irons and a person's own words never are.
func byExercise(v *view, k candidate) string {
	mute := v.Guide.Mute
	switch k.cue.Key {
	case boat.InIrons, boat.MindBoom, boat.Say:
		return ""
	}
	if k.class == danger || k.class == warning || k.class == lesson {
		return ""
	}
	a, _ := pull(k.cue)
	own := k.class <= steering || k.class == confirming
	switch {
	case mute.All:
		return "exercise"
	case mute.Helm && own && a == helm, mute.Sheet && own && a == sheet:
		return "exercise"
	}
	return ""
}

// Planning says whether a turn that was asked for is being prepared.
func (c *Coach) Planning() bool { return c.mem.plan.under() }
