package wind

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// A turn from one leg to the next (common practice, no source, where nothing else
// is said). A tack loses a third of her speed at least, a learner's nearly all of
// it, since she coasts through some 90 degrees without drive; a gybe or a mere
// change of course hardly any.
const (
	leastTurn = 60.0
	mostTurn  = 140.0
	tackDip   = 0.65 // least speed over the lesser of the speeds before and after: this or less
	tackDipSD = 0.15
	flatDip   = 0.97
	flatDipSD = 0.12
	dipRange  = 0.33 // over which a tack's dip is spread: the mass of its shape, over the root of two pi
	oddTack   = 0.1  // share of tacks whose speed follows no rule
	oddTurn   = 0.35 // of other turns: she heads up with the sheet still out, or is late with it

	tackPrior  = 0.6
	gybePrior  = 0.2
	otherPrior = 0.2 // bore away, headed up, went round something
	halfSD     = 9.0 // of half the angle a tack turns through
	tackSD     = 8.0 // of the middle of two headings: a few degrees of helm on each, and 4 of pointing one tack higher
	tackCOGSD  = 9.0
	askedDeg   = 33.0 // headings were asked for: she sailed on both, so the wind is so far from either, no more
	askedSD    = 6.0
	gybeSD     = 18.0
	likelyTack = 0.5
	proofLog   = 0.85 // the side is told by turns that are tacks with odds of 7 to 3 together
	seldomS    = 2.5
	ratioSD    = 0.3 // of the logarithm of the ratio of speeds on two legs, by helm and trim
)

// compare takes the fact of a turn between two legs, and says whether it was one
// that tells where the wind is.
func (e *Estimator) compare(in Sight, old, now leg, t boat.Time) bool {
	m := &e.motion
	if !now.turned {
		return false
	}
	a := m.past.mean(old.end.After(-20), old.end.After(-1))
	b := m.past.mean(now.start.After(6), t)
	d := geo.Diff(a.hdg, b.hdg)
	if a.n < 2 || b.n < 2 || math.Abs(d) < leastTurn || math.Abs(d) > mostTurn {
		return false
	}
	if math.Min(a.kn, b.kn) < underWayKn {
		return false
	}
	// The receiver is a second or two late.
	turn := m.past.mean(old.end, now.start.After(4))
	dip := boat.Some(turn.least / math.Min(a.kn, b.kn))
	if now.start.Seconds(old.end)+4 > seldomS*float64(turn.n) {
		dip = boat.Reading{} // readings too seldom to have caught it
	}
	v := verdict(dip, math.Abs(d)/2)
	v = v.heeled(m.tilt, a.heel, b.heel)
	asked := m.past.coached(old.end.After(-20))
	e.moved(t, b.byCOG, v.likely(in, a, b, asked))
	m.proof = math.Max(0, m.proof+math.Log(v.tack/(v.gybe+v.other)))
	m.proved = m.proved || m.proof > proofLog
	if v.tack < likelyTack {
		return false
	}
	if eye, ok := m.past.eye(a, b, old.end.After(-2), now.start.After(4)); ok && asked {
		e.moved(t, false, near(eye, eyeSD, eyeWild))
	}
	if !asked {
		m.beat.learn(math.Abs(d) / 2)
	}
	if a.heel.OK && b.heel.OK && a.heel.Val*b.heel.Val < 0 {
		m.tilt.level((a.heel.Val+b.heel.Val)/2, tiltPairSD)
	}
	return true
}

// turnKind is how likely each kind of turn is.
type turnKind struct{ tack, gybe, other float64 }

func verdict(dipRead boat.Reading, halfDeg float64) turnKind {
	if !dipRead.OK {
		return turnKind{tackPrior * bell(halfDeg, firstBeat, halfSD), gybePrior, otherPrior}.whole()
	}
	dip := dipRead.Val
	flat := (1-oddTurn)*bell(dip, flatDip, flatDipSD)/flatDipSD + oddTurn
	k := turnKind{
		tack:  tackPrior * ((1-oddTack)*bell(math.Max(dip, tackDip), tackDip, tackDipSD)/dipRange + oddTack) * bell(halfDeg, firstBeat, halfSD),
		gybe:  gybePrior * flat,
		other: otherPrior * flat,
	}
	return k.whole()
}

func (k turnKind) whole() turnKind {
	sum := k.tack + k.gybe + k.other
	return turnKind{k.tack / sum, k.gybe / sum, k.other / sum}
}

// heeled weighs a turn by the heel before and after, once the level is known: a
// tack changes its side; where it is large on one leg and nothing on the other, she
// came from a run or went to one.
func (k turnKind) heeled(t tilt, a, b boat.Reading) turnKind {
	const much, nothing = 4.0, 2.5
	if t.variance == 0 || !a.OK || !b.OK {
		return k
	}
	x, y := a.Val-t.deg, b.Val-t.deg
	least, most := math.Min(math.Abs(x), math.Abs(y)), math.Max(math.Abs(x), math.Abs(y))
	switch {
	case least > much && x*y < 0:
		k.other *= 0.2
	case least > much:
		k.tack *= 0.1
		k.gybe *= 0.3
	case most > much+1 && least < nothing:
		k.tack *= 0.3
	}
	return k.whole()
}

func (k turnKind) likely(in Sight, a, b course, asked bool) func(float64) float64 {
	mid := a.hdg + geo.Diff(a.hdg, b.hdg)/2
	sd, flat := tackSD, 0.0
	switch {
	case asked:
		sd, flat = askedSD, math.Max(0, math.Abs(geo.Diff(a.hdg, b.hdg))/2-askedDeg)
	case b.byCOG:
		sd = tackCOGSD
	}
	return func(dir float64) float64 {
		beyond := math.Max(0, math.Abs(geo.Diff(mid, dir))-flat)
		tack := k.tack * bell(beyond, 0, sd) / (sd + flat*2/math.Sqrt(2*math.Pi))
		gybe := k.gybe * bell(geo.Diff(mid+180, dir), 0, gybeSD) / gybeSD
		place := tack + gybe + k.other*math.Sqrt(2*math.Pi)/360
		return place * ratioLikely(in, a, b, dir)
	}
}

// ratioLikely compares the speeds on the two legs with what the polar allows at
// their angles. Helm and trim are much the same on both, so this tells an
// asymmetry that headings cannot: she who was led too high on one tack and too low
// on the other is slow on the first. It holds for headings that were asked for.
func ratioLikely(in Sight, a, b course, dir float64) float64 {
	const slowest = 0.1 // share of her best; below it the polar is only a guess
	x := math.Abs(geo.Diff(a.hdg, dir))
	y := math.Abs(geo.Diff(b.hdg, dir))
	ln := math.Log(a.kn / b.kn)
	sum := 0.0
	winds := in.winds()
	for _, w := range winds {
		floor := slowest * in.Polar(w, 90)
		p, q := math.Max(floor, in.Polar(w, x)), math.Max(floor, in.Polar(w, y))
		if p <= 0 || q <= 0 {
			sum++
			continue
		}
		sum += bell(ln, math.Log(p/q), ratioSD)
	}
	return sum/float64(len(winds)) + 0.1
}

// winds are speeds of the wind, knots, that stand for all that may be.
func (in Sight) winds() [3]float64 {
	if !in.TWSKn.OK || !(in.TWSSD >= 0) {
		return [3]float64{5, 9, 14}
	}
	w := in.TWSKn.Val
	return [3]float64{math.Max(2, w-in.TWSSD), math.Max(2, w), math.Max(2, w+in.TWSSD)}
}

// bell is a normal density with its peak at 1.
func bell(x, mean, sd float64) float64 {
	z := (x - mean) / sd
	return math.Exp(-float64(z*z) / 2)
}
