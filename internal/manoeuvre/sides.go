package manoeuvre

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// sides holds on which tack she is, with a dead band about both eyes so that a
// noisy angle near head to wind or dead downwind decides nothing.
type sides struct {
	side  float64   // +1 wind from starboard, -1 from port, 0 not yet known
	on    boat.Time // last time she was clearly on that side
	other float64   // the other side she seems to have come to
	since boat.Time // since when
	last  boat.Time // eye of the last crossing
	back  astern    // the last time she began to drift astern, by course alone
}

// crossing is a change of side that has lasted.
type crossing struct {
	kind string
	old  float64 // side she came from
	eye  boat.Time
	last boat.Time // moment at or before the eye
	from boat.Time // no turn began before this
}

const (
	beyondBow = 15.0 // past the eye of the wind before she counts as through it
	holdS     = 2.0
	forgetS   = 60.0 // lying between the sides for so long is no turn
)

// beyondStern grows with the doubt about the wind: runs wander about dead downwind.
func beyondStern(w boat.Wind) float64 {
	if !w.Known {
		return 15
	}
	return math.Min(22, math.Max(12, 1.5*w.SDDeg))
}

func (s *sides) see(p *past, w boat.Wind) (crossing, bool) {
	m := *p.last()
	a := math.Abs(m.off)
	s.back.see(p, s.side)
	if a < beyondBow || 180-a < beyondStern(w) {
		if s.side != 0 && m.t.Seconds(s.on) > forgetS {
			s.side = 0
		}
		s.other = 0
		return crossing{}, false
	}
	side := math.Copysign(1, m.off)
	if side == s.side {
		s.on, s.other = m.t, 0
		return crossing{}, false
	}
	if side != s.other {
		s.other, s.since = side, m.t
	}
	if m.t.Seconds(s.since) < holdS {
		return crossing{}, false
	}
	old, on := s.side, s.on
	s.side, s.on, s.other = side, m.t, 0
	if old == 0 {
		return crossing{}, false
	}
	c, ok := path(p, old, on, s.since)
	if ok && c.kind == gybe && m.t.Seconds(s.back.t) < asternS {
		c, ok = s.back.crossing(side)
	}
	c.from = s.last
	if ok {
		s.last = c.eye
	}
	return c, ok
}

// path finds how she came from the old side, where she last was at on, to the new
// one: over the bow or over the stern, and when. False where not she turned but
// the wind (or what is believed of it).
func path(p *past, old float64, on, end boat.Time) (crossing, bool) {
	ms := p.between(on, end)
	if len(ms) < 2 {
		return crossing{}, false
	}
	total := 0.0
	for i := 1; i < len(ms); i++ {
		total += geo.Diff(ms[i-1].off, ms[i].off)
	}
	c := crossing{kind: gybe, old: old}
	if total*old < 0 {
		c.kind = tack
	}
	if !cameRound(p.between(on.After(-aroundS), end.After(aroundS)), total) {
		return crossing{}, false
	}
	for i := len(ms) - 1; i > 0; i-- {
		a, b := ms[i-1], ms[i]
		if a.off*old < 0 || b.off*old > 0 {
			continue
		}
		c.eye, c.last = eye(c.kind, a, b), a.t
		return c, true
	}
	return crossing{}, false
}

// aroundS is how far before and after the bow may have come round when the angle
// and the heading stem from different instruments, seconds.
const aroundS = 6.0

// cameRound says whether the bow turned by at least half of what the wind angle
// did. Where there is no heading nothing speaks against it.
func cameRound(ms []moment, total float64) bool {
	lo, hi, ok := 0.0, 0.0, false
	for _, m := range ms {
		switch {
		case !m.hdgOK:
		case !ok:
			lo, hi, ok = m.hdg, m.hdg, true
		default:
			lo, hi = math.Min(lo, m.hdg), math.Max(hi, m.hdg)
		}
	}
	return !ok || hi-lo >= 0.5*math.Abs(total)
}

// eye is when the angle passed the eye between two moments, by a straight line.
func eye(kind string, a, b moment) boat.Time {
	x, y := fromEye(kind, a.off), fromEye(kind, b.off)
	if x+y <= 0 {
		return b.t
	}
	return a.t.After(b.t.Seconds(a.t) * x / (x + y))
}
