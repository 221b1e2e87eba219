package geo_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"helmcue/internal/geo"
)

// Concentration against mean resultant length, both ways, as scipy's Bessel
// functions and root finder have them.
// Source: testdata/checks/scripts/filter_reference.py.
func TestKappaAgreesWithReference(t *testing.T) {
	f, err := os.Open("../../testdata/checks/kappa_scipy.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < 15 {
		t.Fatalf("expected the rows of the script, got %d", len(rows))
	}
	for _, row := range rows[1:] {
		r, err1 := strconv.ParseFloat(row[0], 64)
		want, err2 := strconv.ParseFloat(row[1], 64)
		if err1 != nil || err2 != nil {
			t.Fatalf("row %v: %v %v", row, err1, err2)
		}
		if got := geo.Kappa(r); math.Abs(got-want) > 1e-6*want {
			t.Errorf("R = %v: concentration %v, scipy has %v", r, got, want)
		}
		if got := geo.Resultant(want); math.Abs(got-r) > 1e-7 {
			t.Errorf("concentration %v: R = %v, scipy has %v", want, got, r)
		}
	}
}
