package compass

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// What makes a fact (common practice, no source).
const (
	factS      = 15.0 // wind, waves and receiver repeat themselves within less
	slowFactS  = 25.0 // a slow sender is listened to longer
	leastReads = 4
	fewReads   = 3
	gapS       = 12.0 // a longer silence begins anew
	swingDeg   = 15.0 // further from the mean she has turned
	settleS    = 5.0  // after a turn she slides, and the receiver smooths
	sideDeg    = 5.0  // less heel shows no side: a phone is not mounted that level
)

// glimpse is bow and course at one moment.
type glimpse struct {
	t        boat.Time
	hdg, cog float64
	sogKn    float64
	water    boat.Reading
	push     boat.Reading
	twa      boat.Reading
}

// steady gathers glimpses on one heading until they make a fact.
type steady struct {
	from, last boat.Time
	n          int
	hdg        float64 // of the first glimpse; the sums are of differences to it
	turn       float64
	first      float64 // course less heading of the first glimpse
	off, off2  float64 // and of the others, less that
	kn         float64
	water      float64
	waters     int
	push       float64
	pushes     int
	twa, side  float64 // without its sign, and the signs: before the wind it changes
	twas       int
}

// add takes a glimpse and returns a fact when there is one.
func (s *steady) add(g glimpse) (Fact, bool) {
	if s.n > 0 && g.t.Seconds(s.last) > gapS {
		*s = steady{}
	}
	d := geo.Diff(s.hdg, g.hdg)
	if s.n > 0 && math.Abs(d-s.turn/float64(s.n)) > swingDeg {
		*s = steady{from: g.t.After(settleS), last: g.t, hdg: g.hdg, n: 0}
		return Fact{}, false
	}
	if g.t < s.from {
		s.hdg, s.last = g.hdg, g.t
		return Fact{}, false
	}
	if s.n == 0 {
		*s = steady{from: g.t, hdg: g.hdg}
		d = 0
	}
	s.sum(g, d)
	long := g.t.Seconds(s.from)
	if long < factS || s.n < leastReads && (long < slowFactS || s.n < fewReads) {
		return Fact{}, false
	}
	f := s.fact()
	*s = steady{}
	return f, true
}

func (s *steady) sum(g glimpse, turn float64) {
	s.n++
	s.last = g.t
	s.turn += turn
	if s.n == 1 {
		s.first = geo.Diff(g.hdg, g.cog)
	}
	off := geo.Diff(s.first, geo.Diff(g.hdg, g.cog))
	s.off += off
	s.off2 += float64(off * off)
	s.kn += g.sogKn
	if g.water.OK {
		s.water += g.water.Val
		s.waters++
	}
	if g.push.OK {
		s.push += g.push.Val
		s.pushes++
	}
	if g.twa.OK {
		s.twa += math.Abs(g.twa.Val)
		s.side += math.Copysign(1, g.twa.Val)
		s.twas++
	}
}

func (s *steady) fact() Fact {
	n := float64(s.n)
	off := s.off / n
	hdg := geo.Wrap360(s.hdg + s.turn/n)
	f := Fact{
		T: s.last, HeadingDeg: hdg, COGDeg: geo.Wrap360(hdg + s.first + off), SOGKn: s.kn / n,
		ScatterSD: math.Sqrt(math.Max(0, s.off2/n-float64(off*off)) / math.Min(n, 5)), // neighbours share their errors
	}
	if s.waters > s.n/2 {
		f.WaterKn = boat.Some(s.water / float64(s.waters))
	}
	if s.pushes > s.n/2 {
		f.Push = boat.Some(s.push / float64(s.pushes))
	}
	if s.twas > s.n/2 {
		f.TWADeg = boat.Some(math.Copysign(s.twa/float64(s.twas), s.side))
	}
	return f
}
