package compass

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// How late a receiver is (common practice, no source: one to two seconds).
const (
	priorLagS   = 1.3
	priorLagSD  = 0.5
	mostLagS    = 4.0
	lagStepS    = 0.1
	turnDeg     = 40.0 // a smaller turn shows no lag
	turnS       = 25.0 // a slower one neither
	beginDps    = 4.0
	afterS      = 6.0 // the course follows so long after the bow came to rest
	leastInTurn = 5   // courses
	leadIn      = 4   // courses before it: without a straight course at both ends no lag shows
	ownLagSD    = 0.35
	leastLagSD  = 0.15 // sliding and the compass's error are the same in every tack
	poorFitDeg  = 15.0
)

// lag follows turns and compares how course and bow went round. What comes out is
// how late the course is behind the bow, the boat's own sliding in it.
type lag struct {
	s, v   float64 // seconds and their variance
	turns  int
	on     bool
	start  boat.Time
	quiet  boat.Time // when she last turned
	from   float64   // heading at the start
	points []point   // while she holds her course the last few, then all of the turn
}

// point is a course in a turn and what the bow showed so many lag steps before.
type point struct {
	t   boat.Time
	cog float64 // unwrapped
	bow [int(mostLagS/lagStepS) + 1]float64
}

func newLag() lag { return lag{s: priorLagS, v: priorLagSD * priorLagSD} }

func (l *lag) drop() { l.on, l.points = false, l.points[:0] }

// see takes a course and the heading shown at the same moment.
func (l *lag) see(t boat.Time, cog, hdg float64, p *trail) {
	then, ok := p.at(t.After(-2))
	if !ok {
		l.drop()
		return
	}
	turning := math.Abs(hdg-then)/2 > beginDps
	l.put(t, cog, p)
	if !l.on && !turning {
		l.points = l.points[max(0, len(l.points)-leadIn):]
		return
	}
	if !l.on {
		l.on, l.start, l.from = true, t, then
	}
	if turning {
		l.quiet = t
	}
	switch {
	case t.Seconds(l.start) > turnS+afterS:
		l.drop()
	case t.Seconds(l.quiet) >= afterS:
		if math.Abs(hdg-l.from) > turnDeg {
			l.learn()
		}
		l.drop()
	}
}

func (l *lag) put(t boat.Time, cog float64, p *trail) {
	if n := len(l.points); n > 0 {
		cog = l.points[n-1].cog + geo.Diff(l.points[n-1].cog, cog)
	}
	q := point{t: t, cog: cog}
	for i := range q.bow {
		deg, ok := p.at(t.After(-lagStepS * float64(i)))
		if !ok {
			return
		}
		q.bow[i] = deg
	}
	l.points = append(l.points, q)
}

// learn finds the lag at which the courses of the turn go best along with the bow,
// up to a factor and a constant: compass error and leeway differ before and after.
func (l *lag) learn() {
	if len(l.points) < leastInTurn {
		return
	}
	best, least := 0, math.Inf(1)
	var miss [len(point{}.bow)]float64
	for i := range miss {
		miss[i] = l.misfit(i)
		if miss[i] < least {
			best, least = i, miss[i]
		}
	}
	if best == 0 || best == len(miss)-1 || math.Sqrt(least) > poorFitDeg {
		return
	}
	l.turns++
	s := lagStepS * (float64(best) + vertex(miss[best-1], miss[best], miss[best+1]))
	r := ownLagSD * ownLagSD
	r += least / math.Max(1, l.dps(best)) / float64(len(l.points))
	gain := l.v / (l.v + r)
	if d := s - l.s; float64(d*d) > 9*(l.v+r) {
		return
	}
	l.s += float64(gain * (s - l.s))
	l.v = math.Max(leastLagSD*leastLagSD, l.v*(1-gain))
}

// misfit is the mean square of the courses about their regression on the bow i lag
// steps before, degrees squared.
func (l *lag) misfit(i int) float64 {
	n := float64(len(l.points))
	var sx, sy, sxx, sxy, syy float64
	x0, y0 := l.points[0].bow[i], l.points[0].cog
	for _, q := range l.points {
		x, y := q.bow[i]-x0, q.cog-y0
		sx += x
		sy += y
		sxx += float64(x * x)
		sxy += float64(x * y)
		syy += float64(y * y)
	}
	sxx -= float64(sx * sx / n)
	sxy -= float64(sx * sy / n)
	syy -= float64(sy * sy / n)
	if sxx < 1 || sxy < 0.5*sxx {
		return math.Inf(1)
	}
	return math.Max(0, syy-float64(sxy*sxy/sxx)) / n
}

// dps is the mean square of her turning, degrees a second squared.
func (l *lag) dps(i int) float64 {
	sum, n := 0.0, 0.0
	for k := 1; k < len(l.points); k++ {
		dt := l.points[k].t.Seconds(l.points[k-1].t)
		rate := (l.points[k].bow[i] - l.points[k-1].bow[i]) / dt
		sum += float64(rate * rate)
		n++
	}
	return sum / n
}

// vertex is where the parabola through three values a step apart is least, in steps
// from the middle one.
func vertex(a, b, c float64) float64 {
	curve := a - float64(2*b) + c
	if !(curve > 1e-9) || math.IsInf(curve, 0) {
		return 0
	}
	return math.Max(-0.5, math.Min(0.5, (a-c)/2/curve))
}
