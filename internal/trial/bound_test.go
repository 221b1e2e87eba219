package trial

import (
	"math"
	"math/rand/v2"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// beatRun is a session on tacks of two minutes in a steady wind from 220 degrees,
// the helm wandering by helmSD over half a minute.
func beatRun(helmSD float64) []moment {
	r := rand.New(rand.NewPCG(5, 6))
	var ms []moment
	off, f := 0.0, math.Exp(-1.0/30)
	for i := range 1800 {
		side := 1.0
		if i/120%2 == 1 {
			side = -1
		}
		off = f*off + helmSD*math.Sqrt(1-f*f)*r.NormFloat64()
		m := moment{st: boat.Status{T: start + boat.Time(i)*1000}, twd: 220, twa: side * (45 + off), aim: 45, sog: 4, mode: boat.CloseHauled}
		if i%120 < 10 {
			m.mode = boat.Tacking
		}
		m.heading = geo.Wrap360(m.twd - m.twa)
		ms = append(ms, m)
	}
	slowWind(ms)
	return ms
}

// In a steady wind two tacks average the helm out: the bound falls towards what the
// compass and the mean of the helm leave, and grows with the helm's error.
func TestBoundFallsAndGrows(t *testing.T) {
	var last [3]float64
	for i, sd := range []float64{1, 4, 8} {
		ms := beatRun(sd)
		bound(ms, told{})
		last[i] = math.Sqrt(ms[len(ms)-1].boundSq)
		if first := math.Sqrt(ms[60].boundSq); first < 4 || last[i] > first/2 {
			t.Errorf("helm to %v°: bound %.2f° on the first tack, %.2f° at the end", sd, first, last[i])
		}
	}
	if !(last[0] < last[1] && last[1] < last[2]) {
		t.Errorf("bounds %v, expected them to grow with the helm's error", last)
	}
	// Arithmetic: half an hour holds about 1600/(2·30) independent helm errors.
	if want := 8 / math.Sqrt(1600/60.0); last[2] < 0.6*want || last[2] > 1.4*want {
		t.Errorf("helm to 8°: bound %.2f° at the end, by counting %.2f°", last[2], want)
	}
}

// The helm's error is measured from the session as it was drawn.
func TestHelmIsMeasured(t *testing.T) {
	h := helmOf(beatRun(6))
	if h.sd < 4.5 || h.sd > 7.5 || h.tauS < 18 || h.tauS > 50 {
		t.Errorf("helm to %.1f° over %.0f s, drawn to 6° over 30 s", h.sd, h.tauS)
	}
}

// A fix tells at once what the beat tells later, a swing and a jump keep the bound up,
// and with an unknown compass it stands on the course.
func TestBoundKnowsItsNoises(t *testing.T) {
	at := func(i int, w told) float64 {
		ms := beatRun(4)
		bound(ms, w)
		return math.Sqrt(ms[i].boundSq)
	}
	if v := at(0, told{fixSDDeg: 5}); math.Abs(v-5) > 0.1 {
		t.Errorf("bound %.2f° after a fix to 5°", v)
	}
	calm := at(1799, told{})
	for name, w := range map[string]told{
		"a swing":          {swingDeg: 10, periodS: 240},
		"a drift":          {driftDeg: 8, driftTauS: 600},
		"a jump":           {jumps: []jump{{1700, 30}}},
		"a crooked course": {noCompass: true, currentKn: 0.5},
	} {
		if v := at(1799, w); v <= calm {
			t.Errorf("%s: bound %.2f°, not above the %.2f° without", name, v, calm)
		}
	}
}

// drawn draws a session of the bound's own model: the states, the wind they make and
// what is seen of them, on tacks of two minutes.
type drawn struct {
	b   *bounder
	r   *rand.Rand
	x   []float64 // true state
	est []float64 // of a filter told the noises
}

func newDrawn(seed uint64, w told) *drawn {
	ms := beatRun(5)
	d := &drawn{b: newBounder(ms, w), r: rand.New(rand.NewPCG(seed, 9))}
	d.x, d.est = make([]float64, d.b.g.n), make([]float64, d.b.g.n)
	for i := range d.x {
		d.x[i] = math.Sqrt(d.b.g.p[i][i]) * d.r.NormFloat64()
	}
	return d
}

// step moves the true state and the estimate by a second.
func (d *drawn) step() {
	for k, c := range d.b.g.parts {
		i := d.b.g.at[k]
		for _, v := range [][]float64{d.x, d.est} {
			switch {
			case c.periodS > 0:
				sin, cos := math.Sincos(2 * math.Pi / c.periodS)
				v[i], v[i+1] = cos*v[i]-sin*v[i+1], sin*v[i]+cos*v[i+1]
			case c.tauS > 0:
				v[i] *= math.Exp(-1 / c.tauS)
			}
		}
		if c.tauS > 0 {
			f := math.Exp(-1 / c.tauS)
			d.x[i] += c.sdDeg * math.Sqrt(1-f*f) * d.r.NormFloat64()
		}
	}
}

func dot(a, b []float64) float64 {
	v := 0.0
	for i := range a {
		v += a[i] * b[i]
	}
	return v
}

// see corrects the estimate by what a look shows.
func (d *drawn) see(l look) {
	y := dot(l.row, d.x) + math.Sqrt(l.variance)*d.r.NormFloat64()
	off := y - dot(l.row, d.est)
	s := d.b.g.variance(l.row) + l.variance
	for i := range d.est {
		d.est[i] += dot(d.b.g.p[i], l.row) / s * off
	}
}

// A filter that is told the noises errs by what the bound says, no less and no more:
// a hundred sessions drawn from the bound's own model with everything in it.
func TestBoundIsWhatAToldFilterGets(t *testing.T) {
	w := told{swingDeg: 8, periodS: 280, driftDeg: 4, driftTauS: 900, offDeg: 3, harmonicDeg: 3, currentKn: 0.4}
	got, want := 0.0, 0.0
	const sessions = 100
	for seed := range uint64(sessions) {
		d := newDrawn(seed, w)
		ms := d.b.ms
		for i := range ms {
			if i > 0 {
				d.step()
			}
			for _, l := range d.b.pass(i) {
				d.see(l)
				d.b.g.measure(l.row, l.variance)
			}
		}
		off := dot(d.b.wind, d.est) - dot(d.b.wind, d.x)
		got += off * off / sessions
		want += d.b.g.variance(d.b.wind) / sessions
	}
	t.Logf("errs by %.2f°, the bound is %.2f°", math.Sqrt(got), math.Sqrt(want))
	// The mean of a hundred squares of normals scatters by sqrt(2/100): three of that.
	if ratio := got / want; math.Abs(ratio-1) > 3*math.Sqrt(2.0/sessions) {
		t.Errorf("squared error over the bound: %.2f", ratio)
	}
}
