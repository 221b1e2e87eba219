package shift

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

// Siegmund's approximation against the run lengths of the same test by Page's
// integral equation, solved with scipy (which has 335.4 and 8.38 for k = 0.5, h = 4,
// as quality-control tables print, from memory).
// Source: testdata/checks/scripts/filter_reference.py.
func TestRunLengthAgreesWithReference(t *testing.T) {
	f, err := os.Open("../../testdata/checks/cusum_arl.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < 20 {
		t.Fatalf("expected the rows of the script, got %d", len(rows))
	}
	for _, row := range rows[1:] {
		var v [4]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(row[i], 64); err != nil {
				t.Fatal(err)
			}
		}
		k, h, mu, want := v[0], v[1], v[2], v[3]
		got := RunLength(mu, k, h)
		// Run lengths are whole steps: half of one is as near as so short a run is told.
		if math.Abs(got-want) > math.Max(0.5, 0.08*want) {
			t.Errorf("k %v, h %v, mean %v: %.2f steps, the reference has %.2f", k, h, mu, got, want)
		}
		if mu == 0 && math.Abs(Bar(k, want)-h) > 0.1 {
			t.Errorf("k %v: a bar of %.2f for a false call in %.0f steps, the reference has %v", k, Bar(k, want), want, h)
		}
	}
}
