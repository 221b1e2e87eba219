package shift

import "math"

// verdict is who turned the bow.
type verdict int

const (
	unclear verdict = iota
	byWind
	byHelm
)

const (
	gustLeast = 0.02 // least surprise of her speed from block to block, as a share
	gustS     = 25.0 // how long a gust or lull lasts (common practice, no source)
	answer    = 0.7  // how much of a change of her speed comes within a block
	oddsMost  = 1.5  // that one block may add to the log odds: gusts have fronts
	sureLn    = 0.9  // log odds from which a side is taken: 10 to 4
	leastAt   = 28.0 // degrees to the wind below which the polar is not asked
)

// gustKeep is how much of a departure of her speed the next block keeps.
func gustKeep() float64 { return math.Exp(-blockS / gustS) }

// odds weighs two stories of a departure of the bow, block by block: the wind
// turned it, and her speed knows nothing of it; or the helm did, and her speed went
// as the polar says. Both allow for gusts, which are followed from block to block,
// so that the seconds about the turn of the bow count most.
type odds struct {
	ln   float64 // log odds for the wind
	told float64 // change of speed the helm would have brought so far
	n    int
	ok   bool
}

// pace is her speed's logarithm about its mean in a block and in the one before,
// and its usual surprise.
type pace struct{ off, before, scale float64 }

// take follows one block in which the bow was liftDeg off its mean.
func (o *odds) take(s *Sight, p pace, liftDeg float64) {
	want, ok := helmChange(s, liftDeg)
	o.ok = ok
	if !ok {
		return
	}
	v := math.Max(gustLeast, p.scale)
	was := o.told
	o.told += float64(answer * (want - o.told))
	wind := p.off - float64(gustKeep()*p.before)
	helm := (p.off - o.told) - float64(gustKeep()*(p.before-was))
	d := (float64(helm*helm) - float64(wind*wind)) / (2 * v * v)
	o.ln += math.Max(-oddsMost, math.Min(oddsMost, d))
	o.n++
}

func (o *odds) verdict() verdict {
	switch {
	case !o.ok || o.n < 2:
		return unclear
	case o.ln > sureLn:
		return byWind
	case o.ln < -sureLn:
		return byHelm
	}
	return unclear
}

// helmChange is by how much the logarithm of her speed changes when she is steered
// liftDeg closer to the wind from her best angle. Where the wind's strength is not
// known, 8 knots stand in: the slope hardly hangs on it.
func helmChange(s *Sight, liftDeg float64) (float64, bool) {
	if s.Polar == nil || !s.Target.OK {
		return plainChange(liftDeg), true
	}
	kn, at := s.Wind.SpeedKn.Or(8), s.Target.BeatDeg
	before, after := s.Polar(kn, at), s.Polar(kn, math.Max(leastAt, at-liftDeg))
	if !(before > 0) || !(after >= 0) {
		return 0, false
	}
	return math.Log(math.Max(0.4, after/before)), true
}

// plainChange stands in without a polar: about 2 % a degree up, 1 % a degree down
// (slopes of small boats' polars about the best angle; common practice, no source).
func plainChange(liftDeg float64) float64 {
	if liftDeg > 0 {
		return -0.02 * liftDeg
	}
	return -0.01 * liftDeg
}
