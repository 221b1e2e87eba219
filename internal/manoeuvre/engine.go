package manoeuvre

import (
	"math"

	"helmcue/internal/boat"
)

// engine notices what no sail can do: a steady course close to the wind with way
// on. After that nothing is a manoeuvre for some minutes.
type engine struct {
	sum  float64 // seconds of it, leaking
	seen boat.Time
	ever bool
}

const (
	deadDeg  = 20.0 // closer to the true wind no boat keeps way on
	engineS  = 12.0
	engineOf = 240.0 // seconds for which it is remembered
)

func (e *engine) see(p *past, target boat.Target) {
	n := len(p.all)
	if n < 2 {
		return
	}
	m := p.all[n-1]
	dt := math.Min(5, m.t.Seconds(p.all[n-2].t))
	dead := deadDeg
	if target.OK && target.NoSailUp > 0 {
		dead = math.Min(28, math.Max(dead, target.NoSailUp-6))
	}
	least := 1.5
	if target.OK {
		least = math.Max(1, 0.35*target.BeatKn)
	}
	if math.Abs(m.off) < dead && m.knOK && m.kn > least && math.Abs(p.rate(3)) < 2.5 {
		e.sum = math.Min(3*engineS, e.sum+dt)
	} else {
		e.sum = math.Max(0, e.sum-0.25*dt)
	}
	if e.sum >= engineS {
		e.seen, e.ever = m.t, true
	}
}

// drives says whether an engine drove her within the last minutes before t.
func (e *engine) drives(t boat.Time) bool { return e.ever && t.Seconds(e.seen) < engineOf }

// kept says whether she kept her speed through the eye of the wind as no sail
// lets her, by the speeds around it. Few readings prove nothing.
func kept(around []moment, o *open) bool {
	if o.kind != tack || len(around) < 6 || !o.entry.OK {
		return false
	}
	for _, m := range around {
		if !m.knOK || m.kn < 0.9*o.entry.Val || m.kn > 1.15*o.entry.Val {
			return false
		}
	}
	return true
}
