package shift

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// KeptShare of the speed she had before is the least in a closeness test: below, she
// is too close to the wind. Common practice, no source.
const KeptShare = 0.92

const (
	trialS  = 50.0 // for ear, hand and boat
	beforeS = 10.0
	lagS    = 4.0 // her speed follows her bow so late; the least, a boat's own is Sight's to say
	closeSD = 5.0 // degrees; common practice, no source
	leastUp = 3.0 // she must have tried
)

// trial is a closeness test under way: she comes up slowly until speed falls.
type trial struct {
	asked boat.Time
	path  []look
}

type look struct {
	t    boat.Time
	head float64
	kn   float64
}

// Asked says that the sailor was asked, at time t, to come up until the luff goes
// soft. What she does then is read as a measurement and not as evidence of the helm.
func (w *Watch) Asked(t boat.Time) {
	w.trial = trial{asked: t, path: w.trial.path}
}

// close follows the test and puts its result in the shift.
func (w *Watch) close(s *Sight) {
	h, kn, now := s.State.HeadingDeg, s.State.SpeedKn, s.State.T
	p := &w.trial
	if !h.OK || !kn.OK || !s.TWADeg.OK {
		*p = trial{}
		return
	}
	if n := len(p.path); n == 0 || now.Seconds(p.path[n-1].t) >= 0.95 {
		p.path = append(p.path, look{now, h.Val, kn.Val})
		p.path = p.path[max(0, len(p.path)-int(trialS+beforeS)):]
	}
	if p.asked == 0 {
		return
	}
	if now.Seconds(p.asked) > trialS {
		*p = trial{}
		return
	}
	if head, ok := p.found(s.side()); ok {
		w.shift.Close = boat.Closeness{T: now, HeadingDeg: head, SDDeg: closeSD, Starboard: s.side() > 0}
		*p = trial{}
	}
}

// found returns the heading at which her speed began to fall: that of lagS before
// three seconds of it were below KeptShare.
func (p *trial) found(side float64) (float64, bool) {
	first, kn, n := boat.Reading{}, 0.0, 0
	for _, l := range p.path {
		if l.t > p.asked {
			break
		}
		if p.asked.Seconds(l.t) <= beforeS {
			first, kn, n = boat.Some(l.head), kn+l.kn, n+1
		}
	}
	if n < 5 {
		return 0, false
	}
	kn /= float64(n)
	low := 0
	for _, l := range p.path {
		if l.t <= p.asked {
			continue
		}
		low++
		if l.kn >= KeptShare*kn {
			low = 0
		}
		if low < 3 {
			continue
		}
		head := p.at(l.t.After(-2 - lagS))
		up := float64(side * geo.Diff(first.Val, head))
		return head, up >= leastUp && math.Abs(up) < 40
	}
	return 0, false
}

func (p *trial) at(t boat.Time) float64 {
	head := p.path[0].head
	for _, l := range p.path {
		if l.t <= t {
			head = l.head
		}
	}
	return head
}
