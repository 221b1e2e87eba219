package wind

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// What makes a leg: a heading that is held (common practice, no source).
const (
	settleS    = 8.0  // held so long it is a leg
	settleDeg  = 12.0 // within so much on either side
	leaveDeg   = 25.0 // and left when she is so far off it
	leaveS     = 4.0
	meanTauS   = 20.0
	leastLegS  = 25.0
	turnS      = 30.0 // a turn that takes longer is two courses, not one turn
	afterTurnS = 21.0 // the first seconds of a leg are overshoot
	blendDeg   = 30.0 // further apart, one of compass and course is plainly wrong
	keepS      = 128
)

// leg is a stretch on one heading.
type leg struct {
	on       bool
	start    boat.Time
	end      boat.Time // last moment on it
	off      boat.Time // since when she is off it; 0 while she is not
	hdg      float64
	bestKn   float64
	turned   bool // it follows a turn from a leg worth comparing
	compared bool
	paired   bool
	heeled   bool
	paced    bool
}

func (l *leg) begin(from boat.Time, g glimpse, before leg) {
	*l = leg{on: true, start: from, end: g.t, hdg: g.hdg}
	l.turned = before.on && from.Seconds(before.end) <= turnS
}

// left follows the heading and says whether the leg is over.
func (l *leg) left(g glimpse) bool {
	d := geo.Diff(l.hdg, g.hdg)
	if math.Abs(d) > leaveDeg {
		if l.off == 0 {
			l.off = g.t
		}
		return g.t.Seconds(l.off) >= leaveS || g.t.Seconds(l.end) > turnS
	}
	dt := math.Max(0, g.t.Seconds(l.end))
	l.off = 0
	if dt > turnS {
		return true
	}
	l.hdg = geo.Wrap360(l.hdg + float64(d*(1-math.Exp(-dt/meanTauS))))
	l.end = g.t
	l.bestKn = math.Max(l.bestKn, g.kn)
	return false
}

// least is the speed under which a heading tells nothing: she luffs, lies in a
// hole, or the course is noise.
func (l *leg) least(in Sight) float64 {
	least := underWayKn
	if in.State.HeadingBy == "course" {
		least = courseWayKn
	}
	return math.Max(least, 0.4*l.bestKn)
}
