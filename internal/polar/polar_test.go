package polar

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/interp"
	"pgregory.net/rapid"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

func must(t testing.TB, table boat.PolarTable) *Polar {
	t.Helper()
	p, err := New(table)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// printed is one wind of the printed table, angles ascending.
type printed struct {
	windKn, beatDeg, beatVMG, runDeg, runVMG float64
	deg, kn                                  []float64
}

func readPrinted(t *testing.T) []printed {
	t.Helper()
	f, err := os.Open("../../testdata/checks/orc_example_2011.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) != 71 {
		t.Fatalf("expected 70 rows, got %d: %v", len(rows)-1, err)
	}
	var out []printed
	for _, r := range rows[1:] {
		num := func(i int) float64 {
			v, err := strconv.ParseFloat(r[i], 64)
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
		if wind := num(0); len(out) == 0 || out[len(out)-1].windKn != wind {
			out = append(out, printed{windKn: wind})
		}
		p := &out[len(out)-1]
		// 3600 over the printed seconds a mile gives the made good speed to 0.001 kn.
		deg, made := num(2), 3600/num(4)
		kn := num(3)
		switch r[1] {
		case "beat_vmg":
			p.beatDeg, p.beatVMG, kn = deg, made, made/math.Cos(geo.Rad(deg))
		case "run_vmg":
			p.runDeg, p.runVMG, kn = deg, made, -made/math.Cos(geo.Rad(deg))
		}
		i := len(p.deg)
		for i > 0 && p.deg[i-1] > deg {
			i--
		}
		p.deg = append(p.deg[:i], append([]float64{deg}, p.deg[i:]...)...)
		p.kn = append(p.kn[:i], append([]float64{kn}, p.kn[i:]...)...)
	}
	return out
}

// Source: a rating certificate printed in a magazine's technical page, June 2011:
// speeds at eight angles and the best angles with their VMG. With those two points
// in the table, the VMG curve is so flat at the top that VMG is held to 1 %, the
// angle to 1 degree upwind and 5 degrees downwind.
func TestBestAnglesMatchPrintedOnes(t *testing.T) {
	all := readPrinted(t)
	if len(all) != 7 {
		t.Fatalf("expected 7 winds, got %d", len(all))
	}
	for _, w := range all {
		p := must(t, boat.PolarTable{TWSKn: []float64{w.windKn}, TWADeg: w.deg, SpeedKn: [][]float64{w.kn}})
		got := p.Target(w.windKn, 90)
		if !got.OK || math.Abs(got.BeatDeg-w.beatDeg) > 1 || math.Abs(got.BeatVMG/w.beatVMG-1) > 0.01 {
			t.Errorf("%v kn: beat %.2f° VMG %.3f, printed %v° %.3f", w.windKn, got.BeatDeg, got.BeatVMG, w.beatDeg, w.beatVMG)
		}
		if math.Abs(got.RunDeg-w.runDeg) > 5 || math.Abs(got.RunVMG/w.runVMG-1) > 0.01 {
			t.Errorf("%v kn: run %.2f° VMG %.3f, printed %v° %.3f", w.windKn, got.RunDeg, got.RunVMG, w.runDeg, w.runVMG)
		}
		for i, a := range w.deg {
			if v := p.Speed(w.windKn, a); math.Abs(v-w.kn[i]) > 1e-9 {
				t.Errorf("%v kn at %v°: got %.3f, the table says %.3f", w.windKn, a, v, w.kn[i])
			}
		}
	}
}

// Exact optima of closed formulas, found by hand by setting the slope of the VMG
// to zero (closed_form_polars.csv). Tolerances are those the step deserves.
func TestBestAnglesOfClosedFormulas(t *testing.T) {
	tests := []struct {
		name      string
		speed     func(rad float64) float64
		deg, made float64
	}{
		{"sin(t)", math.Sin, 45, 0.5},
		{"sqrt(sin(t))", func(a float64) float64 { return math.Sqrt(math.Sin(a)) }, 35.264389682754654, 0.6204032394013997},
		{"sin(t)^2", func(a float64) float64 { return math.Sin(a) * math.Sin(a) }, 54.735610317245346, 0.3849001794597505},
		{"sin(t/2)", func(a float64) float64 { return math.Sin(a / 2) }, 48.18968510422141, 0.27216552697590873},
		{"1-cos(t)", func(a float64) float64 { return 1 - math.Cos(a) }, 60, 0.25},
	}
	for _, tt := range tests {
		for _, step := range []float64{5, 10} {
			table := boat.PolarTable{TWSKn: []float64{10}, SpeedKn: [][]float64{nil}}
			for a := 0.0; a <= 180; a += step {
				table.TWADeg = append(table.TWADeg, a)
				table.SpeedKn[0] = append(table.SpeedKn[0], math.Max(0, 5*tt.speed(math.Min(math.Pi, geo.Rad(a)))))
			}
			up, ok := must(t, table).Upwind(10)
			within := 0.1 * step / 5 * step / 5
			if !ok || math.Abs(up.TWADeg-tt.deg) > within || math.Abs(up.MadeKn/5/tt.made-1) > 0.005 {
				t.Errorf("%s on %v°: got %.3f°, %.4f; exact %.3f°, %.4f", tt.name, step, up.TWADeg, up.MadeKn/5, tt.deg, tt.made)
			}
		}
	}
}

// Reference library: gonum's FritschButland on the inner knots.
func TestInterpolationMatchesReferenceLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(4, 20).Draw(t, "n")
		x, y := make([]float64, n), make([]float64, n)
		for i := range x {
			x[i] = 30 + float64(i)*7 + rapid.Float64Range(0, 5).Draw(t, "x")
			y[i] = rapid.Float64Range(0.1, 9).Draw(t, "y")
		}
		p, err := New(boat.PolarTable{TWSKn: []float64{10}, TWADeg: x, SpeedKn: [][]float64{y}})
		if err != nil {
			t.Fatal(err)
		}
		var ref interp.FritschButland
		if err := ref.Fit(x, y); err != nil {
			t.Fatal(err)
		}
		for a := x[1]; a <= x[n-2]; a += 0.7 {
			if got, want := p.Speed(10, a), ref.Predict(a); math.Abs(got-want) > 1e-9 {
				t.Fatalf("at %v: got %v, gonum %v", a, got, want)
			}
		}
	})
}

func TestSpeedStaysBetweenItsNeighbours(t *testing.T) {
	table := Generic(4.2, true)
	p := must(t, table)
	rapid.Check(t, func(t *rapid.T) {
		i := rapid.IntRange(0, len(table.TWADeg)-2).Draw(t, "angle")
		j := rapid.IntRange(0, len(table.TWSKn)-2).Draw(t, "wind")
		a := rapid.Float64Range(table.TWADeg[i], table.TWADeg[i+1]).Draw(t, "a")
		w := rapid.Float64Range(table.TWSKn[j], table.TWSKn[j+1]).Draw(t, "w")
		lo, hi := math.Inf(1), 0.0
		for _, v := range []float64{table.SpeedKn[j][i], table.SpeedKn[j][i+1], table.SpeedKn[j+1][i], table.SpeedKn[j+1][i+1]} {
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
		if v := p.Speed(w, a); v < lo-1e-9 || v > hi+1e-9 {
			t.Fatalf("%.2f kn at %.2f°: got %v, its corners are %v to %v", w, a, v, lo, hi)
		}
		if p.Speed(w, a) != p.Speed(w, -a) {
			t.Fatal("expected the two tacks to be equal")
		}
	})
}

func TestEdgesOfTheTable(t *testing.T) {
	p := must(t, boat.PolarTable{TWSKn: []float64{6, 12}, TWADeg: []float64{40, 90, 150}, SpeedKn: [][]float64{{3, 4, 3}, {5, 6, 5}}})
	tests := []struct {
		name             string
		windKn, deg, out float64
	}{
		{"on a knot", 6, 90, 4},
		{"between winds", 9, 90, 5},
		{"half the lowest wind", 3, 90, 2},
		{"no wind", 0, 90, 0},
		{"below no wind", -1, 90, 0},
		{"beyond the highest wind it stays", 30, 90, 6},
		{"beyond the widest angle it stays", 6, 180, 3},
		{"straight into the wind", 6, 0, 0},
		{"at 0.7 of the lowest angle", 6, 28, 0},
		{"halfway down from the lowest angle", 6, 34, 1.5},
		{"the other tack", 6, -90, 4},
		{"round the stern", 6, 270, 4},
	}
	for _, tt := range tests {
		if got := p.Speed(tt.windKn, tt.deg); math.Abs(got-tt.out) > 1e-9 {
			t.Errorf("%s: got %v, expected %v", tt.name, got, tt.out)
		}
	}
	if !math.IsNaN(p.Speed(math.NaN(), 90)) || !math.IsNaN(p.Speed(10, math.NaN())) {
		t.Error("unknown is not zero: expected NaN for NaN")
	}
	if p.Target(0, 90).OK || p.Target(math.NaN(), 90).OK {
		t.Error("there is no target without wind")
	}
	if got := p.Target(6, 90); got.BeatDeg < 40 || got.RunDeg > 150 {
		t.Errorf("best angles were extrapolated: %+v", got)
	}
}

func TestOneAngleOrWindIsATable(t *testing.T) {
	p := must(t, boat.PolarTable{TWSKn: []float64{10}, TWADeg: []float64{45}, SpeedKn: [][]float64{{4}}})
	if v := p.Speed(10, 100); v != 4 {
		t.Errorf("got %v", v)
	}
	if p.Target(10, 45).OK {
		t.Error("a table without an angle to leeward has no target there")
	}
}

func TestCourseToAMark(t *testing.T) {
	p := must(t, Generic(4.2, true))
	tests := []struct {
		name     string
		off      float64
		min, max float64
	}{
		{"a mark on a reach is sailed straight or a little off it", 90, 75, 105},
		{"the same to port", -90, -105, -75},
		{"a mark upwind is beaten to", 0, 42, 50},
		{"a mark downwind is gybed to", 180, 140, 170},
	}
	for _, tt := range tests {
		got, ok := p.Course(10, tt.off)
		if !ok || got.TWADeg < tt.min || got.TWADeg > tt.max {
			t.Errorf("%s: got %+v, %v", tt.name, got, ok)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		off, wind := rapid.Float64Range(-180, 180).Draw(t, "off"), rapid.Float64Range(2, 25).Draw(t, "wind")
		got, _ := p.Course(wind, off)
		for a := -180.0; a <= 180; a++ { // slow and obvious
			if made := p.Speed(wind, a) * math.Cos(geo.Rad(a-off)); made > got.MadeKn+1e-4 {
				t.Fatalf("%v kn, mark at %v°: %v° makes %.4f, chosen %+v", wind, off, a, made, got)
			}
		}
	})
}

// The floor of Speed is a look at one cubic; of Target, the speeds it looks at.
func BenchmarkSpeed(b *testing.B) {
	p := must(b, Generic(4.2, true))
	b.Run("table", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			p.Speed(9.3, 47.1)
		}
	})
	b.Run("floor", func(b *testing.B) {
		k := below(p.deg, 47.1)
		for b.Loop() {
			p.rows[5].at(p.deg, k, 47.1)
		}
	})
}

func BenchmarkTarget(b *testing.B) {
	p := must(b, Generic(4.2, true))
	b.ReportAllocs()
	for b.Loop() {
		p.Target(9.3, 47.1)
	}
}

func TestAnswersTakeNoMemory(t *testing.T) {
	p := must(t, Generic(4.2, true))
	if n := testing.AllocsPerRun(100, func() { p.Speed(9.3, 47.1); p.Target(9.3, 47.1) }); n != 0 {
		t.Errorf("expected no allocation, got %v", n)
	}
}
