package track

import (
	"fmt"
	"math"
	"strings"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Log is one track.
type Log struct {
	Inputs  []boat.Input // samples, source "file", T never decreasing
	Points  int          // read in all: Inputs and what was left out
	NoTime  int          // left out: no time, or one that cannot be read
	Back    int          // left out: earlier than the point before
	Empty   int          // left out: nothing but a time
	Broken  int          // left out: cannot be read
	Derived int          // kept, with speed or course worked out from positions
	Cut     error        // why reading ended before the end of the track; nil: it did not
}

// String says in one line what was kept and why the rest was not.
func (l *Log) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d points, %d kept, %d skipped", l.Points, len(l.Inputs), l.Points-len(l.Inputs))
	sep := ": "
	for _, w := range []struct {
		n   int
		why string
	}{{l.NoTime, "without a time"}, {l.Back, "earlier than the one before"}, {l.Empty, "without readings"}, {l.Broken, "that cannot be read"}} {
		if w.n > 0 {
			fmt.Fprintf(&b, "%s%d %s", sep, w.n, w.why)
			sep = ", "
		}
	}
	if l.Derived > 0 {
		fmt.Fprintf(&b, "; speed or course of %d worked out from positions", l.Derived)
	}
	if l.Cut != nil {
		fmt.Fprintf(&b, "; reading ended early: %v", l.Cut)
	}
	return b.String()
}

// adder puts points into a log.
type adder struct {
	log  Log
	back []boat.Input // the points of the last seconds that have a position
}

// add takes a point; t is 0 where it has none.
func (a *adder) add(t boat.Time, s boat.Sample) {
	a.log.Points++
	n := len(a.log.Inputs)
	switch {
	case t == 0:
		a.log.NoTime++
	case n > 0 && t < a.log.Inputs[n-1].T:
		a.log.Back++
	case s == boat.Sample{}:
		a.log.Empty++
	default:
		in := boat.Input{T: t, Kind: boat.SampleIn, Source: "file", Sample: &s}
		a.derive(in)
		a.log.Inputs = append(a.log.Inputs, in)
	}
}

// Speed and course come from a base of at least baseS seconds, so that the
// last digit of a position does not become knots, and at most maxBaseS.
const (
	baseS    = 3.0
	maxBaseS = 30.0
	leastM   = 1.0 // below it a course means nothing
)

func (a *adder) derive(in boat.Input) {
	s := in.Sample
	if !s.LatDeg.OK || !s.LonDeg.OK {
		return
	}
	for len(a.back) > 1 && in.T.Seconds(a.back[1].T) >= baseS {
		a.back = a.back[1:]
	}
	if len(a.back) > 0 && (!s.SOGKn.OK || !s.COGDeg.OK) {
		from := a.back[0]
		if dt := in.T.Seconds(from.T); dt >= baseS && dt <= maxBaseS {
			a.between(place(from.Sample), place(s), dt, s)
		}
	}
	a.back = append(a.back, in)
}

func place(s *boat.Sample) geo.Position {
	return geo.Position{LatDeg: s.LatDeg.Val, LonDeg: s.LonDeg.Val}
}

func (a *adder) between(p, q geo.Position, dt float64, s *boat.Sample) {
	m := geo.Distance(p, q)
	added := false
	if kn := m / dt / geo.KnotMS; !s.SOGKn.OK && kn <= maxKn {
		s.SOGKn, added = boat.Some(kn), true
	}
	if deg, ok := geo.Bearing(p, q); !s.COGDeg.OK && ok && m >= leastM {
		s.COGDeg, added = boat.Some(deg), true
	}
	if added {
		a.log.Derived++
	}
}

// maxKn is above any boat; a jump of the position is no speed.
const maxKn = 100

// within makes a reading absent that is out of range or no number.
func within(v, lo, hi float64) boat.Reading {
	if math.IsNaN(v) || v < lo || v > hi {
		return boat.Reading{}
	}
	return boat.Some(v)
}

// circle takes a direction of -180..360.
func circle(v float64) boat.Reading {
	r := within(v, -180, 360)
	if r.OK {
		r.Val = geo.Wrap360(r.Val)
	}
	return r
}

// position sets both or neither. Exactly 0, 0 is what devices write that have no
// position yet.
func position(s *boat.Sample, lat, lon float64) {
	la, lo := within(lat, -90, 90), within(lon, -180, 180)
	if la.OK && lo.OK && (lat != 0 || lon != 0) {
		s.LatDeg, s.LonDeg = la, lo
	}
}
