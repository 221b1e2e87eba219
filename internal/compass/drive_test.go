package compass

import (
	"math"
	"math/rand/v2"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// leg is a stretch of a made-up drive.
type legOf struct {
	headingDeg float64
	kn         float64 // through the water
	s          float64
	twaDeg     float64 // starboard positive; the wind is north throughout
}

// world is what a drive is sailed in, and what the estimator is to find out.
type world struct {
	dev      boat.Deviation
	leeway   float64
	east     float64
	north    float64
	lagS     float64
	legSD    float64 // what else turns the course on each leg
	blind    bool    // nobody tells the side
	sided    float64 // share by which she is faster on starboard tack
	log      bool
	jumpAt   float64 // from this second on
	jump     boat.Deviation
	rand     *rand.Rand
	bias     float64
	goal     float64 // where the bias goes on this leg
	e, n, mv float64 // receiver's errors, and what waves do to the bow
	t        float64
	heading  float64
	past     []past
}

type past struct{ cog, sog float64 }

const (
	stepS = 0.2
	begin = boat.Time(1_900_000_000_000)
)

func newWorld(seed uint64) *world {
	r := rand.New(rand.NewPCG(seed, 77))
	n := func(sd float64) float64 { return sd * r.NormFloat64() }
	return &world{
		dev:    boat.Deviation{ADeg: n(5), BDeg: n(5), CDeg: n(5)},
		leeway: 3 + n(3), east: n(0.35), north: n(0.35), lagS: 1 + 0.8*r.Float64(), legSD: 1.5, sided: n(0.04), rand: r,
	}
}

// shown is what a compass shows on a true heading: the deviation goes by what it
// shows itself.
func shown(trueDeg float64, d boat.Deviation) float64 {
	deg := trueDeg
	for range 8 {
		deg = trueDeg - d.At(deg)
	}
	return geo.Wrap360(deg)
}

// sail feeds the estimator with the legs; see is called once a second with the true
// heading and the shown one.
func (w *world) sail(e *Estimator, legs []legOf, see func(trueDeg, shownDeg float64)) {
	if w.t == 0 {
		w.heading = legs[0].headingDeg
	}
	for _, l := range legs {
		w.goal = w.legSD * w.rand.NormFloat64()
		l.kn *= 1 + 0.08*w.rand.NormFloat64() + w.sided*math.Copysign(1, l.twaDeg)
		for range int(l.s / stepS) {
			w.step(e, l, see)
		}
	}
}

func (w *world) step(e *Estimator, l legOf, see func(trueDeg, shownDeg float64)) {
	w.t += stepS
	now := begin.After(w.t)
	turn := math.Max(-12*stepS, math.Min(12*stepS, geo.Diff(w.heading, l.headingDeg)))
	w.heading = geo.Wrap360(w.heading + turn)
	w.move(l)
	w.mv += -w.mv*stepS/3 + 2*math.Sqrt(2*stepS/3)*w.rand.NormFloat64()*0.7
	dev := w.dev
	if w.jumpAt > 0 && w.t > w.jumpAt {
		dev.ADeg, dev.BDeg, dev.CDeg = dev.ADeg+w.jump.ADeg, dev.BDeg+w.jump.BDeg, dev.CDeg+w.jump.CDeg
	}
	bow := shown(w.heading+w.mv*0.5, dev)
	e.Bow(now, bow)
	steps := int(math.Round(w.t / stepS))
	if steps%5 != 0 {
		return
	}
	if !w.blind {
		e.Lean(now, boat.Some(l.twaDeg))
	}
	p := w.past[max(0, len(w.past)-1-int(math.Round(w.lagS/stepS)))]
	c := Course{T: now, COGDeg: p.cog, SOGKn: p.sog}
	if w.log {
		c.WaterKn = boat.Some(l.kn * 1.02)
	}
	e.Course(c)
	if see != nil {
		see(w.heading+w.mv*0.5, bow)
	}
}

// move works out course and speed over the ground, with a receiver's errors.
func (w *world) move(l legOf) {
	twa := geo.Rad(geo.Diff(w.heading, 0))
	lee := w.leeway * (1 + math.Cos(twa)) / (1 + math.Cos(math.Pi/4)) * math.Max(-1, math.Min(1, 3*math.Sin(twa)))
	w.bias += (w.goal - w.bias) * stepS / 3
	track := geo.Rad(w.heading - lee + w.bias)
	for _, v := range []*float64{&w.e, &w.n} { // 0.08 kn that forgets itself over 4 s
		*v += -*v*stepS/4 + 0.08*math.Sqrt(2*stepS/4)*w.rand.NormFloat64()
	}
	east := l.kn*math.Sin(track) + w.east + w.e
	north := l.kn*math.Cos(track) + w.north + w.n
	w.past = append(w.past, past{cog: geo.Wrap360(geo.Deg(math.Atan2(east, north))), sog: math.Hypot(east, north)})
}

// beat is so many tacks in a wind from the north; on the way down she sails the
// other headings.
func beat(tacks int, legS float64) []legOf {
	var out []legOf
	for i := range tacks {
		out = append(out, legOf{headingDeg: 315, kn: 3.6, s: legS, twaDeg: 45})
		if i%2 == 1 {
			out[i] = legOf{headingDeg: 45, kn: 3.6, s: legS, twaDeg: -45}
		}
	}
	return out
}

func round(legS float64) []legOf {
	out := beat(4, legS)
	return append(out,
		legOf{headingDeg: 100, kn: 4.6, s: legS, twaDeg: -100}, legOf{headingDeg: 260, kn: 4.6, s: legS, twaDeg: 100},
		legOf{headingDeg: 200, kn: 4.0, s: legS, twaDeg: 160}, legOf{headingDeg: 160, kn: 4.0, s: legS, twaDeg: -160})
}
