package cue

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// luffTest: a held course and nothing better known: the sail's own luff tells
// more than any sensor. Asked ever more seldom while nothing changes.
type luffTest struct {
	course spell
	asked  int // times since the last turn
	turned boat.Time
}

const (
	heldS      = 20.0
	heldDeg    = 8.0
	slowForS   = 8.0 // before trim is asked about
	testGapS   = 60.0
	testGapMax = 300.0
)

func (r *luffTest) propose(v *view) (candidate, bool) {
	if v.mem.turned != r.turned {
		r.turned, r.asked = v.mem.turned, 0
	}
	r.course.see(v.Now, v.straight() && wantsTest(v) && v.past.steady(v.Now, heldS, heldDeg))
	gap := math.Min(testGapMax, testGapS*float64(int(1)<<min(r.asked, 3)))
	if !r.course.lasted(v.Now, slowForS) || v.mem.since(boat.LuffTest) < gap || v.mem.since(boat.Ease, boat.Trim, boat.Good, boat.Hold) < 30 {
		return candidate{}, false
	}
	k := candidate{
		cue:   boat.Cue{Key: boat.LuffTest, Conf: 0.6, WhyCode: "course_held"},
		class: teaching, since: r.course.since, life: 4, wait: 20, again: gap,
	}
	k.cue.Why = fmt.Sprintf("course held for %.0f s, %s", heldS, v.speedWords())
	if !v.Wind.Known {
		k.cue.WhyCode = "wind_unknown"
		k.cue.Why = fmt.Sprintf("course held for %.0f s; the wind is not known, the luff tells the trim", heldS)
	}
	k.done = func() { r.asked++ }
	return k, true
}

// wantsTest says whether trim could be at fault: slower than she could be at the
// right angle, or no wind known to compare with.
func wantsTest(v *view) bool {
	if v.blind() {
		return v.Now.Seconds(v.ModeSince) >= heldS
	}
	if !v.angled() || !v.Share.OK {
		return false
	}
	switch v.Mode {
	case boat.Reaching:
		return v.Share.Val < 0.9
	case boat.CloseHauled:
		off := v.offDeg()
		return v.Share.Val < 0.85 && off.OK && math.Abs(off.Val) < v.steerBand()
	}
	return false
}
