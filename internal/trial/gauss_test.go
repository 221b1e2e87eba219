package trial

import (
	"encoding/csv"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"
)

// Steady variances against the Riccati equation as scipy solves it.
// Source: testdata/checks/scripts/filter_reference.py.
func TestBoundAgreesWithRiccati(t *testing.T) {
	f, err := os.Open("../../testdata/checks/kalman_steady.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < 6 {
		t.Fatalf("expected the rows of the script, got %d", len(rows))
	}
	for _, row := range rows[1:] {
		var v [6]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(row[i], 64); err != nil {
				t.Fatal(err)
			}
		}
		walk, sd, tau, dt, noise, want := v[0], v[1], v[2], v[3], v[4], v[5]
		g := newGauss([]component{{sdDeg: 30, walk: walk}, {sdDeg: sd, tauS: tau}})
		for range 20000 {
			g.step(dt)
			g.measure([]float64{1, 1}, noise*noise)
		}
		if got := g.variance([]float64{1, 0}); math.Abs(got-want) > 1e-4*want {
			t.Errorf("walk %v, nuisance %v over %v s, every %v s to %v°: variance %.5f, the reference has %.5f", walk, sd, tau, dt, noise, got, want)
		}
	}
}

// A swing of random phase by itself: its variance in advance is the same at any
// time, and two exact looks a quarter of a period apart leave nothing unknown.
func TestSwingIsAPair(t *testing.T) {
	g := newGauss([]component{{sdDeg: 5, periodS: 240}})
	row := []float64{1, 0}
	for range 7 {
		g.step(13)
	}
	if v := g.variance(row); math.Abs(v-25) > 1e-9 {
		t.Errorf("variance %v before any look, expected 25", v)
	}
	g.measure(row, 1e-9)
	g.step(60)
	if v := g.variance(row); math.Abs(v-25) > 1e-6 {
		t.Errorf("a quarter of a period after a look: variance %v, expected 25", v)
	}
	g.measure(row, 1e-9)
	g.step(100)
	if v := g.variance(row); v > 1e-6 {
		t.Errorf("after two looks: variance %v, expected none", v)
	}
}

// What the covariance promises is what a filter with its gains gets: a walk and a
// wandering nuisance drawn at random, two thousand times.
func TestBoundIsReached(t *testing.T) {
	const dt, noise = 10.0, 2.0
	parts := []component{{sdDeg: 20, walk: 0.05}, {sdDeg: 5, tauS: 60}}
	r := rand.New(rand.NewPCG(1, 2))
	f := math.Exp(-dt / 60)
	sum, want, n := 0.0, 0.0, 2000
	for range n {
		g := newGauss(parts)
		x := [2]float64{20 * r.NormFloat64(), 5 * r.NormFloat64()}
		var est [2]float64
		for range 30 {
			g.step(dt)
			x[0] += math.Sqrt(0.05*dt) * r.NormFloat64()
			x[1] = f*x[1] + 5*math.Sqrt(1-f*f)*r.NormFloat64()
			est[1] *= f
			y := x[0] + x[1] + noise*r.NormFloat64()
			s := g.variance([]float64{1, 1}) + noise*noise
			off := y - est[0] - est[1]
			for i := range est {
				est[i] += (g.p[i][0] + g.p[i][1]) / s * off
			}
			g.measure([]float64{1, 1}, noise*noise)
		}
		sum += (est[0] - x[0]) * (est[0] - x[0])
		want += g.variance([]float64{1, 0})
	}
	// The mean of n squares of normals scatters by sqrt(2/n): four of that.
	if ratio := sum / want; math.Abs(ratio-1) > 4*math.Sqrt(2/float64(n)) {
		t.Errorf("squared error over promised variance: %.3f", ratio)
	}
}
