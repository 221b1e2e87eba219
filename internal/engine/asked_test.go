package engine

import (
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/cue"
)

// A heading counts as asked for only where she sails it, or may yet.
func TestHeadingsAskedFor(t *testing.T) {
	sight := func(sec, hdg, twa float64) cue.Situation {
		return cue.Situation{Now: scriptStart.After(sec), State: boat.State{HeadingDeg: boat.Some(hdg)}, TWADeg: boat.Some(twa)}
	}
	up := boat.Cue{Key: boat.HeadUp, Amount: boat.Some(10)}
	low := boat.Cue{Key: boat.BearAway, Amount: boat.Some(5)}
	to := func(deg float64) boat.Cue {
		return boat.Cue{Key: boat.SteerTo, Amount: boat.Some(deg), Ref: boat.True}
	}
	for _, c := range []struct {
		name        string
		cue         boat.Cue
		twa, turned float64
		led         bool // after 40 s
	}{
		{"heads up on starboard tack", up, 55, 8, true},
		{"heads up on port tack", up, -55, -8, true},
		{"does nothing", up, 55, 1, false},
		{"falls off instead", up, 55, -9, false},
		{"bears away a little on starboard tack", low, 40, -3, true},
		{"bears away on port tack", low, -40, 5, true},
		{"steers the heading", to(120), 50, 17, true},
		{"steers another", to(160), 50, 17, false},
		{"straightens, which nobody can watch", boat.Cue{Key: boat.Straighten}, 50, 0, true},
	} {
		var r request
		r.ask(c.cue, sight(0, 100, c.twa))
		led := map[float64]bool{}
		for sec := 1.0; sec <= 75; sec++ {
			hdg := 100.0
			if sec > 6 {
				hdg += c.turned
			}
			r.watch(sight(sec, hdg, c.twa))
			led[sec] = r.leads(scriptStart.After(sec))
		}
		if !led[10] || led[70] || led[40] != c.led {
			t.Errorf("%s: led after 10, 40, 70 s: %t %t %t, want true %t false", c.name, led[10], led[40], led[70], c.led)
		}
	}
	if (&request{}).leads(scriptStart) {
		t.Error("led by nobody's word")
	}
}
