package cue

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// luffTest: a held course and nothing better known: the sail's own luff tells
// more than any sensor. Asked ever more seldom while it brings nothing; where it
// did bring speed, the sheet wanders and will again.
type luffTest struct {
	course  spell
	asked   int // times for nothing since the last turn
	turned  boat.Time
	at      boat.Time // of the last, 0 when what it brought is known
	speedKn float64   // before it
}

const (
	heldS      = 20.0
	heldDeg    = 8.0
	slowForS   = 8.0 // before trim is asked about
	testGapS   = 60.0
	testGapMax = 300.0
	testDoneS  = 25.0 // for hand and boat
	testGain   = 0.05 // share of speed that is no chance
)

func (r *luffTest) propose(v *view) (candidate, bool) {
	if v.mem.turned != r.turned {
		r.turned, r.asked, r.at = v.mem.turned, 0, 0
	}
	r.learn(v)
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
	now, speed := v.Now, boat.Mean(v.past.in(v.Now, span{slowForS, 0}), speedOf)
	k.done = func() { r.asked, r.at, r.speedKn = r.asked+1, now, speed.Or(0) }
	return k, true
}

// learn looks what the last test brought.
func (r *luffTest) learn(v *view) {
	if r.at == 0 || v.Now.Seconds(r.at) < testDoneS {
		return
	}
	r.at = 0
	after := boat.Mean(v.past.in(v.Now, span{slowForS, 0}), speedOf)
	if after.OK && r.speedKn > 0 && after.Val >= (1+testGain)*r.speedKn {
		r.asked = 0
	}
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
		return v.Share.Val < 0.85 && off.OK && (math.Abs(off.Val) < v.steerBand() || off.Val > 0 && v.Share.Val < lowShare)
	}
	return false
}
