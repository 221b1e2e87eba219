package cue

import (
	"fmt"

	"helmcue/internal/boat"
)

// lookAround: every few quiet minutes a look at what matters: the luff on a beat,
// the water, and under the sail, in turn.
type lookAround struct{ turn int }

const quietMinS = 240.0

func (r *lookAround) propose(v *view) (candidate, bool) {
	k := candidate{class: teaching, life: 4, wait: 8, again: quietMinS}
	quiet := min(v.mem.since(), v.Now.Seconds(v.mem.started))
	if quiet < quietMinS || !v.moving() || !v.straight() || v.leeComes() {
		return k, false
	}
	names := []string{"under_sail", "flat_water", "luff"}
	name := names[r.turn%3]
	if name == "luff" && v.Mode != boat.CloseHauled {
		name = "flat_water"
	}
	k.since = v.Now
	k.cue = boat.Cue{Key: boat.Look, Variant: name, WhyCode: name, Conf: 0.8, Why: fmt.Sprintf("%.0f quiet minutes: %s", quiet/60, lookReason(name))}
	k.done = func() { r.turn++ }
	return k, true
}

func lookReason(name string) string {
	switch name {
	case "luff":
		return "the luff tells whether she may come up"
	case "flat_water":
		return "flat water has no wind"
	}
	return "another boat may come up behind the sail"
}
