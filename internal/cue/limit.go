package cue

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// limitWatch tells whether there is more wind than the sailor set as limit: by a
// reading or somebody's word under an hour old, or by how often she heels. Her
// motion alone never says so.
type limitWatch struct {
	on     bool
	why    string
	code   string
	wind   float64 // mean of a minute, knots
	last   boat.Time
	tipped float64 // share of the last two minutes with much heel
}

const (
	limitAgeS   = 3600.0
	limitMeanS  = 60.0
	limitBackKn = 1.0
	heeledDeg   = 25.0
	heeledPart  = 0.3 // of the last two minutes
	heeledBack  = 0.1
	heeledLeast = 60 // points, about seconds, before it is judged
)

// see returns whether it blows over the limit.
func (l *limitWatch) see(v *view) bool {
	if v.second {
		l.tipped = heeledShare(v)
	}
	kn, heeled := l.mean(v), l.tipped
	bar, part := v.Settings.LimitKn, heeledPart
	if l.on {
		bar, part = bar-limitBackKn, heeledBack
	}
	windy := kn.OK && v.Settings.LimitKn > 0 && kn.Val > bar
	tippy := heeled > part
	l.on = windy || tippy
	switch {
	case windy:
		l.code, l.why = "wind", fmt.Sprintf("the wind is %.0f kn in the mean by %s, the limit is %.0f", kn.Val, v.Wind.By, v.Settings.LimitKn)
	case tippy:
		l.code, l.why = "heel", fmt.Sprintf("she heeled more than %.0f° for %.0f %% of the last two minutes", heeledDeg, 100*heeled)
	}
	v.mem.limitCode, v.mem.limitWhy = l.code, l.why
	return l.on
}

func (l *limitWatch) mean(v *view) boat.Reading {
	if !v.Wind.SpeedKn.OK || v.Wind.Reckoned || v.Wind.By != "fix" && v.Wind.By != "instrument" || v.Wind.AgeS > limitAgeS {
		l.last = 0
		return boat.Reading{}
	}
	dt := v.Now.Seconds(l.last)
	if l.last == 0 || v.Wind.By == "fix" {
		l.wind = v.Wind.SpeedKn.Val
	} else {
		l.wind += float64(math.Min(1, dt/limitMeanS) * (v.Wind.SpeedKn.Val - l.wind))
	}
	l.last = v.Now
	return boat.Some(l.wind)
}

func heeledShare(v *view) float64 {
	if v.State.Mount == boat.Worn || !v.Mode.Sailing() && v.Mode != boat.Unknown {
		return 0
	}
	n, over := 0, 0
	for _, p := range v.past.points {
		if !p.heel.OK {
			continue
		}
		n++
		if math.Abs(p.heel.Val) > heeledDeg {
			over++
		}
	}
	if n < heeledLeast {
		return 0
	}
	return float64(over) / float64(n)
}

// overLimit: too much wind for this sailor: go in.
type overLimit struct{ on spell }

func (r *overLimit) propose(v *view) (candidate, bool) {
	r.on.see(v.Now, v.heavy)
	afloat := v.Mode.Sailing() || v.Mode == boat.Irons || v.Mode == boat.Waiting || v.blind()
	k := candidate{class: warning, since: r.on.since, life: 20, wait: 8, again: 120}
	k.cue = boat.Cue{Key: boat.OverLimit, Conf: 0.9, WhyCode: v.mem.limitCode, Why: v.mem.limitWhy}
	return k, afloat && r.on.lasted(v.Now, 5)
}
