package cue

import (
	"helmcue/internal/boat"
)

// gate holds a candidate back and names why, or returns "".
type gate func(*view, candidate) string

// gates lists every gate. Each can hold back any candidate, so their order is
// only the order of the reasons.
func gates() []gate {
	return []gate{byDeafness, byMode, byLevel, bySpeech, byQuiet, byShock, byStart, byTurn, byPlan, byWait,
		bySpacing, byOpposite, byFocus, byAir, byExercise, byShore, byRamp, byBudget}
}

// held returns why the candidate may not be spoken now, or "" where it may.
func held(v *view, k candidate) string {
	for _, g := range gates() {
		if why := g(v, k); why != "" {
			return why
		}
	}
	return ""
}

// byDeafness: without fresh samples there is nothing to say about the sailing.
func byDeafness(v *view, k candidate) string {
	if v.Deaf && k.cue.Key != boat.System && k.cue.Key != boat.Say {
		return "deaf"
	}
	return ""
}

// byMode: a boat that does not sail is not coached. Letting the sheet go is right
// for a waiting boat too; a boat lying still with much heel is a phone in a hand.
func byMode(v *view, k candidate) string {
	switch k.cue.Key {
	case boat.System, boat.OverLimit, boat.WindLost, boat.Say:
		return ""
	case boat.Result:
		if v.Mode == boat.Waiting || v.Mode == boat.Stopped {
			return ""
		}
	case boat.LetGo:
		if v.Mode == boat.Waiting || v.Mode == boat.Unknown && v.State.SpeedKn.Or(0) >= noWindKn {
			return ""
		}
	case boat.LuffTest, boat.Look, boat.Shore, boat.Dark, boat.SitOut, boat.Ease, boat.Good, boat.Rest:
		if v.blind() {
			return ""
		}
	case boat.InIrons:
		if v.Mode == boat.Waiting {
			return "" // the last step, when she has just fallen off
		}
	}
	if v.Mode.Sailing() || v.Mode == boat.Irons {
		return ""
	}
	return "mode"
}

// byLevel: a beginner hears no number.
func byLevel(v *view, k candidate) string {
	if !v.beginner() {
		return ""
	}
	switch k.cue.Key {
	case boat.SteerTo, boat.Lifted, boat.Headed:
		return "level"
	}
	if k.cue.Ref != "" {
		return "level"
	}
	return ""
}

// bySpeech: one voice at a time; only danger breaks in.
func bySpeech(v *view, k candidate) string {
	if v.Now < v.mem.busyTill && k.class != danger {
		return "speaking"
	}
	return ""
}

// byQuiet: the sailor asked for silence; a person's own words still pass.
func byQuiet(v *view, k candidate) string {
	if v.Now < v.mem.quietTill && k.class != danger && k.cue.Key != boat.Say {
		return "quiet"
	}
	return ""
}

// byShock: after a fright, silence; a boat in irons again still needs help.
func byShock(v *view, k candidate) string {
	if v.Now < v.mem.shockTill && k.class != danger && k.cue.Key != boat.Say && k.cue.Key != boat.InIrons {
		return "after a fright"
	}
	return ""
}

func byStart(v *view, k candidate) string {
	if v.Now.Seconds(v.mem.started) < startS && k.class != danger && k.cue.Key != boat.Say {
		return "just started"
	}
	return ""
}

// byTurn: in a turn only its own words.
func byTurn(v *view, k candidate) string {
	if v.inTurn() && k.class < turning {
		return "turn"
	}
	return ""
}

// byPlan: a sailor who is getting ready for a turn is told nothing else.
func byPlan(v *view, k candidate) string {
	if v.mem.plan.under() && k.class < turning && k.class != warning {
		return "turn ahead"
	}
	return ""
}

// byWait: after a cue, silence for the hand to act and the boat to answer.
func byWait(v *view, k candidate) string {
	if v.Now < v.mem.waitTill && k.class < turning && k.class != confirming {
		return "wait"
	}
	return ""
}

// bySpacing: the same key not again too soon.
func bySpacing(v *view, k candidate) string {
	for i := len(v.mem.said) - 1; i >= 0; i-- {
		s := v.mem.said[i]
		if s.cue.Key != k.cue.Key || k.cue.Key == boat.System && s.cue.Variant != k.cue.Variant {
			continue
		}
		if v.Now.Seconds(s.cue.T) < k.again {
			return "spacing"
		}
		return ""
	}
	return ""
}

// Contradictions: never within oppositeS; for doubtfulS only when the reason is
// twice as strong as needed.
const (
	oppositeS = 20.0
	doubtfulS = 180.0
)

func byOpposite(v *view, k candidate) string {
	if k.class == danger {
		return ""
	}
	for i := len(v.mem.said) - 1; i >= 0; i-- {
		s := v.mem.said[i]
		ago := v.Now.Seconds(s.cue.T)
		if ago > doubtfulS {
			return ""
		}
		if !opposite(s.cue, k.cue) && !(ago <= oppositeS && crosses(s.cue, k.cue)) {
			continue
		}
		if ago <= oppositeS || k.over > 0 && k.over < 2 {
			return "opposite"
		}
	}
	return ""
}

// crosses says whether a heading and a change of heading may contradict each
// other: which way a heading turns her depends on where she was.
func crosses(a, b boat.Cue) bool {
	changes := func(c boat.Cue) bool { return c.Key == boat.HeadUp || c.Key == boat.BearAway }
	return a.Key == boat.SteerTo && changes(b) || b.Key == boat.SteerTo && changes(a)
}

// byFocus: sheet or helm, one at a time.
func byFocus(v *view, k candidate) string {
	a, _ := pull(k.cue)
	if !k.correction() || a != sheet && a != helm || a == v.mem.focus || v.Now >= v.mem.focusEnd(v) {
		return ""
	}
	return "focus"
}

// byAir: in light air nothing on trim and pace; over the limit only sheet and
// weight.
func byAir(v *view, k candidate) string {
	if v.light {
		switch k.cue.Key {
		case boat.Ease, boat.Trim, boat.Back, boat.LuffTest, boat.BuildSpeed, boat.TooSlow, boat.LetRun, boat.SitIn:
			return "light air"
		}
	}
	if v.heavy && k.correction() && k.cue.Key != boat.Rest {
		if a, _ := pull(k.cue); a != sheet && a != weight {
			return "heavy air"
		}
	}
	return ""
}
