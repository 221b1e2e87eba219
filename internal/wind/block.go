package wind

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Headings are taken in blocks of a quarter of a minute on one leg, not in samples:
// within one, compass, helm and waves share their errors.
const (
	blockS      = 15.0
	firstBlockS = 13.0
	afterTurnS  = 8.0 // the first seconds of a leg are overshoot
	courseSD    = 4.5 // in place of blockSD where the course stands for the heading
	speedSD     = 0.18
	bendDeg     = 18.0
	resumeS     = 180.0
	longLegS    = 600.0 // a course held for longer may be one to somewhere
	speedFloor  = 0.15
)

// block is a quarter of a minute on a leg.
type block struct {
	course
	seconds float64 // since the block before
	first   bool    // of its leg
	own     float64 // how likely she sails it by the sail, and not because it was asked for or is the way to a mark
	sd      float64
	low     float64      // how far below her usual angle she is thought to sail on a beat
	before  boat.Reading // mean heading of the block before on this leg
	back    boat.Reading // of the leg before the last
	pace    boat.Reading // logarithm of her speed over that of the block before
}

// hold is how likely this heading is where a course is held.
func (b *block) hold() float64 {
	if !b.before.OK {
		return 1.0 / 360
	}
	return density(geo.Diff(b.before.Val, b.hdg), freeSD) + strayPDF
}

// bends says whether she changed course by so much without a turn that she may
// have another intent.
func (b *block) bends() bool {
	return b.before.OK && math.Abs(geo.Diff(b.before.Val, b.hdg)) > bendDeg
}

// elsewhere is how likely the heading of a new leg is that is no beat, at an angle
// a off the wind: anywhere she can sail, or where she came from before the last leg.
func (b *block) elsewhere(a float64) float64 {
	const mass = 2 * (180 - freeDeg + 12)
	v := math.Max(0.03, math.Min(1, (a-30)/(freeDeg-30))) / mass
	if !b.back.OK {
		return v
	}
	return float64((1-backPart)*v) + float64(backPart*sailable(a)*density(geo.Diff(b.back.Val, b.hdg), backSD))
}

func density(x, sd float64) float64 { return bell(x, 0, sd) / (sd * math.Sqrt(2*math.Pi)) }

// closeBlock takes the block that ends now, if it is long enough.
func (e *Estimator) closeBlock(in Sight, g glimpse) {
	m := &e.motion
	length := blockS
	if m.leg.blocks == 0 {
		length = firstBlockS
	}
	if g.t.Seconds(m.leg.next) < length {
		return
	}
	c := m.past.mean(m.leg.next.After(0.001), g.t)
	if c.n < 2 {
		return
	}
	m.leg.next = g.t
	if c.kn < m.leg.least(in) {
		return // she luffs, lies in a hole, or the course is noise
	}
	if m.leg.blocks == 0 && m.resumes(c.hdg) {
		m.leg.resume(m.before)
		m.before, m.prior = m.prior, leg{}
	}
	b := &block{course: c, first: m.leg.blocks == 0, sd: blockSD, own: 1,
		seconds: math.Min(120, g.t.Seconds(m.leg.closed)), before: m.leg.mean, back: m.prior.mean}
	if b.byCOG {
		b.sd = courseSD
	}
	if m.past.coached(g.t.After(-c.long)) {
		b.own = ownHelm
	}
	if g.t.Seconds(m.leg.start) > longLegS {
		b.own = 0
	}
	b.gathers(m.pace)
	if !b.first {
		b.pace = boat.Some(math.Log(math.Max(0.1, c.kn) / math.Max(0.1, m.leg.kn)))
	}
	m.leg.blocks++
	m.leg.closed, m.leg.mean, m.leg.kn, m.leg.heel = g.t, boat.Some(c.hdg), c.kn, c.heel
	e.sailed(in, b)
	m.pace.see(b, e.joint.beats())
}

// resumes says whether what looks like a new leg is the last one taken up again: a
// wave, a hole in the readings, a look round.
func (m *motion) resumes(hdg float64) bool {
	b := &m.before
	return b.on && b.mean.OK && m.leg.start.Seconds(b.end) < resumeS && math.Abs(geo.Diff(b.mean.Val, hdg)) < leastArc
}

// sailed takes a block into the belief: time first, then how the leg goes on, then
// what heading, speed and heel say.
func (e *Estimator) sailed(in Sight, b *block) {
	m := &e.motion
	if !e.begun {
		e.begun, e.now, e.fact = true, b.t, b.t
	}
	e.step(b.t, 0.001)
	if !e.joint.on {
		e.joint.start(&e.dir)
	}
	before := e.dir
	e.might.step(b.t)
	e.might.draw(in.Polar)
	if b.first {
		e.joint.kindTurn(b, m.turn(b))
	} else {
		gain := e.paced(b)
		e.joint.kindOn(b, &gain)
	}
	e.joint.into(&e.dir)
	e.moved(b.t, b.byCOG, func(float64) float64 { return 1 })
	if b.first {
		e.turnTells(in, b)
	}
	e.paceTells(b)
	e.speedTells(b)
	if b.heel.OK && !m.leg.heeled {
		m.leg.heeled = e.heels(b.course)
	}
	e.joint.rest.take(&before, &e.dir)
}

// paced is how likely the change of her speed is for each change of the helm on a
// beat, against a course held: who points higher than her best slows, and a shift
// that she follows changes nothing (physics). Gusts make it doubtful.
func (e *Estimator) paced(b *block) (gain [closes][helms][helms]float64) {
	same := bell(b.pace.Val, 0, speedSD) + speedFloor
	for c, closest := range e.joint.close {
		var ln [helms]float64
		for k, helm := range e.joint.helm {
			ln[k] = math.Log(math.Max(0.05, e.might.speed(closest+helm)))
		}
		for was := range helms {
			for is := range helms {
				gain[c][was][is] = 1
				if b.pace.OK && b.own == 1 {
					gain[c][was][is] = (bell(b.pace.Val, ln[is]-ln[was], speedSD) + speedFloor) / same
				}
			}
		}
	}
	return gain
}
