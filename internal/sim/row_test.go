package sim

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// Source: testdata/checks/windbreak_ec1763_from_memory.csv (Brandle and Finch, EC 1763;
// the table from memory, see its README).
func TestARowTakesTheWindAsTheTableSays(t *testing.T) {
	f, err := os.Open("../../testdata/checks/windbreak_ec1763_from_memory.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, line := range rows[1:] {
		density, ok := map[string]float64{"25-35%": 0.3, "40-60%": 0.5, "60-80%": 0.7}[line[0]]
		if !ok { // a fence is no row of trees
			continue
		}
		r := Row{NorthM: 100, AlongDeg: 90, LengthM: 4000, HeightM: 10, Density: density}
		for i, heights := range []float64{5, 10, 15, 20, 30} {
			want, err := strconv.ParseFloat(strings.TrimSpace(line[i+1]), 64)
			if err != nil {
				t.Fatal(err)
			}
			if got := r.left(Place{0, 100 - 10*heights}, 0); math.Abs(got-want) > 1e-9 {
				t.Errorf("%s, %g heights: %.3f, want %.3f", line[0], heights, got, want)
			}
			n++
		}
	}
	if n != 15 {
		t.Fatalf("%d places looked at", n)
	}
}

// Only what lies behind the row is in its lee, wherever the wind comes from.
func TestTheLeeOfARowMovesWithTheWind(t *testing.T) {
	r := Row{AlongDeg: 90, LengthM: 200, HeightM: 10, Density: 0.7}
	for _, k := range []struct {
		x, y, from float64
		dead       bool
	}{
		{0, -80, 0, true}, {0, 80, 0, false}, {0, 80, 180, true}, {0, -80, 90, false},
		{150, -80, 0, false}, {150, -80, 315, true}, {-150, -80, 315, false}, {90, -80, 0, true},
	} {
		if got := r.left(Place{k.x, k.y}, k.from) < 0.5; got != k.dead {
			t.Errorf("at %v, %v, wind from %v: dead %v, want %v", k.x, k.y, k.from, got, k.dead)
		}
	}
	for deg := 0.0; deg < 360; deg += 7 {
		turned := Row{AlongDeg: 90 + deg, LengthM: 200, HeightM: 10, Density: 0.7}
		s, c := math.Sincos(deg * math.Pi / 180)
		a, b := r.left(Place{30, -110}, 10), turned.left(Place{30*c - 110*s, -30*s - 110*c}, 10+deg)
		if math.Abs(a-b) > 1e-9 {
			t.Errorf("turned by %v: %.3f, want %.3f", deg, b, a)
		}
	}
}
