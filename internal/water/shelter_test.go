package water

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

func table(t testing.TB, name string) [][]string {
	t.Helper()
	f, err := os.Open("../../testdata/checks/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%s: %v, %d rows", name, err, len(rows))
	}
	return rows[1:]
}

func num(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Source: figures computed by an independent program from the formula of Perera 1981
// (testdata/checks/perera_shelter_computed.csv), printed to four places.
func TestDeficitMatchesTheFormulasFigures(t *testing.T) {
	for _, r := range table(t, "perera_shelter_computed.csv") {
		h, z, z0, porosity, x := num(t, r[0]), num(t, r[1]), num(t, r[2]), num(t, r[3]), num(t, r[4])
		got := deficit(h, porosity, float64(x*h), layer{z, z0})
		if want := num(t, r[6]); math.Abs(got-want) > 0.00006 {
			t.Errorf("h %g z %g z0 %g porosity %g at %g heights: %.5f, want %.4f", h, z, z0, porosity, x, got, want)
		}
	}
}

// Source: properties of the formula, as stated with the figures above.
func TestDeficitIsLinearInWhatStopsTheWindAndFallsWithDistance(t *testing.T) {
	for _, x := range []float64{60, 100, 150, 300} {
		solid, half := Deficit(10, 0, x, 3), Deficit(10, 0.5, x, 3)
		if math.Abs(half-solid/2) > 1e-12 {
			t.Errorf("at %g m: %g solid, %g half porous", x, solid, half)
		}
		if next := Deficit(10, 0, x*1.2, 3); next >= solid {
			t.Errorf("at %g m the deficit %g does not fall: then %g", x, solid, next)
		}
	}
	best, at := 0.0, 0.0
	for eta := 0.5; eta < 1.5; eta += 0.0001 {
		if v := eta * math.Exp(-0.67*math.Pow(eta, 1.5)); v > best {
			best, at = v, eta
		}
	}
	if math.Abs(at-0.9967) > 0.001 || math.Abs(best-0.5117) > 0.0001 {
		t.Errorf("peak %g at %g, want 0.5117 at 0.9967", best, at)
	}
}

// Source: Brandle and Finch, How Windbreaks Work, University of Nebraska EC 1763; the
// table stands in testdata/checks from memory, the thirty heights are in the text.
func TestBandsAgreeWithTheTableOfWindbreaks(t *testing.T) {
	porosity := map[string]float64{"25-35%": 0.7, "40-60%": 0.5, "60-80%": 0.3, "100% solid fence": 0}
	heights := []float64{5, 10, 15, 20, 30}
	for _, r := range table(t, "windbreak_ec1763_from_memory.csv") {
		for i, h := range heights {
			left := num(t, r[i+1])
			band := BandAt(h-0.01, porosity[r[0]])
			if left <= 0.5 && band != Dead && band != Doubtful && !(h > 10) {
				t.Errorf("%s at %g heights has %g of the wind: called %s", r[0], h, left, band)
			}
			if left >= 0.75 && (band == Dead || band == Doubtful) {
				t.Errorf("%s at %g heights has %g of the wind: called %s", r[0], h, left, band)
			}
			if h == 30 && (left < 0.95 || BandAt(h, porosity[r[0]]) != Clear) {
				t.Errorf("%s at thirty heights: %s with %g of the wind", r[0], BandAt(h, porosity[r[0]]), left)
			}
		}
	}
}

func TestNearASolidWallNothingIsCertain(t *testing.T) {
	if b := BandAt(3, 0); b != Doubtful {
		t.Errorf("three heights behind a wall: %s", b)
	}
	if b := BandAt(3, 0.5); b != Dead {
		t.Errorf("three heights behind trees: %s", b)
	}
}

func TestEveryBandHasAName(t *testing.T) {
	seen := map[string]bool{}
	for b := Clear; b <= OffChart; b++ {
		if seen[b.String()] || b.String() == "unknown band" {
			t.Errorf("band %d is called %q", b, b)
		}
		seen[b.String()] = true
	}
	if Band(99).String() != "unknown band" {
		t.Error("a band that is none has a name")
	}
}
