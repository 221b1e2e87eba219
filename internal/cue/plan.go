package cue

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// plan is a turn that a person asked for. The coach never makes one itself.
type plan struct {
	kind     string    // tack or gybe; empty for none
	asked    boat.Time //
	prepared boat.Time // prepare was spoken
	looked   boat.Time // the look before the turn was spoken
	waits    int       // times speed was asked for
	by       string    // who asked: instructor or exercise
	why      string
	own      bool // the sailor chooses the moment
}

const (
	leadS     = 8.0  // from prepare to turn_now, at least
	planS     = 90.0 // a plan that could not be carried out by then is given up
	gybeLimit = 1.0  // of the sailor's wind limit, above which no gybe is called
)

// under says whether a turn is being prepared or waited for.
func (p plan) under() bool { return p.kind != "" }

// request takes an instructor's wish for a turn.
func (m *memory) request(kind string) {
	m.plan = plan{kind: kind, asked: m.now, by: "instructor", why: "the instructor asked for a " + kind}
	m.note("turn_asked", "the instructor asks for a "+kind)
}

func (m *memory) giveUp(why string) {
	m.note("turn_dropped", "the "+m.plan.kind+" that was asked for is not called: "+why)
	m.plan = plan{}
}

// requestedTurn carries a plan out: speed first, prepare, look, and when the lead
// has passed, turn.
type requestedTurn struct{}

func (*requestedTurn) propose(v *view) (candidate, bool) {
	p := &v.mem.plan
	if !p.under() {
		return candidate{}, false
	}
	if v.inTurn() {
		return slowTurn(v)
	}
	if why := v.noTurn(); why != "" {
		v.mem.giveUp(why)
		return candidate{}, false
	}
	if p.kind == "tack" && v.Share.Or(0) < 0.7 && !v.light {
		return v.speedFirst()
	}
	since := v.Now.Seconds(p.prepared)
	switch {
	case p.prepared == 0:
		return v.prepare(), true
	case p.looked == 0 && !v.beginner() && since >= 3.5 && since < leadS:
		return v.lookFirst(), true
	case since >= leadS && p.own:
		*p = plan{}
	case since >= leadS && v.past.steady(v.Now, 3, 12):
		return v.turnNow(), true
	}
	return candidate{}, false
}

// noTurn returns why the turn that was asked for must not be called, or "".
func (v *view) noTurn() string {
	p := v.mem.plan
	switch {
	case v.Now.Seconds(p.asked) > planS:
		return fmt.Sprintf("she was not ready for it within %.0f s", planS)
	case v.Deaf:
		return "the phone is not heard"
	case !v.angled() || !v.Target.OK:
		return "the wind is not known"
	case !v.sided():
		return "the side of the wind is in doubt"
	case !v.Mode.Sailing():
		return "she is not sailing"
	case math.Abs(v.State.HeelDeg.Or(0)) > soonDeg:
		return "she heels too much"
	case p.kind == "tack" && math.Abs(v.twa.Val) > 110:
		return fmt.Sprintf("at %.0f° to the wind a tack is no one turn, head up first", math.Abs(v.twa.Val))
	case p.kind == "gybe" && math.Abs(v.twa.Val) < 100:
		return fmt.Sprintf("at %.0f° to the wind a gybe is no one turn, bear away first", math.Abs(v.twa.Val))
	case v.turnToShore(p.kind):
		return "the new course leads to the shore"
	case p.kind == "gybe" && (v.heavy || v.Wind.SpeedKn.Or(0) > gybeLimit*v.Settings.LimitKn):
		return "too much wind for a gybe, tack round instead"
	}
	return ""
}

func (v *view) prepare() candidate {
	p := &v.mem.plan
	key, best, way := boat.PrepareTack, v.Target.BeatDeg, 1.0
	if p.kind == "gybe" {
		key, best = boat.PrepareGybe, v.Target.RunDeg
	}
	if v.twa.Val < 0 {
		way = -1
	}
	k := candidate{class: turning, since: p.asked, life: 4, wait: 4, again: leadS}
	k.cue = boat.Cue{Key: key, Conf: v.angleConf(), WhyCode: p.by, Why: p.why}
	if !v.beginner() && v.Wind.DirDeg.OK && v.Wind.SDDeg <= sureSDDeg {
		if h, ref, ok := v.heading(geo.Wrap360(v.Wind.DirDeg.Val + float64(way*best))); ok {
			k.cue.Variant, k.cue.Amount, k.cue.Ref = "heading", h, ref
			k.cue.Why += fmt.Sprintf("; her new heading is %03.0f° %s", h.Val, ref)
		}
	}
	now := v.Now
	k.done = func() { p.prepared, p.looked = now, 0 }
	return k
}

func (v *view) lookFirst() candidate {
	p := &v.mem.plan
	variant := "windward_shoulder"
	if p.kind == "gybe" {
		variant = "under_sail"
	}
	k := candidate{class: turning, since: p.prepared, life: 4, wait: 3, again: 3}
	k.cue = boat.Cue{Key: boat.Look, Variant: variant, WhyCode: variant, Conf: 0.9, Why: "lookout before the " + p.kind}
	now := v.Now
	k.done = func() { p.looked = now }
	return k
}

func (v *view) turnNow() candidate {
	p := &v.mem.plan
	k := candidate{class: turning, since: p.prepared, life: 2, wait: 6, again: leadS}
	k.cue = boat.Cue{Key: boat.TurnNow, Conf: v.angleConf(), WhyCode: p.by,
		Why: fmt.Sprintf("%s asked for and prepared %.0f s ago, %s", p.kind, v.Now.Seconds(p.prepared), v.speedWords())}
	if p.kind == "gybe" {
		k.cue.Variant = "gybe"
	}
	k.done = func() { *p = plan{} }
	return k
}

func (v *view) speedFirst() (candidate, bool) {
	p := &v.mem.plan
	if p.waits >= 3 {
		v.mem.giveUp("she did not gather speed for it")
		return candidate{}, false
	}
	k := candidate{class: turning, since: p.asked, life: 3, wait: 5, again: 15}
	k.cue = boat.Cue{Key: boat.BuildSpeed, Conf: 0.8, WhyCode: "slow", Why: "a tack was asked for, but " + v.speedWords()}
	k.done = func() { p.waits++; p.prepared = 0 }
	return k, true
}

// slowTurn: she turns before she was told to. Too slow to come through the wind,
// and still able to fall back, she is told so; else the plan has done its work.
func slowTurn(v *view) (candidate, bool) {
	p := &v.mem.plan
	early := v.Turn.Phase == boat.Turning && v.Turn.Kind == "tack" && p.kind == "tack" && v.Target.OK && !v.light &&
		v.Turn.EntryKn < slowShare*v.Target.BeatKn && v.Turn.ToEyeS.Or(0) > 3 && v.TWADeg.OK && math.Abs(v.TWADeg.Val) > v.Target.NoSailUp
	if !early {
		*p = plan{}
		return candidate{}, false
	}
	k := candidate{class: turning, since: v.Turn.Start, life: 3, wait: 5, again: 10}
	k.cue = boat.Cue{Key: boat.TooSlow, Conf: 0.7, WhyCode: "slow",
		Why: fmt.Sprintf("the turn began at %.1f kn, %.1f kn would carry her through", v.Turn.EntryKn, 0.7*v.Target.BeatKn)}
	k.done = func() { p.prepared, p.looked = 0, 0 }
	return k, true
}
