package wind

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// A turn from one leg to the next (common practice, no source, where nothing else
// is said). The arc she swept is known: where it holds the wind she tacked, where it
// holds the point opposite she gybed. A tack loses a third of her speed at least, a
// learner's nearly all of it, since she coasts through some 90 degrees without
// drive; a gybe or a mere change of course hardly any.
const (
	turnS      = 60.0 // what takes longer is two courses, not one turn
	leastArc   = 25.0
	arcSD      = 5.0
	tackDip    = 0.68 // least speed over the lesser of the speeds before and after: this or less
	tackDipSD  = 0.15
	flatDip    = 0.97
	flatDipSD  = 0.15
	dipRange   = 0.35 // over which a tack's dip is spread: the mass of its shape, over the root of two pi
	oddTack    = 0.2  // share of tacks whose speed follows no rule
	oddTurn    = 0.35 // of other turns: she heads up with the sheet still out, or is late with it
	seldomS    = 2.5
	underWay   = 0.7  // of the speed after it
	dipLateS   = 6.0  // the receiver is a second or two late, and she gathers way again slowly
	ratioSD    = 0.3  // of the logarithm of the ratio of speeds on two legs, by helm and trim
	ratioFloor = 0.3  // speeds differ by gusts and crowds too
	engineSD   = 0.10 // and under engine, where wind and waves do it
	wayBlocks  = 3    // blocks until she has her way again
	turnProof  = 0.85
	enough     = 1.4 // odds of four to one
	proofArc   = 50.0
	eyeArc     = 130.0 // a wider turn begins or ends on a reach, where the sheet is out and the sail goes soft long before the eye
	reachSD    = 30.0
	eyeTurnS   = 25.0 // in a longer turn she lay in irons, and the heel is no sail's
)

// turned is what a turn says of how the next leg goes on: the weight of a beat after
// a beat, and of a beat after another course, for each direction of the wind.
type turned struct{ side, any, run, held [bins]float64 }

// arc is a turn that was seen.
type arc struct {
	ok         bool
	from       course
	sweptDeg   float64 // clockwise positive
	start, end boat.Time
}

// swept is the turn from the last leg to this one.
func (m *motion) swept(b *block) arc {
	if !m.before.on || m.leg.start.Seconds(m.before.end) > turnS || !m.before.mean.OK {
		return arc{}
	}
	a := arc{start: m.before.end, end: m.leg.start}
	a.from = m.past.mean(a.start.After(-20), a.start)
	if a.from.n == 0 {
		a.from = course{hdg: m.before.mean.Val, kn: m.before.kn, heel: m.before.heel}
	}
	sum := m.past.sum(a.start, b.t)
	net := geo.Diff(m.before.mean.Val, b.hdg)
	a.sweptDeg = net + float64(360*math.Round((sum-net)/360))
	a.ok = math.Abs(a.sweptDeg) >= leastArc && math.Abs(a.sweptDeg) <= 340
	return a
}

// holds is how surely the arc holds a direction, 0 to 1.
func (a arc) holds(dir float64) float64 {
	half := math.Abs(a.sweptDeg) / 2
	mid := a.from.hdg + a.sweptDeg/2
	d := math.Abs(geo.Diff(mid, dir))
	return 1 / (1 + math.Exp((d-half)/arcSD))
}

func (m *motion) turn(b *block) *turned {
	v := new(turned)
	m.arc = m.swept(b)
	a := m.arc
	for i := range bins {
		v.any[i], v.side[i], v.run[i], v.held[i] = 0.5, 0.5, 0.5, 1
		if !a.ok {
			continue
		}
		dir := float64(i) * binDeg
		if geo.Diff(a.from.hdg, dir)*geo.Diff(b.hdg, dir) >= 0 {
			v.side[i], v.run[i] = sameSide, sameTurn
			continue
		}
		bow := a.holds(dir)
		v.held[i] = 1 - float64((1-freeTack)*bow)
		v.run[i] = 1 - float64((1-sternWay)*bow)
		v.side[i] = (1 - sameSide) * (bow + float64(sternWay*(1-bow)))
	}
	return v
}

// turnTells takes what speed and heel say of the turn behind the first block of a
// leg, and whether it proves the side the wind is on.
func (e *Estimator) turnTells(in Sight, b *block) {
	m := &e.motion
	a := m.arc
	if !a.ok {
		return
	}
	tack, flat := dips(m.dip(b.kn))
	m.tack, m.flat = tack, flat
	heels := lean2(a.from.heel, b.heel)
	e.sailedBy(b, flat*heels(0, 0), func(dir float64) float64 {
		bow := a.holds(dir)
		v := float64(tack*bow) + float64(flat*(1-bow))
		was, is := geo.Diff(a.from.hdg, dir), geo.Diff(b.hdg, dir)
		return v * heels(was, is)
	})
	eye, sd, ok := m.past.eye(a.from, b.course, a.start.After(-2), a.end.After(4))
	if math.Abs(a.sweptDeg) > eyeArc {
		sd = math.Hypot(sd, reachSD)
	}
	if ok && a.end.Seconds(a.start) < eyeTurnS {
		e.eyeTells(b, eye, sd)
	}
	if math.Abs(a.sweptDeg) < proofArc {
		return
	}
	m.proof += math.Abs(math.Log(tack / flat))
	m.proved = m.proved || m.proof >= enough
	bow := 0.0
	for i, p := range e.dir.p {
		bow += float64(p * a.holds(float64(i)*binDeg))
	}
	if bow >= turnProof && a.from.heel.OK && b.heel.OK && a.from.heel.Val*b.heel.Val < 0 {
		m.tilt.level((a.from.heel.Val+b.heel.Val)/2, tiltPairSD)
	}
}

// dip is the least speed in the turn over the lesser of those before and after, and
// whether one would have been caught: readings came often enough, and she had way to
// lose when it began.
func (m *motion) dip(afterKn float64) (dip boat.Reading, caught bool) {
	a := m.arc
	turn := m.past.mean(a.start, a.end.After(dipLateS))
	less := math.Min(a.from.kn, afterKn)
	if turn.n < 2 || less < underWayKn {
		return boat.Reading{}, false
	}
	often := a.end.Seconds(a.start)+dipLateS <= seldomS*float64(turn.n)
	return boat.Some(turn.least / less), often && a.from.kn > underWay*afterKn
}

// dips is how likely a dip is in a tack and in any other turn.
func dips(dip boat.Reading, caught bool) (tack, flat float64) {
	if !dip.OK {
		return 1, 1
	}
	x := dip.Val
	tack = (1-oddTack)*bell(math.Max(x, tackDip), tackDip, tackDipSD)/dipRange + oddTack
	flat = (1-oddTurn)*bell(x, flatDip, flatDipSD)/flatDipSD + oddTurn
	if !caught && tack < flat {
		return 1, 1
	}
	return tack, flat
}

// sailedBy learns a fact of how she sails, and how likely it is under engine.
func (e *Estimator) sailedBy(b *block, engine float64, likely func(dirDeg float64) float64) {
	e.joint.weigh(likely, engine)
	e.joint.into(&e.dir)
	e.moved(b.t, b.byCOG, func(float64) float64 { return 1 })
}

// paceTells compares the speed on this leg, once she has her way again, with that on
// the last one, and measures the dip in the turn against it: a heavy boat, or one
// heard of every ten seconds, shows a tack only by how long she takes to be fast.
func (e *Estimator) paceTells(b *block) {
	m := &e.motion
	a := m.arc
	if m.leg.blocks != wayBlocks || !a.ok || !m.before.mean.OK {
		return
	}
	r := m.before.kn / math.Max(0.1, b.kn)
	tack, flat := dips(m.dip(b.kn))
	tack, flat = tack/m.tack, flat/m.flat
	e.sailedBy(b, flat*evenly(r), func(dir float64) float64 {
		bow := a.holds(dir)
		return (float64(tack*bow) + float64(flat*(1-bow))) * e.might.ratio(r, geo.Diff(m.before.mean.Val, dir), geo.Diff(b.hdg, dir))
	})
}

// evenly is how likely the ratio of speeds on two legs is under engine, on the scale of
// ratio: an engine drives her as fast on any course, and no sail does so for long
// (physics).
func evenly(r float64) float64 {
	return float64(bell(math.Log(math.Max(0.1, r)), 0, engineSD)*ratioSD/engineSD) + ratioFloor/2
}

// ratio compares the speeds on two legs with what the polar allows at their angles.
// Helm and trim are much the same on both, so this tells an asymmetry that headings
// cannot: she who was led too high on one tack and too low on the other is slow on
// the first. It holds for headings that were asked for.
func (m *might) ratio(r, was, is float64) float64 {
	x := math.Log(m.speed(math.Abs(was)) / m.speed(math.Abs(is)))
	return bell(math.Log(math.Max(0.1, r)), math.Max(-2, math.Min(2, x)), ratioSD) + ratioFloor
}
