package wind

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// What makes a leg: a heading that is held (common practice, no source).
const (
	settleS   = 8.0  // held so long it is a leg
	settleDeg = 12.0 // within so much on either side
	leaveDeg  = 25.0 // and left when she is so far off it
	leaveS    = 4.0
	meanTauS  = 20.0
	lostS     = 45.0 // no glimpse for so long ends it
	blendDeg  = 30.0 // further apart, one of compass and course is plainly wrong
	keepS     = 128
)

// leg is a stretch on one heading.
type leg struct {
	on     bool
	start  boat.Time
	end    boat.Time // last moment on it
	off    boat.Time // since when she is off it; 0 while she is not
	hdg    float64
	bestKn float64

	blocks int
	next   boat.Time    // since when glimpses are gathered for the next block
	closed boat.Time    // of the last block
	mean   boat.Reading // its heading, speed and heel
	kn     float64
	heel   boat.Reading
	heeled bool
}

func (l *leg) begin(from boat.Time, g glimpse) {
	*l = leg{on: true, start: from, end: g.t, hdg: g.hdg, next: from.After(afterTurnS), closed: from}
}

// resume makes l go on where an earlier leg ended.
func (l *leg) resume(b leg) {
	l.start, l.blocks, l.closed, l.mean, l.kn, l.heel, l.heeled = b.start, b.blocks, b.closed, b.mean, b.kn, b.heel, b.heeled
}

// left follows the heading and says whether the leg is over.
func (l *leg) left(g glimpse) bool {
	d := geo.Diff(l.hdg, g.hdg)
	if math.Abs(d) > leaveDeg {
		if l.off == 0 {
			l.off = g.t
		}
		return g.t.Seconds(l.off) >= leaveS || g.t.Seconds(l.end) > lostS
	}
	dt := math.Max(0, g.t.Seconds(l.end))
	l.off = 0
	if dt > lostS {
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
