package wind

import (
	"compress/gzip"
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Source: Smith, Bourassa and Sharp 1999, Establishing More Truth in True Winds,
// J. Atmos. Oceanic Technol. 16, 939-952; test figures of their program.
func TestTrueOverGroundMatchesPublishedSet(t *testing.T) {
	f, err := os.Open("../../testdata/checks/true_wind_coaps.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) != 11 {
		t.Fatalf("expected 10 rows, got %d: %v", len(rows)-1, err)
	}
	for _, r := range rows[1:] {
		v := floats(t, r)
		kn, dir := TrueOverGround(v[4], v[3], Ground{COGDeg: v[0], SOGKn: v[1], HeadingDeg: v[2]})
		if math.Abs(kn-v[6]) > 1e-6 {
			t.Errorf("%v: got %.7f kn", r, kn)
		}
		// They write north as 360; here it is 0, and a calm has no direction.
		if kn > 0 && math.Abs(geo.Diff(dir, v[5])) > 1e-6 {
			t.Errorf("%v: got from %.6f", r, dir)
		}
		if v[0] == v[2] && kn > 0 { // heading is course: the same over the water
			tws, twa := True(v[4], v[3], v[1])
			if math.Abs(tws-v[6]) > 1e-6 || math.Abs(geo.Diff(v[2]+twa, v[5])) > 1e-6 {
				t.Errorf("%v: over the water got %.6f kn at %.6f", r, tws, twa)
			}
		}
	}
}

func floats(t *testing.T, cells []string) []float64 {
	t.Helper()
	out := make([]float64, len(cells))
	for i, c := range cells {
		v, err := strconv.ParseFloat(c, 64)
		if err != nil {
			v = math.NaN() // an empty cell
		}
		out[i] = v
	}
	return out
}

func TestTrueMatchesHandbooks(t *testing.T) {
	tests := []struct {
		source        string
		aws, awa, own float64
		tws, twa      float64
		inKn, inDeg   float64
	}{
		{"Maneuvering Board Manual, Pub. 217: wind on deck 30 kn from 040 relative, heading 240, own speed 18 (from memory); 315T, 20 kn", 30, 40, 18, 20, 75, 0.1, 0.6},
		{"USCG deck examination: course 180, 22 kn, apparent 70 to port at 20; 51T, 24.0 kn", 20, -70, 22, 24.0, -129, 0.2, 0.2},
		{"USCG deck examination: course 270, 10 kn, apparent 10 to port at 30; recomputed 255.1T, 20.23 kn, key not seen", 30, -10, 10, 20.23, -14.9, 0.01, 0.1},
		{"Speed Guide Explanation, appendix A: boat 6 kn, apparent 150 at 6; 11.6 kn", 6, 150, 6, 11.6, 165, 0.05, 0.1},
	}
	for _, tt := range tests {
		tws, twa := True(tt.aws, tt.awa, tt.own)
		if math.Abs(tws-tt.tws) > tt.inKn || math.Abs(geo.Diff(twa, tt.twa)) > tt.inDeg {
			t.Errorf("%s: got %.3f kn at %.2f", tt.source, tws, twa)
		}
	}
	// Speed Guide Explanation, appendix A: 11.6 kn true at 40, boat 6.3; apparent 16.9 kn.
	if aws, awa := Apparent(11.6, 40, 6.3); math.Abs(aws-16.9) > 0.05 || math.Abs(awa-26.15) > 0.01 {
		t.Errorf("got %.3f kn at %.2f", aws, awa)
	}
	// USCG type: own 18, true 24.5, apparent 40 to starboard. The printed key says
	// 36.0, the exact solution is 35.4; taking 40 for the true angle gives 39.99.
	if tws, _ := True(35.4, 40, 18); math.Abs(tws-24.5) > 0.05 {
		t.Errorf("got a true wind of %.3f kn", tws)
	}
	if aws, _ := Apparent(24.5, 40, 18); math.Abs(aws-39.99) > 0.02 {
		t.Errorf("the trap: got %.3f", aws)
	}
}

// Source: Bowditch, American Practical Navigator, "Direction and Speed of True Wind
// in Units of Ship's Speed": entries and meaning as described there, cells
// recomputed, the printed ones were not seen.
func TestTrueMatchesUnitsOfShipsSpeed(t *testing.T) {
	angles := []float64{0, 10, 30, 60, 90, 120, 150, 180}
	table := []struct {
		aws float64
		deg []float64
		kn  []float64
	}{
		{0.5, []float64{180, 170.3, 156.2, 150.0, 153.4, 160.9, 170.1, 180}, []float64{0.50, 0.51, 0.62, 0.87, 1.12, 1.32, 1.45, 1.50}},
		{1, []float64{math.NaN(), 95.0, 105.0, 120.0, 135.0, 150.0, 165.0, 180}, []float64{0, 0.17, 0.52, 1.00, 1.41, 1.73, 1.93, 2.00}},
		{2, []float64{0, 19.7, 53.8, 90.0, 116.6, 139.1, 159.9, 180}, []float64{1.00, 1.03, 1.24, 1.73, 2.24, 2.65, 2.91, 3.00}},
		{3, []float64{0, 14.9, 43.2, 79.1, 108.4, 133.9, 157.4, 180}, []float64{2.00, 2.02, 2.19, 2.65, 3.16, 3.61, 3.90, 4.00}},
	}
	for _, row := range table {
		for i, a := range angles {
			kn, deg := True(row.aws, a, 1)
			if math.Abs(kn-row.kn[i]) > 0.0051 {
				t.Errorf("%v at %v: got %.4f, expected %v", row.aws, a, kn, row.kn[i])
			}
			if want := row.deg[i]; !math.IsNaN(want) && math.Abs(deg-want) > 0.051 {
				t.Errorf("%v at %v: got %.2f°, expected %v°", row.aws, a, deg, want)
			}
		}
	}
}

func TestTrueAndApparentUndoEachOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tws, twa := rapid.Float64Range(0.5, 40).Draw(t, "tws"), rapid.Float64Range(-179.9, 180).Draw(t, "twa")
		own := rapid.Float64Range(0, 15).Draw(t, "own")
		aws, awa := Apparent(tws, twa, own)
		kn, deg := True(aws, awa, own)
		if math.Abs(kn-tws) > 1e-9 || math.Abs(geo.Diff(deg, twa)) > 1e-6 {
			t.Fatalf("%v at %v became %v at %v", tws, twa, kn, deg)
		}
		if own > 0 && math.Abs(awa) > math.Abs(twa)+1e-9 {
			t.Fatalf("the apparent wind %v lies further aft than the true %v", awa, twa)
		}
		if kn2, deg2 := Apparent(tws, -twa, own); twa < 180 && (math.Abs(kn2-aws) > 1e-9 || math.Abs(geo.Diff(deg2, -awa)) > 1e-9) {
			t.Fatal("port is not the mirror of starboard")
		}
	})
}

func TestAngleOfInstruments(t *testing.T) {
	s := boat.State{AWADeg: boat.Some(40), AWSKn: boat.Some(30), SpeedKn: boat.Some(18), TWADeg: boat.Some(5)}
	if a := Angle(s); !a.OK || math.Abs(a.Val-75.5) > 0.6 {
		t.Errorf("got %v", a)
	}
	s.AWSKn = boat.Reading{}
	if a := Angle(s); a != boat.Some(5) {
		t.Errorf("expected the instrument's own, got %v", a)
	}
	if a := Angle(boat.State{}); a.OK {
		t.Errorf("expected nothing, got %v", a)
	}
}

// row is one moment of a truth file.
type row struct{ t, hdg, stw, sog, cog, awa, aws, twa, tws, twd float64 }

// truth reads a truth file beside a real recording; testdata/real/README.md says
// whose recording it is, under which licence, and that its wind was computed from
// the recording's own instruments by an independent program.
func truth(t testing.TB, name string) []row {
	t.Helper()
	f, err := os.Open("../../testdata/real/" + name + ".csv.gz")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	cells, err := csv.NewReader(z).ReadAll()
	if err != nil || len(cells) < 100 {
		t.Fatalf("expected a truth file, got %d rows: %v", len(cells), err)
	}
	var out []row
	for _, c := range cells[1:] {
		v := make([]float64, len(c))
		for i := range c {
			x, err := strconv.ParseFloat(c[i], 64)
			if err != nil {
				x = math.NaN()
			}
			v[i] = x
		}
		out = append(out, row{v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7], v[8], v[9]})
	}
	return out
}

func TestTrueReproducesRealRecordings(t *testing.T) {
	for _, name := range []string{"gulf_of_finland_truth", "finland_motoring_truth"} {
		n := 0
		for _, r := range truth(t, name) {
			if math.IsNaN(r.twd) {
				continue
			}
			tws, twa := True(r.aws, r.awa, r.stw)
			// Everything is printed to a tenth; what that does to the result grows as
			// the wind falls.
			deg := 0.15 + 12/math.Max(0.5, r.tws)
			if math.Abs(tws-r.tws) > 0.21 || math.Abs(geo.Diff(r.hdg+twa, r.twd)) > deg {
				t.Fatalf("%s at %v: got %.2f kn from %.1f, the file says %v and %v", name, r.t, tws, geo.Wrap360(r.hdg+twa), r.tws, r.twd)
			}
			n++
		}
		if n < 500 {
			t.Fatalf("%s: expected at least 500 moments, got %d", name, n)
		}
	}
}
