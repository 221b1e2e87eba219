package manoeuvre

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// keepS is how far back the watch remembers: a minute of turn and recovery, and
// the minute in which a stuck boat may have begun it.
const keepS = 150.0

// past is the last moments, oldest first.
type past struct{ all []moment }

func (p *past) add(m moment) {
	if len(p.all) > 0 && m.t.Seconds(p.all[0].t) > 2*keepS {
		i := p.from(m.t.After(-keepS))
		p.all = append(p.all[:0], p.all[i:]...)
	}
	p.all = append(p.all, m)
}

func (p *past) last() *moment {
	if len(p.all) == 0 {
		return nil
	}
	return &p.all[len(p.all)-1]
}

// from is the index of the first moment at or after t.
func (p *past) from(t boat.Time) int {
	lo, hi := 0, len(p.all)
	for lo < hi {
		mid := (lo + hi) / 2
		if p.all[mid].t < t {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo
}

// between is the moments from a to b, both included.
func (p *past) between(a, b boat.Time) []moment {
	if b < a {
		return nil
	}
	return p.all[p.from(a):p.from(b+1)]
}

// mean is the mean of f over the moments for which it has a value.
func mean(ms []moment, f func(moment) (float64, bool)) boat.Reading {
	sum, n := 0.0, 0
	for _, m := range ms {
		if v, ok := f(m); ok {
			sum += v
			n++
		}
	}
	if n == 0 {
		return boat.Reading{}
	}
	return boat.Some(sum / float64(n))
}

func speed(m moment) (float64, bool)   { return m.kn, m.knOK }
func upwind(m moment) (float64, bool)  { return m.upKn, m.knOK }
func heading(m moment) (float64, bool) { return m.hdg, m.hdgOK }

// rate is how fast the bow turns, degrees a second, clockwise positive, over about
// the last s seconds; by the wind angle where there is no heading. Zero where
// there is too little to tell.
func (p *past) rate(s float64) float64 {
	n := len(p.all)
	if n < 2 {
		return 0
	}
	b := p.all[n-1]
	i := max(0, min(p.from(b.t.After(-s)), n-2))
	a := p.all[i]
	dt := b.t.Seconds(a.t)
	if dt <= 0 || dt > 15 {
		return 0
	}
	return turned(a, b) / dt
}

// turned is how far the bow came round from a to b, clockwise positive.
func turned(a, b moment) float64 {
	if a.hdgOK && b.hdgOK {
		return b.hdg - a.hdg
	}
	return -geo.Diff(a.off, b.off)
}

// began is when the turn through the eye at t began: going back from there, the
// first moment at which she held her course clear of the eye. Looking back no
// further than no, where she never held one (she spins, or came from lying in the
// wind), it is when she was furthest from the eye.
func (p *past) began(t boat.Time, kind string, no boat.Time) boat.Time {
	start, most := t, 0.0
	for i := p.from(t+1) - 1; i > 0 && p.all[i].t >= no; i-- {
		m := p.all[i]
		a := fromEye(kind, m.off)
		if a > most {
			start, most = m.t, a
		}
		if a < leaveDeg(kind) {
			continue
		}
		j := max(0, min(p.from(m.t.After(-2)), i-1))
		dt := m.t.Seconds(p.all[j].t)
		if math.Abs(turned(p.all[j], m)) < 2*math.Max(dt, 0.1) {
			return m.t
		}
	}
	return start
}

// fromEye is how far the bow is from the wind (tack) or the stern from it (gybe),
// 0..180.
func fromEye(kind string, off float64) float64 {
	if kind == gybe {
		return 180 - math.Abs(off)
	}
	return math.Abs(off)
}

// leaveDeg is how near the eye no turn can have begun.
func leaveDeg(kind string) float64 {
	if kind == gybe {
		return 8
	}
	return 28
}
