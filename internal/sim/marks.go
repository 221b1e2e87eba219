package sim

import (
	"math"
	"math/rand/v2"

	"helmcue/internal/geo"
)

// mark is a place to steer for, metres east and north of the ramp.
type mark struct{ eastM, northM float64 }

const (
	roundedM = 25.0 // near enough to a mark
	rampOutS = 110.0
	noGybeKn = 12.0 // knots from which no learner gybes at a mark: round by way of the wind
)

// wing is the mark of the triangle that lies aside, half the way down the beat: on
// the side to which she comes out on starboard tack.
func (l *learner) wing() mark {
	sin, cos := math.Sin(geo.Rad(l.axisDeg)), math.Cos(geo.Rad(l.axisDeg))
	const half = beatM / 2
	return mark{float64(half*sin) - float64(half*cos), float64(half*cos) + float64(half*sin)}
}

// headFor begins a leg that ends at a mark.
func (l *learner) headFor(r *rand.Rand, m mark, t float64) {
	l.enter(r, toMark, t)
	l.to = m
}

// home steers for the mark: a course by a glance now and then, as near to it as she
// can sail, changing tacks or gybing where it lies on the other side of the wind.
func (l *learner) home(r *rand.Rand, t float64, h *hull) {
	east, north := l.to.eastM-h.eastM, l.to.northM-h.northM
	if math.Hypot(east, north) < roundedM || t-l.legSince > mostLegS {
		l.rounded(r, t)
		return
	}
	off := geo.Diff(geo.Deg(math.Atan2(east, north)), l.feltDeg) // of the mark, from starboard positive
	l.goalDeg = clamp(math.Abs(off), l.beatDeg(), 165)
	across := off*l.side < 0 && math.Abs(off) > l.beatDeg()-2 && math.Abs(off) < 168
	if !across || t < l.turnAt {
		return
	}
	if math.Abs(off)+math.Abs(h.twaDeg) < 200 || l.windKn > noGybeKn {
		l.goalDeg = math.Max(l.beatDeg(), math.Min(math.Abs(off), 110))
		l.tryTack(r, t, h)
		return
	}
	l.beginTurn(r, gybing, t)
}

// rounded goes on from a mark.
func (l *learner) rounded(r *rand.Rand, t float64) {
	switch {
	case l.of.Course == Ramp:
		l.enter(r, reach, t)
		l.turnAt = t + rampOutS + between(r, 0, 60)
	case l.to == l.wing():
		l.headFor(r, mark{}, t)
	default:
		l.enter(r, beat, t)
	}
}
