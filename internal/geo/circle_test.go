package geo

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

// kappaOfR is the share by which the package circular's kappa may lie off the
// root of I1(k)/I0(k) = r: its A1inv is the closed approximation of Best and Fisher
// 1981 (2r + r^3 + 5r^5/6 below 0.53, and two more pieces), not the root.
const kappaOfR = 0.01

type circleCase struct {
	Name      string    `json:"name"`
	Deg       []float64 `json:"deg"`
	Published struct {
		MeanDeg *float64 `json:"mean_deg"`
		R       *float64 `json:"R"`
	} `json:"published"`
	R struct {
		MeanDeg *float64 `json:"mean_deg"`
		R       *float64 `json:"R"`
		Kappa   *float64 `json:"kappa"`
		SD      *float64 `json:"circ_sd_deg"`
	} `json:"recomputed_r_circular"`
	Closed *struct {
		MeanDeg *float64 `json:"mean_deg"`
		R       float64  `json:"R"`
	} `json:"closed_form"`
}

// Sources: data sets of Mardia and Jupp (example 2.1), Zar and Fisher's appendix
// B; the printed figures of the first two are from memory, all figures marked
// recomputed come from the R package circular 0.4-95.
func TestCircularStatisticsMatchReferences(t *testing.T) {
	raw, err := os.ReadFile(checks + "circular_checks.json")
	if err != nil {
		t.Fatal(err)
	}
	var cases []circleCase
	if err := json.Unmarshal(raw, &cases); err != nil || len(cases) != 8 {
		t.Fatalf("expected 8 cases, got %d: %v", len(cases), err)
	}
	for _, c := range cases {
		mean, r, ok := Mean(c.Deg)
		if c.Closed != nil {
			if c.Closed.MeanDeg == nil {
				if ok {
					t.Errorf("%s: got mean %v where there is none", c.Name, mean)
				}
				continue
			}
			near(t, c.Name+" mean", Wrap180(mean), c.Closed.MeanDeg, 1e-9)
			near(t, c.Name+" R", r, &c.Closed.R, 1e-9)
			continue
		}
		near(t, c.Name+" printed mean", mean, c.Published.MeanDeg, 0.5)
		near(t, c.Name+" printed R", r, c.Published.R, 0.0005)
		near(t, c.Name+" mean", mean, c.R.MeanDeg, 0.0001)
		near(t, c.Name+" R", r, c.R.R, 0.00001)
		if c.R.Kappa != nil {
			near(t, c.Name+" kappa", Kappa(r), c.R.Kappa, kappaOfR**c.R.Kappa)
		}
		near(t, c.Name+" sd", CircularSD(r), c.R.SD, 0.0001)
	}
}

func near(t *testing.T, what string, got float64, want *float64, tolerance float64) {
	t.Helper()
	if want != nil && !(math.Abs(got-*want) <= tolerance) {
		t.Errorf("%s: got %v, expected %v", what, got, *want)
	}
}

// Source: data set "wind" (Col de la Roa) of the R package circular 0.4-95, 310
// measured directions in radians, and that package's figures for it.
func TestCircularMeanOfMeasuredWind(t *testing.T) {
	f, err := os.Open(checks + "wind_col_de_la_roa.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var deg []float64
	for _, r := range rows[1:] {
		v, err := strconv.ParseFloat(r[0], 64)
		if err != nil {
			t.Fatal(err)
		}
		deg = append(deg, Deg(v))
	}
	mean, r, ok := Mean(deg)
	if !ok || len(deg) != 310 || math.Abs(mean-16.740) > 0.0005 || math.Abs(r-0.65572) > 0.000005 || math.Abs(Kappa(r)-1.7605) > kappaOfR*1.7605 {
		t.Errorf("got n %d, mean %.4f, R %.6f, kappa %.5f", len(deg), mean, r, Kappa(r))
	}
}

// Source: values of I1(k)/I0(k) recomputed with R; its inverse at 0.5 as tabled in
// Mardia and Jupp 2000, appendix 2.2 (1.1593, from memory), the others as the
// package circular approximates them.
func TestResultantAndKappa(t *testing.T) {
	for _, c := range [][2]float64{{1, 0.44639}, {2, 0.69777}, {5, 0.89338}, {10, 0.94860}} {
		near(t, "A", Resultant(c[0]), &c[1], 0.000005)
	}
	tabled := 1.1593
	near(t, "inverse of A at 0.5", Kappa(0.5), &tabled, 0.00005)
	for _, c := range [][2]float64{{0.5, 1.1510}, {0.711, 2.0762}, {0.9, 5.2910}} {
		near(t, "inverse of A", Kappa(c[0]), &c[1], kappaOfR*c[1])
	}
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(0.0001, 0.99999).Draw(t, "r")
		if back := Resultant(Kappa(r)); math.Abs(back-r) > 1e-8 {
			t.Fatalf("kappa of %v is %v, whose length is %v", r, Kappa(r), back)
		}
	})
}

func TestMeanTurnsWithTheWorld(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		deg := rapid.SliceOfN(rapid.Float64Range(0, 90), 1, 20).Draw(t, "deg")
		turn := rapid.Float64Range(-720, 720).Draw(t, "turn")
		a, _, _ := Mean(deg)
		for i := range deg {
			deg[i] += turn
		}
		b, _, ok := Mean(deg)
		if !ok || math.Abs(Diff(a+turn, b)) > 1e-9 {
			t.Fatalf("mean %v turned by %v became %v", a, turn, b)
		}
	})
}

func TestMeanOfNothing(t *testing.T) {
	if m, r, ok := Mean(nil); ok || m != 0 || r != 0 {
		t.Errorf("got %v, %v, %v", m, r, ok)
	}
	if _, _, ok := Mean([]float64{math.NaN()}); ok {
		t.Error("the mean of no number is none")
	}
}

func TestAnglesWrap(t *testing.T) {
	tests := []struct{ in, full, half float64 }{
		{0, 0, 0}, {360, 0, 0}, {-1, 359, -1}, {180, 180, 180}, {-180, 180, 180}, {181, 181, -179},
		{720.5, 0.5, 0.5}, {-1e-18, 0, 0},
	}
	for _, tt := range tests {
		if got := Wrap360(tt.in); got != tt.full {
			t.Errorf("Wrap360(%v) = %v, expected %v", tt.in, got, tt.full)
		}
		if got := Wrap180(tt.in); got != tt.half {
			t.Errorf("Wrap180(%v) = %v, expected %v", tt.in, got, tt.half)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Float64Range(-1e4, 1e4).Draw(t, "a"), rapid.Float64Range(-1e4, 1e4).Draw(t, "b")
		if w := Wrap360(a); !(w >= 0 && w < 360) {
			t.Fatalf("Wrap360(%v) = %v", a, w)
		}
		if d := Diff(a, b); math.Abs(Wrap180(a+d-b)) > 1e-8 || !(d > -180 && d <= 180) {
			t.Fatalf("Diff(%v, %v) = %v", a, b, d)
		}
	})
}
