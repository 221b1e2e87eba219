package exercise

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"helmcue/internal/boat"
)

// compared sails low against close: at 44° with the speed of full, at the angle that
// was asked for with fast times it, and scatter as told, a new value each second.
func compared(t *testing.T, fast, sd float64, seed uint64) *sea {
	r := rand.New(rand.NewPCG(seed, 1))
	b := newSea(t, single(LowOrClose))
	b.s.Wind.SDDeg = 1.5
	noise := 0.0
	b.wig = func(sec float64) (float64, float64, float64) {
		if sec == math.Trunc(sec) {
			noise = sd * r.NormFloat64()
		}
		return 0, -8, noise
	}
	off, share := 44.0, 1.0
	done := 0
	for len(b.results())+len(b.phase(Void)) == 0 && b.s.Now.Seconds(t0) < 500 {
		b.hold(1, off, share)
		for ; done < len(b.asked); done++ {
			switch b.asked[done].Key {
			case boat.BearAway:
				off, share = 54, fast
			case boat.HeadUp:
				off, share = 44, 1
			}
		}
	}
	return b
}

// The published arithmetic of the trade: from 45°, 10° lower needs 23 % more speed to
// gain as much to windward (cos 45 / cos 55 = 1.2328, arithmetic). From 44° it is
// cos 44 / cos 54 = 1.2238.
func TestLowAgainstClose(t *testing.T) {
	even := math.Cos(44*math.Pi/180) / math.Cos(54*math.Pi/180)
	for _, c := range []struct {
		name string
		fast float64
		want string
	}{{"as fast low as close", 1, "close_pays"}, {"even", even, "no_difference"}, {"a fifth faster than even", 1.2 * even, "low_pays"}} {
		b := compared(t, c.fast, 0.03, 7)
		b.expect(true, map[string][2]float64{"low_deg": {54, 1}, "close_deg": {44, 1}})
		r := b.one()
		if !b.spoken(boat.Result, c.want) {
			t.Errorf("%s: %s, want %s said", c.name, r.Text, c.want)
		}
		gain := 200 * (c.fast/even - 1) / (c.fast/even + 1)
		if math.Abs(r.Score["gain_pct"]-gain) > 3*r.Score["gain_sd_pct"]+0.5 {
			t.Errorf("%s: gain %.1f %%, want %.1f", c.name, r.Score["gain_pct"], gain)
		}
	}
}

// Where there is no difference, one is called in no more than one run of ten (the
// interval is 90 %); fifteen runs with 5 % scatter, four at most (binomial, 99 %).
func TestNoDifferenceIsSaid(t *testing.T) {
	even := math.Cos(44*math.Pi/180) / math.Cos(54*math.Pi/180)
	called := 0
	for seed := range uint64(15) {
		if b := compared(t, even, 0.05, seed); !b.spoken(boat.Result, "no_difference") {
			called++
		}
	}
	if called > 4 {
		t.Errorf("a difference was called in %d of 15 runs without one", called)
	}
}

// Student's t with 20 degrees of freedom, two-sided 90 %, by gonum (stat/distuv).
func TestTheIntervalIsStudents(t *testing.T) {
	if want := (distuv.StudentsT{Sigma: 1, Nu: 20}).Quantile(0.95); math.Abs(student90-want) > 0.01 {
		t.Errorf("%g, want %g", student90, want)
	}
}

func TestSameAnglesAreNotCompared(t *testing.T) {
	b := newSea(t, single(LowOrClose)).hold(420, 44, 1) // deaf to every order
	if len(b.results()) != 0 || len(b.phase(Void)) == 0 {
		t.Errorf("compared what was one angle: %s", b.log())
	}
}

func TestOrdersOfTheComparison(t *testing.T) {
	b := compared(t, 1, 0.02, 1)
	var keys []boat.Key
	for _, p := range b.asked {
		if p.Key == boat.BearAway || p.Key == boat.HeadUp {
			keys = append(keys, p.Key)
			if p.Amount.Val != 10 || p.Variant != "10" {
				t.Errorf("asked %+v", p)
			}
		}
	}
	if len(keys) != 3 || keys[0] != boat.BearAway || keys[1] != boat.HeadUp || keys[2] != boat.BearAway {
		t.Errorf("asked %v, want low, close and low", keys)
	}
}
