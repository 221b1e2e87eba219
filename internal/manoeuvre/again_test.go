package manoeuvre_test

import (
	"testing"

	"helmcue/internal/boat"
)

// A second tack while the first still waits for its speed to come back: from the eye
// until she has settled the new turn is told without a break.
func TestTheLastTackDoesNotEndThisOne(t *testing.T) {
	w := track{off: 45, kn: 4, helms: []helm{
		beat(20), {4, -45, 2}, {22, -45, 2.4}, // settled, but slow
		{4, 45, 1.6}, {10, 45, 2},
	}}.sail()
	seen := 0
	for at := 46.0; at <= 48.5; at += 0.1 {
		turn := w.at(at)
		if at > 48.2 && turn.Phase == boat.PastEye {
			seen++
		}
		if at > 47 && turn.Phase != boat.Turning && turn.Phase != boat.PastEye {
			t.Errorf("at %.1f s, in the second tack: phase %v", at, turn.Phase)
		}
	}
	if seen == 0 {
		t.Error("she never came past the eye")
	}
}
