package exercise

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// point is the boat at one second.
type point struct {
	t                             boat.Time
	heading, twa, kn, share, heel boat.Reading
	straight                      bool
}

// past is the last ten minutes, one point a second.
type past struct{ points []point }

const pastS = 660.0

func (p *past) add(s *Sight) {
	if n := len(p.points); n > 0 && s.Now.Seconds(p.points[n-1].t) < 0.95 {
		return
	}
	first := 0
	for first < len(p.points) && s.Now.Seconds(p.points[first].t) > pastS {
		first++
	}
	p.points = append(p.points[first:], point{t: s.Now, heading: s.State.HeadingDeg, twa: s.TWADeg, kn: s.State.SpeedKn,
		share: s.Share, heel: s.heelDeg(), straight: s.straight()})
}

// since returns the points from t on.
func (p *past) since(t boat.Time) []point {
	lo := len(p.points)
	for lo > 0 && p.points[lo-1].t >= t {
		lo--
	}
	return p.points[lo:]
}

// between returns the points from a to b.
func (p *past) between(a, b boat.Time) []point {
	all := p.since(a)
	hi := len(all)
	for hi > 0 && all[hi-1].t > b {
		hi--
	}
	return all[:hi]
}

// last returns the points of the last sec seconds.
func (p *past) last(now boat.Time, sec float64) []point { return p.since(now.After(-sec)) }

func (p *past) twa(now boat.Time, sec float64) boat.Reading {
	return angleMean(p.last(now, sec), func(q point) boat.Reading { return q.twa })
}

func knOf(q point) boat.Reading      { return q.kn }
func shareOf(q point) boat.Reading   { return q.share }
func heelOf(q point) boat.Reading    { return q.heel }
func headingOf(q point) boat.Reading { return q.heading }

// angleMean is boat.Mean for angles; the result is -180..180.
func angleMean(points []point, get func(point) boat.Reading) boat.Reading {
	m, _ := angleMeanSD(points, get)
	return m
}

// angleMeanSD returns the circular mean, -180..180, and the standard deviation about it.
func angleMeanSD(points []point, get func(point) boat.Reading) (boat.Reading, float64) {
	var deg []float64
	for _, p := range points {
		if r := get(p); r.OK {
			deg = append(deg, r.Val)
		}
	}
	m, _, ok := geo.Mean(deg)
	if !ok || 3*len(deg) < 2*len(points) {
		return boat.Reading{}, 0
	}
	sq := 0.0
	for _, d := range deg {
		off := geo.Diff(m, d)
		sq += float64(off * off)
	}
	return boat.Some(geo.Wrap180(m)), math.Sqrt(sq / float64(len(deg)))
}

// steady says whether the heading stayed within a standard deviation of sdDeg for
// the last sec seconds, without a gap, on a straight course.
func (p *past) steady(now boat.Time, sec, sdDeg float64) bool {
	points := p.last(now, sec)
	if len(points) < int(0.8*sec) {
		return false
	}
	for _, q := range points {
		if !q.straight {
			return false
		}
	}
	m, sd := angleMeanSD(points, headingOf)
	return m.OK && sd <= sdDeg
}

// twaOff is the mean angle off the wind over the last sec seconds, 0..180.
func (p *past) twaOff(now boat.Time, sec float64) float64 { return math.Abs(p.twa(now, sec).Or(0)) }
