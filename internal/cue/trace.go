package cue

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// point is the boat at one second.
type point struct {
	t       boat.Time
	heading boat.Reading
	twa     boat.Reading
	speedKn boat.Reading
	share   boat.Reading
	heel    boat.Reading
	windKn  boat.Reading
}

// trace is the last two minutes, about one point a second.
type trace struct{ points []point }

const traceS = 120.0

// add takes the situation in when a second has passed and says whether it did.
func (tr *trace) add(s Situation) bool {
	if n := len(tr.points); n > 0 && s.Now.Seconds(tr.points[n-1].t) < 0.95 {
		return false
	}
	first := 0
	for first < len(tr.points) && s.Now.Seconds(tr.points[first].t) > traceS {
		first++
	}
	tr.points = append(tr.points[first:], point{
		t: s.Now, heading: s.State.HeadingDeg, twa: s.TWADeg, speedKn: s.State.SpeedKn,
		share: s.Share, heel: s.State.HeelDeg, windKn: s.Wind.SpeedKn,
	})
	return true
}

// span is a stretch of the past: from and to seconds ago, from the larger.
type span struct{ from, to float64 }

func (tr *trace) in(now boat.Time, sp span) []point {
	first, last := now.After(-sp.from), now.After(-sp.to)
	hi := len(tr.points)
	for hi > 0 && tr.points[hi-1].t > last {
		hi--
	}
	lo := hi
	for lo > 0 && tr.points[lo-1].t >= first {
		lo--
	}
	return tr.points[lo:hi]
}

// meanAngle is boat.Mean for angles of any range; the result is -180..180.
func meanAngle(points []point, get func(point) boat.Reading) boat.Reading {
	var x, y float64
	n := 0
	for _, p := range points {
		if r := get(p); r.OK {
			x += math.Cos(geo.Rad(r.Val))
			y += math.Sin(geo.Rad(r.Val))
			n++
		}
	}
	// Angles that cancel out have no mean: she was turning all the while.
	if n == 0 || 3*n < 2*len(points) || math.Hypot(x, y) < 0.5*float64(n) {
		return boat.Reading{}
	}
	return boat.Some(geo.Wrap180(geo.Deg(math.Atan2(y, x))))
}

func headingOf(p point) boat.Reading { return p.heading }
func twaOf(p point) boat.Reading     { return p.twa }
func speedOf(p point) boat.Reading   { return p.speedKn }
func shareOf(p point) boat.Reading   { return p.share }
func heelOf(p point) boat.Reading    { return p.heel }
func windOf(p point) boat.Reading    { return p.windKn }

// steady says whether a heading was held within withinDeg either side for the
// last sec seconds. A gap in the readings is not a held course.
func (tr *trace) steady(now boat.Time, sec, withinDeg float64) bool {
	points := tr.in(now, span{sec, 0})
	if len(points) < 2 || now.Seconds(points[0].t) < sec-5 {
		return false
	}
	m := meanAngle(points, headingOf)
	if !m.OK {
		return false
	}
	for _, p := range points {
		if !p.heading.OK || math.Abs(geo.Diff(m.Val, p.heading.Val)) > withinDeg {
			return false
		}
	}
	return true
}
