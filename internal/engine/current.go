package engine

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// When a current is worth a word. Common practice, no source.
const (
	currentKn     = 0.3  // from here on it moves a beginner's laylines
	currentGoneKn = 0.2  // below it what was told no longer holds
	currentSure   = 2.5  // standard deviations of either part
	currentLost   = 2.0  // of them, below which what was told no longer holds
	currentS      = 30.0 // so long must it be sure
	currentNewKn  = 0.4  // so different from what was told, it is told again
	currentRestS  = 300.0
)

// stream is the current as it is told: heading and course that disagree steadily.
type stream struct {
	since boat.Time // it differs, and surely, from what was told; 0: it does not
	told  boat.Current
	at    boat.Time // when it was told
	shown bool
}

// see takes what is believed and says whether there is something to tell.
func (r *stream) see(t boat.Time, c boat.Current) bool {
	kn := c.DriftKn()
	if r.shown && (!c.OK || kn < currentGoneKn || kn < currentLost*c.SDKn) {
		r.shown = false
	}
	news := !r.shown || math.Hypot(c.EastKn-r.told.EastKn, c.NorthKn-r.told.NorthKn) > math.Max(currentNewKn, currentSure*c.SDKn)
	switch {
	case !c.OK || kn < currentKn || kn < currentSure*c.SDKn || !news:
		r.since = 0
		return false
	case r.since == 0:
		r.since = t
	}
	if t.Seconds(r.since) < currentS || r.at != 0 && t.Seconds(r.at) < currentRestS {
		return false
	}
	r.since, r.told, r.at, r.shown = 0, c, t, true
	return true
}

// streams notes a current once it is sure, and again when it is much another.
func (e *Engine) streams(t boat.Time, c boat.Current) {
	if e.stream.see(t, c) {
		e.note(t, "current", fmt.Sprintf("heading and course disagree: the water sets towards %03.0f° true, about %.1f kn",
			math.Mod(c.SetDeg().Round(5).Val, 360), c.DriftKn()))
	}
}
