package cue

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// ask is a request that waits for its answer, with the boat as she was.
type ask struct {
	key    boat.Key
	aim    aim
	id     int
	t      boat.Time
	amount float64 // degrees or a true heading
	off    float64 // angle to the wind, unsigned
	speed  boat.Reading
	share  boat.Reading
	windKn boat.Reading
	lean   float64
	sway   float64 // deviation of share of late: what gusts and waves make of it
}

const (
	helmWaitS  = 20.0
	sheetWaitS = 35.0
	swayS      = 8.0
	fasterBy   = 0.09 // of share, and what it sways by twice: less is a gust or a wave
	fasterMost = 0.2
)

// ask remembers the request in the candidate, if it is one whose answer shows.
func (m *memory) ask(k candidate, v *view) {
	if k.cue.Size == boat.Hair {
		return // a question: the trim search looks for its answer itself
	}
	switch k.cue.Key {
	case boat.HeadUp, boat.BearAway, boat.SteerTo, boat.Ease, boat.Trim, boat.LuffTest, boat.SitOut, boat.SitIn:
	default:
		return
	}
	a, _ := pull(k.cue)
	recent := v.past.in(v.Now, span{5, 0})
	_, sway := boat.MeanSD(v.past.in(v.Now, span{swayS, 0}), shareOf)
	m.asked = &ask{
		key: k.cue.Key, aim: a, id: k.cue.ID, t: v.Now, off: math.Abs(v.twa.Val), amount: k.cue.Amount.Or(0),
		speed: boat.Mean(recent, speedOf), share: boat.Mean(recent, shareOf), windKn: boat.Mean(recent, windOf), lean: leanDeg(v),
		sway: sway,
	}
	if k.cue.Key == boat.SteerTo && k.cue.Amount.OK {
		m.asked.amount = v.State.FromCompass(k.cue.Amount.Val, k.cue.Ref)
	}
}

// confirm: the change that was asked for came. Beginners hear it nearly each
// time, experts seldom.
type confirm struct{ came spell }

func (r *confirm) propose(v *view) (candidate, bool) {
	m := v.mem
	a := m.asked
	if a == nil {
		r.came = spell{}
		return candidate{}, false
	}
	limit := helmWaitS
	if a.aim == sheet {
		limit = math.Max(sheetWaitS, 5*v.TauS)
	}
	if v.Now.Seconds(a.t) > limit || v.inTurn() || v.Deaf {
		m.asked, r.came = nil, spell{}
		return candidate{}, false
	}
	what, ok := a.answered(v)
	if m.doneAt >= a.t && a.key == boat.LuffTest {
		what, ok = "the sailor says that it is done", true
	}
	r.came.see(v.Now, ok)
	if !r.came.lasted(v.Now, 1) && !(ok && m.doneAt >= a.t) {
		return candidate{}, false
	}
	m.answers[a.aim]++
	m.asked, r.came = nil, spell{}
	gap := 15.0
	if v.expert() {
		gap = 90
	}
	if m.lastGood != 0 && v.Now.Seconds(m.lastGood) < gap {
		return candidate{}, false
	}
	k := candidate{class: confirming, since: a.t, life: 1.5, wait: 3, again: gap}
	k.cue = boat.Cue{Key: boat.Good, Conf: 0.7, WhyCode: "answered", Why: fmt.Sprintf("asked %.0f s ago to %s: %s", v.Now.Seconds(a.t), asking(a.key), what)}
	if a.aim == sheet && v.Share.OK && v.Share.Val >= wellShare {
		k.cue.Key, k.cue.WhyCode = boat.Hold, "sheet_right" // there is nothing left to gain: hands off
	}
	return k, true
}

// asking is a request in plain words.
func asking(k boat.Key) string {
	switch k {
	case boat.HeadUp:
		return "head up"
	case boat.BearAway:
		return "bear away"
	case boat.LuffTest:
		return "try the sheet"
	case boat.SitOut:
		return "lean out"
	case boat.SitIn:
		return "sit in"
	}
	return string(k) // steer, ease, trim: words as they stand
}

// answered says whether the boat shows what was asked for, and how.
func (a *ask) answered(v *view) (string, bool) {
	switch a.key {
	case boat.HeadUp, boat.BearAway:
		way := 1.0
		if a.key == boat.HeadUp {
			way = -1
		}
		moved := way * (math.Abs(v.twa.Val) - a.off)
		return fmt.Sprintf("her angle to the wind went from %.0f° to %.0f°", a.off, math.Abs(v.twa.Val)),
			v.angled() && moved >= math.Max(4, 0.7*a.amount) && moved <= a.amount+12
	case boat.SteerTo:
		h := v.State.HeadingDeg
		return fmt.Sprintf("she steers within 6° of %03.0f° true", a.amount), h.OK && math.Abs(geo.Diff(h.Val, a.amount)) <= 6
	case boat.SitOut:
		return fmt.Sprintf("heel went from %.0f° to %.0f°", a.lean, leanDeg(v)),
			v.State.HeelDeg.OK && leanDeg(v) < math.Min(a.lean-5, leanOutDeg-2) && leanDeg(v) > -windwardDeg
	case boat.SitIn:
		return fmt.Sprintf("heel went from %.0f° to %.0f°", a.lean, leanDeg(v)), v.State.HeelDeg.OK && a.lean < -windwardDeg && leanDeg(v) > -3
	}
	return a.faster(v)
}

// faster says whether she goes faster than when the sheet was to be changed, by
// more than the wind explains. Less than a time constant is too early to tell.
func (a *ask) faster(v *view) (string, bool) {
	if v.Now.Seconds(a.t) < math.Max(4, v.TauS) {
		return "", false
	}
	recent := v.past.in(v.Now, span{4, 0})
	speed, wind := boat.Mean(recent, speedOf), boat.Mean(recent, windOf)
	share := boat.Mean(recent, shareOf)
	if a.share.OK && share.OK {
		return fmt.Sprintf("speed went from %.0f to %.0f %% of what she can do", 100*a.share.Val, 100*share.Val), share.Val >= a.share.Val+math.Min(fasterMost, fasterBy+float64(2*a.sway))
	}
	if !a.speed.OK || !speed.OK || wind.OK && a.windKn.OK && wind.Val > 1.05*a.windKn.Val {
		return "", false
	}
	return fmt.Sprintf("speed went from %.1f to %.1f kn", a.speed.Val, speed.Val), speed.Val >= math.Max(1.06*a.speed.Val, a.speed.Val+0.2)
}
