package manoeuvre

import (
	"math"

	"helmcue/internal/boat"
)

// irons notices a boat that stays head to wind after she tried to go through.
type irons struct {
	since boat.Time // since when she is stuck; 0 when she is not
	maybe boat.Time // since when it looks so
	tried boat.Time // the last attempt
	entry float64   // knots at its beginning
}

const (
	stuckDeg = 25.0
	freeDeg  = 35.0
	stuckDps = 3.0
	stuckS   = 3.0
	triedS   = 45.0
)

func (i *irons) see(w *Watch, m moment) {
	if w.live.kind == tack && (w.live.phase == boat.Turning || w.live.phase == boat.PastEye) {
		i.tried, i.entry = m.t, w.live.entry.Val
	}
	a := math.Abs(m.off)
	way := m.kn
	if m.upKn < 0 { // she drifts astern, which a receiver shows as speed
		way = 0
	}
	crawl := math.Min(0.5*i.entry, math.Max(0.2*i.entry, 0.35))
	if i.since != 0 {
		if a > freeDeg || m.knOK && way > math.Max(0.5*i.entry, 0.7) {
			i.since, i.maybe = 0, 0
		}
		return
	}
	stuck := i.tried != 0 && m.t.Seconds(i.tried) < triedS && a <= stuckDeg &&
		m.knOK && way < crawl && math.Abs(w.past.rate(2)) < stuckDps
	switch {
	case !stuck:
		i.maybe = 0
	case i.maybe == 0:
		i.maybe = m.t
	case m.t.Seconds(i.maybe) >= stuckS:
		i.since = i.maybe
	}
}
