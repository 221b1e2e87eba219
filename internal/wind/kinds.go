package wind

import (
	"math"

	"helmcue/internal/geo"
)

// A leg is a beat, a run or something else (common practice, no source): a beat
// follows the wind, a run does so loosely, another course is held whatever the wind
// does, and lies anywhere outside the dead sector.
const (
	firstBeat = 0.5
	firstRun  = 0.15
	firstFree = 0.31

	// An engine takes her anywhere, and is seldom stopped or started by a turn. It is
	// what keeps a boat that motors into the wind from proving the wind elsewhere.
	firstMotor = 0.04
	stillMotor = 0.95
	newMotor   = 0.005
	bendFree   = 0.1 // a bend within a leg: she heads for something, or follows the wind
	bendRun    = 0.3 // of bends to something else are to a run
	surprise   = 1.5 // odds of 4.5 to one
	sameSide   = 0.1 // of beats after a beat are on the same tack
	sameRun    = 0.8 // of runs after a run are sailed as low
	sameTurn   = 0.4 // of runs begun without crossing the wind's line, against those begun by a gybe
	runSD      = 9.0
	laterSD    = 18.0 // of more of the same run: she is hardly steered by the wind
	freeTack   = 0.4  // of other courses are begun by a tack, against those begun otherwise
	sternWay   = 0.05 // of those on the other one that got there by the stern

	blockSD  = 3.5 // of the mean heading of a quarter of a minute
	freeSD   = 5.5 // of the change from one to the next on a held course: as much as a beat's
	backSD   = 9.0
	backPart = 0.2 // of courses after two turns are those from before them
	strayPDF = 0.02 / 360
	pinchDeg = 22.0 // nobody keeps way so close to the wind
	freeDeg  = 55.0 // and who wants to be elsewhere than to windward sails lower than this
	askedDeg = 36.0

	// A heading that was asked for may be sailed because it was asked for, and then says
	// nothing of the wind but that she can sail there; or by the sail, as any other.
	// One held for very long may be one to some mark.
	ownHelm = 0.6
	ledPDF  = 0.08 // of a heading within some degrees of what was asked
)

// kindTurn moves the cells on to a new leg. Without a turn that was seen both tacks
// are alike.
func (j *joint) kindTurn(b *block, v *turned) {
	to := next()
	for l := range leans {
		for c := range closes {
			j.kindTurnOf(at(l, c, 0), v, &to)
		}
	}
	j.heading(b)
}

// next is what kind of leg follows which: beat, run or another course.
func next() [3][3]float64 {
	return [3][3]float64{{0.82, 0.08, 0.10}, {0.28, 0.57, 0.15}, {0.42, 0.18, 0.40}}
}

func (j *joint) kindTurnOf(first int, v *turned, to *[3][3]float64) {
	for i := range bins {
		beat, run := 0.0, 0.0
		var was [runs]float64
		for k := range helms {
			beat += j.cell[first+k].p[i]
		}
		for k := range was {
			was[k] = j.cell[first+helms+k].p[i]
			run += was[k]
		}
		held, engine := j.cell[first+free].p[i], j.cell[first+motor].p[i]
		j.cell[first+motor].p[i] = float64(engine*stillMotor) + float64(newMotor*(beat+run+held))
		held += float64(engine * (1 - stillMotor))
		beats := float64(beat*to[0][0]*v.side[i]) + float64((float64(run*to[1][0])+float64(held*to[2][0]))*v.any[i])
		fresh := float64(beat*to[0][1]) + float64(held*to[2][1]) + float64(run*to[1][1]*(1-sameRun))
		for k := range helms {
			j.cell[first+k].p[i] = beats * j.helmPrior[k]
		}
		for k := range was {
			j.cell[first+helms+k].p[i] = (fresh/runs + float64(was[k]*to[1][1]*sameRun)) * v.run[i]
		}
		j.cell[first+free].p[i] = (float64(beat*to[0][2]) + float64(run*to[1][2]) + float64(held*to[2][2])) * v.held[i]
	}
}

// kindOn moves the cells on along the same leg.
func (j *joint) kindOn(b *block, gain *[closes][helms][helms]float64) {
	from := j.wander(b.seconds)
	late := 0.0
	if b.bends() {
		late = bendFree
	}
	side := sides(b.hdg)
	s := j.shares(&side)
	for l := range leans {
		for c := range closes {
			j.kindOnOf(at(l, c, 0), late, &from, &gain[c])
		}
	}
	j.heading(b)
	if b.bends() {
		return
	}
	j.settle(&side, s)
}

func (j *joint) kindOnOf(first int, late float64, from, gain *[helms][helms]float64) {
	var was [kinds]grid
	copy(was[:], j.cell[first:first+kinds])
	held := &j.cell[first+free]
	for i := range held.p {
		held.p[i] *= 1 - late
	}
	for k := range helms {
		for i, p := range was[k].p {
			held.p[i] += float64(late * p)
		}
		to := &j.cell[first+k]
		for i, p := range was[free].p {
			to.p[i] = late * (1 - bendRun) * j.helmPrior[k] * p
		}
		for b := range helms {
			share := from[b][k] * gain[b][k] * (1 - late)
			for i, p := range was[b].p {
				to.p[i] += float64(share * p)
			}
		}
	}
	for k := helms; k < free && late > 0; k++ {
		to := &j.cell[first+k]
		for i, p := range was[k].p {
			held.p[i] += float64(late * p)
			to.p[i] = float64(p*(1-late)) + float64(late*bendRun/runs*was[free].p[i])
		}
	}
}

// heading takes the mean heading of a block. before is the one before on the same
// leg, or back the one two legs ago.
func (j *joint) heading(b *block) {
	hold := b.hold()
	near := newShape(b.sd)
	low := newShape(laterSD)
	begins := b.first || b.bends()
	if begins {
		low = newShape(runSD)
	}
	for i := range bins {
		off := geo.Diff(b.hdg, float64(i)*binDeg)
		a := math.Abs(off)
		sign := math.Copysign(1, off)
		elsewhere, anywhere := hold, hold
		if begins {
			elsewhere, anywhere = b.elsewhere(a), 1.0/360
		}
		led := (1 - b.own) * ledPDF
		if begins { // that she can sail there is taken when the leg begins
			led *= askedOpen(a)
		}
		for l, lean := range j.lean {
			for c, closest := range j.close {
				first := at(l, c, 0)
				for k, helm := range j.helm {
					v := near.at(a - closest - helm - b.low - float64(sign*lean))
					j.cell[first+k].p[i] *= led + float64(b.own*v)
				}
				for k, run := range j.run {
					j.cell[first+helms+k].p[i] *= led + float64(b.own*low.at(a-run))
				}
				j.cell[first+free].p[i] *= led + float64(b.own*elsewhere)
				j.cell[first+motor].p[i] *= led + float64(b.own*anywhere)
			}
		}
	}
}

// shares is how likely a beat with the wind to starboard of a heading is, one with it
// to port, a run, another course, and an engine.
type shares [5]float64

// sides is 0 for directions to starboard of a heading and 1 for those to port.
func sides(hdg float64) (side [bins]uint8) {
	for i := range side {
		if geo.Diff(hdg, float64(i)*binDeg) <= 0 {
			side[i] = 1
		}
	}
	return side
}

// share is which of the shares a bin of a cell counts for.
func share(side uint8, kind int) int {
	switch {
	case kind >= free:
		return kind - free + 3
	case kind >= helms:
		return 2
	}
	return int(side)
}

func (j *joint) shares(side *[bins]uint8) (s shares) {
	for c := range j.cell {
		kind := c % kinds
		for i, p := range j.cell[c].p {
			s[share(side[i], kind)] += p
		}
	}
	return s
}

// settle gives both tacks, runs and other courses nearly the shares they had: what
// they are was weighed when the leg began. How steadily she holds her heading after
// that tells more of her helm than of her intent, and nothing of the side. Only what
// would be a great surprise to one of them and not to the others counts.
func (j *joint) settle(side *[bins]uint8, had shares) {
	have := j.shares(side)
	var scale shares
	total := 0.0
	for k := range have {
		total += have[k]
	}
	for k := range have {
		if !(have[k] > 0 && had[k] > 0 && total > 0) {
			scale[k] = 1
			continue
		}
		x := math.Log(have[k] / had[k] / total)
		scale[k] = math.Exp(math.Copysign(math.Max(0, math.Abs(x)-surprise), x)) * had[k] / have[k]
	}
	for c := range j.cell {
		for i := range j.cell[c].p {
			j.cell[c].p[i] *= scale[share(side[i], c%kinds)]
		}
	}
}

// shape is a normal density, by quarters of a degree.
type shape struct{ v [480]float64 }

func newShape(sd float64) *shape {
	s := new(shape)
	for i := range s.v {
		s.v[i] = bell(float64(i)/4, 0, sd)/(sd*math.Sqrt(2*math.Pi)) + strayPDF
	}
	return s
}

func (s *shape) at(d float64) float64 {
	i := int(float64(math.Abs(d)*4) + 0.5)
	return s.v[min(i, len(s.v)-1)]
}

// sailable is 1 at angles that can be sailed and nearly 0 where she would stop.
func sailable(a float64) float64 { return math.Max(0.02, math.Min(1, (a-pinchDeg)/15)) }

// askedOpen is 1 where a heading that was asked for may lie: anywhere she can sail.
func askedOpen(a float64) float64 { return math.Max(0.02, math.Min(1, (a-askedDeg+12)/12)) }
