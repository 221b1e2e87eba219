package debrief

import (
	"cmp"
	"math"
	"slices"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Cost is metres that went on one thing: made good to windward where she sails
// to windward, along her course elsewhere.
type Cost struct {
	What    string // one of the Cost constants
	Metres  float64
	Seconds float64 // how long it went on
}

// What metres go on.
const (
	CostTacks    = "tacks"    // the tacks' own loss
	CostPinching = "pinching" // closer to the wind than the best angle
	CostLow      = "low"      // further off the wind than the best angle, close-hauled
	CostSlow     = "slow"     // at a good angle, under nine tenths of the speed
	CostIrons    = "irons"    // stuck head to wind
)

// Bounds of "on target". Common practice, no source.
const (
	closeDeg  = 5.0  // either side of the best angle
	onShare   = 0.9  // of the speed expected
	fastShare = 0.8  // what still counts as a good run
	settleS   = 20.0 // a turn that never settled is over by then
	beatNear  = 4.0  // degrees: near enough to the best angle to know the best speed there
	beatOldS  = 600.0
)

// weigh goes through the seconds outside turns: how many were on target, and
// where metres went.
func (r *Report) weigh() {
	var pinching, low, slow, irons Cost
	pinching.What, low.What, slow.What, irons.What = CostPinching, CostLow, CostSlow, CostIrons
	var best beat
	var run float64
	var runT boat.Time
	for i, w := range r.rows {
		s := r.lasts(i)
		best.learn(w)
		if w.mode == boat.Irons {
			irons.Seconds += s
			irons.Metres += best.vmg(w.t) * s
		}
		if !straight(w.mode) || r.turning(w.t) {
			run = 0
			continue
		}
		if w.share.OK && w.share.Val >= fastShare {
			if run == 0 {
				runT = w.t
			}
			run += s
			if run > r.Target.LongestFastS {
				r.Target.LongestFastS, r.Target.LongestFastT = run, runT
			}
		} else {
			run = 0
		}
		lost := r.second(w, s, best) * s
		switch r.angle(w, s) {
		case CostPinching:
			pinching.add(lost, s)
		case CostLow:
			low.add(lost, s)
		default:
			if w.share.OK && w.share.Val < onShare {
				slow.add(lost, s)
			}
		}
	}
	r.Costs = nil
	for _, c := range []Cost{r.tacks(), pinching, low, slow, irons} {
		if c.Seconds > 0 || c.Metres > 0 {
			r.Costs = append(r.Costs, c)
		}
	}
	slices.SortStableFunc(r.Costs, func(a, b Cost) int {
		return cmp.Compare(math.Round(b.Metres), math.Round(a.Metres))
	})
}

func (c *Cost) add(metres, s float64) {
	c.Metres += metres
	c.Seconds += s
}

func straight(m boat.Mode) bool {
	return m == boat.CloseHauled || m == boat.Reaching || m == boat.Running
}

// second counts the second and returns the metres a second lost in it.
func (r *Report) second(w row, s float64, best beat) float64 {
	if !w.share.OK || !w.targetKn.OK || w.targetKn.Val <= 0 {
		return 0
	}
	r.Target.SpeedS += s
	if w.share.Val >= onShare {
		r.Target.SpeedOnS += s
	}
	kn := float64(w.share.Val * w.targetKn.Val)
	if w.mode != boat.CloseHauled {
		return math.Max(0, w.targetKn.Val-kn) * geo.KnotMS
	}
	if top := best.vmg(w.t); top > 0 && w.twaDeg.OK {
		return math.Max(0, top-float64(kn*geo.KnotMS)*math.Cos(geo.Rad(w.twaDeg.Val)))
	}
	return 0
}

// angle counts a close-hauled second by its angle and names what it is off by.
func (r *Report) angle(w row, s float64) string {
	if w.mode != boat.CloseHauled || !w.twaDeg.OK || !w.targetTWA.OK {
		return ""
	}
	r.Target.UpwindS += s
	switch off := math.Abs(w.twaDeg.Val) - math.Abs(w.targetTWA.Val); {
	case off < -closeDeg:
		r.Target.UpwindHighS += s
		return CostPinching
	case off > closeDeg:
		r.Target.UpwindLowS += s
		return CostLow
	}
	r.Target.UpwindOnS += s
	return ""
}

func (r *Report) tacks() Cost {
	c := Cost{What: CostTacks}
	for _, t := range r.Turns {
		if t.Kind == "tack" && t.LostLengths.OK {
			c.Metres += math.Max(0, t.LostLengths.Val) * r.LengthM
			c.Seconds += t.RecoveredS.Or(0)
		}
	}
	return c
}

// turning says whether t lies within a tack or gybe: those are scored whole.
func (r *Report) turning(t boat.Time) bool {
	for _, m := range r.Turns {
		end := m.Eye.After(settleS)
		if m.Settled != nil {
			end = *m.Settled
		}
		if t >= m.Start && t <= end {
			return true
		}
	}
	return false
}

// beat is the best she can make to windward, as last seen near the best angle:
// the status lines carry the speed expected at the present angle only.
type beat struct {
	t   boat.Time
	mps float64
	ok  bool
}

func (b *beat) learn(w row) {
	if w.mode != boat.CloseHauled || !w.twaDeg.OK || !w.targetTWA.OK || !w.targetKn.OK {
		return
	}
	if math.Abs(math.Abs(w.twaDeg.Val)-math.Abs(w.targetTWA.Val)) <= beatNear {
		b.t, b.ok = w.t, true
		b.mps = float64(w.targetKn.Val*geo.KnotMS) * math.Cos(geo.Rad(w.targetTWA.Val))
	}
}

// vmg returns metres a second made good, 0 where it was not seen of late.
func (b beat) vmg(t boat.Time) float64 {
	if !b.ok || t.Seconds(b.t) > beatOldS {
		return 0
	}
	return b.mps
}
