package wind

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// glimpse is the boat at one moment.
type glimpse struct {
	t       boat.Time
	hdg     float64
	bow     float64 // by the compass alone
	course  bool    // hdg is the course over the ground
	kn      float64
	heel    boat.Reading
	coached bool
}

// glance boils a sight down. A phone's compass is off by some degrees, other ones
// on other headings; so is the course, by leeway and current. They do not know of
// each other: half way between is better than either. A course that is no newer than the last one, or at a
// crawl, is none.
func glance(in Sight, before *glimpse) (glimpse, bool) {
	s := in.State
	g := glimpse{t: s.T, hdg: s.HeadingDeg.Val, course: s.HeadingBy == "course", kn: s.SpeedKn.Val, coached: in.Coached}
	if s.Mount != boat.Worn {
		g.heel = s.HeelDeg
	}
	g.bow = g.hdg
	if g.course && s.HeadingT != 0 {
		g.t = s.HeadingT
	}
	if !g.course && s.COGDeg.OK && s.SpeedKn.Val >= courseWayKn {
		if d := geo.Diff(g.hdg, s.COGDeg.Val); math.Abs(d) < blendDeg {
			g.hdg = geo.Wrap360(g.hdg + float64(d*courseShare(s)))
		}
	}
	return g, before == nil || g.t > before.t
}

// courseShare is how much of the mean of compass and course the course is, by how
// sure either is: the compass as the boat's state says, the course by current. Leeway
// is left out: it is much the same on both tacks.
func courseShare(s boat.State) float64 {
	const restDeg = 2.0 // waves, helm, the receiver
	compass := s.HeadingSDDeg * s.HeadingSDDeg
	water := math.Hypot(restDeg, geo.Deg(math.Max(leastDrift, s.Current.SDKn)/s.SpeedKn.Val))
	if !s.Current.OK {
		water = math.Hypot(restDeg, geo.Deg(usualDrift/s.SpeedKn.Val))
	}
	if compass == 0 {
		compass = usualCompass * usualCompass
	}
	return compass / (compass + float64(water*water))
}

const (
	leastDrift   = 0.1 // knots
	usualDrift   = 0.25
	usualCompass = 4.0
)

// past is the last glimpses, at most one a second.
type past struct {
	ring [keepS]glimpse
	n    int // ever added
}

func (p *past) add(g glimpse) { p.ring[p.n%keepS] = g; p.n++ }

func (p *past) last() *glimpse {
	if p.n == 0 {
		return nil
	}
	return p.ago(0)
}

// ago is the glimpse k before the last.
func (p *past) ago(k int) *glimpse { return &p.ring[(p.n-1-k)%keepS] }

func (p *past) len() int { return min(p.n, keepS) }

// course is the mean of the glimpses from one time to another.
type course struct {
	n     int
	t     boat.Time // of the last
	hdg   float64
	byCOG bool
	kn    float64
	least float64 // of the speeds, knots
	long  float64 // seconds from the first to the last
	heel  boat.Reading
}

func (p *past) mean(from, to boat.Time) course {
	c := course{least: math.Inf(1)}
	var first, turn, heel float64
	heels := 0
	for k := range p.len() {
		g := p.ago(k)
		if g.t < from {
			break
		}
		if g.t > to {
			continue
		}
		if c.n == 0 {
			c.t, first, c.byCOG = g.t, g.hdg, g.course
		}
		c.n++
		c.long = c.t.Seconds(g.t)
		turn += geo.Diff(first, g.hdg)
		c.kn += g.kn
		c.least = math.Min(c.least, g.kn)
		if g.heel.OK {
			heel += g.heel.Val
			heels++
		}
	}
	if c.n == 0 {
		return c
	}
	c.hdg = geo.Wrap360(first + turn/float64(c.n))
	c.kn /= float64(c.n)
	if heels > 0 {
		c.heel = boat.Some(heel / float64(heels))
	}
	return c
}

// coached says whether a heading since then was asked for.
func (p *past) coached(since boat.Time) bool {
	for k := range p.len() {
		g := p.ago(k)
		if g.t < since {
			break
		}
		if g.coached {
			return true
		}
	}
	return false
}

// settled says whether a heading has been held, and since when.
func (p *past) settled() (boat.Time, bool) {
	if p.n == 0 {
		return 0, false
	}
	now := p.last().t
	c := p.mean(now.After(-settleS), now)
	for far := 2.0; c.n < 3 && far < 5; far++ { // a slow sender
		c = p.mean(now.After(-far*settleS), now)
	}
	from := now
	for k := range min(c.n, p.len()) {
		g := p.ago(k)
		if math.Abs(geo.Diff(c.hdg, g.hdg)) > settleDeg {
			return 0, false
		}
		from = g.t
	}
	return from, c.n >= 3 && now.Seconds(from) >= settleS-2
}

// sum is how far she turned between two times, clockwise positive.
func (p *past) sum(from, to boat.Time) float64 {
	total := 0.0
	for k := 1; k < p.len(); k++ {
		g, next := p.ago(k), p.ago(k-1)
		if g.t < from {
			break
		}
		if next.t <= to {
			total += geo.Diff(g.hdg, next.hdg)
		}
	}
	return total
}
