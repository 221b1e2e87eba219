package clock

import (
	"math"

	"helmcue/internal/boat"
)

const (
	// stretchMS is how long the sending is from which one least delay is kept, and
	// windowMS how far back they reach: long enough to see a drift of a few parts in
	// a million, short against a quartz that warms up in the sun.
	stretchMS = 15_000
	windowMS  = 20 * 60 * 1000
	// slopeMS is how long a phone must be heard before its drift is told from jitter.
	slopeMS = 2 * 60 * 1000
	fewest  = 6 // stretches with a message, besides
	// driftPPM bounds the drift: ordinary quartz is within 100 parts per million
	// (common practice, no source), and a phone in the sun gets room to be worse.
	driftPPM = 300
)

// point is an offset, service minus sender in ms, at a time of the sender's.
type point struct {
	sent boat.Time
	took float64
}

// line is what the offset of a clock that drifts evenly must have been: the line
// under every (sent, received - sent) that lies closest to them, since a message
// may be late and is never early. It is the fit of Moon, Skelly and Towsley,
// "Estimation and removal of clock skew from network delay measurements" (IEEE
// INFOCOM 1999; from memory): the edge of the lower convex hull over the mean of the
// times. Only the least delay of each quarter of a minute is kept.
type line struct {
	low   []point // the oldest first, one a stretch
	from  point   // on the line
	slope float64 // ms a ms
}

// last returns the newest point; the line must not be empty.
func (l *line) last() point { return l.low[len(l.low)-1] }

// at returns the offset at a time of the sender's.
func (l *line) at(sent boat.Time) float64 {
	return l.from.took + float64(l.slope*float64(sent-l.from.sent))
}

// add takes one message, and fits anew where it tells something.
func (l *line) add(p point) {
	n := len(l.low)
	switch {
	case n == 0 || p.sent/stretchMS > l.last().sent/stretchMS:
		l.low = append(l.low, p)
		for p.sent-l.low[0].sent > windowMS {
			l.low = l.low[1:]
		}
	case p.sent/stretchMS == l.last().sent/stretchMS && p.took < l.last().took:
		l.low[n-1] = p
	default:
		return
	}
	l.fit()
}

// long says whether there is enough to tell a drift by.
func (l *line) long() bool {
	n := len(l.low)
	return n > fewest && l.low[n-2].sent-l.low[0].sent >= slopeMS
}

func (l *line) fit() {
	l.slope = 0
	if l.long() {
		over := l.low[:len(l.low)-1] // the last stretch may have late ones only, so far
		l.slope = min(max(hullSlope(over), -driftPPM*1e-6), driftPPM*1e-6)
	}
	l.from = l.low[0]
	for _, p := range l.low[1:] {
		if p.took < l.at(p.sent) {
			l.from = p
		}
	}
}

// hullSlope is the slope of the edge of the lower convex hull over the mean time.
func hullSlope(all []point) float64 {
	var hull []point
	mean := 0.0
	for _, p := range all {
		mean += float64(p.sent-all[0].sent) / float64(len(all))
		for len(hull) > 1 && slope(hull[len(hull)-2], p) <= slope(hull[len(hull)-2], hull[len(hull)-1]) {
			hull = hull[:len(hull)-1]
		}
		hull = append(hull, p)
	}
	at := all[0].sent + boat.Time(math.Round(mean))
	for i := 1; i < len(hull); i++ {
		if hull[i].sent >= at {
			return slope(hull[i-1], hull[i])
		}
	}
	return 0
}

func slope(a, b point) float64 { return (b.took - a.took) / float64(b.sent-a.sent) }
