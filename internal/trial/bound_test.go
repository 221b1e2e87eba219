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
