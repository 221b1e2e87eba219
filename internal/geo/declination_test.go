package geo

import (
	"bufio"
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

const checks = "../../testdata/checks/"

// table reads a CSV of numbers under its header, as columns by name.
func table(t *testing.T, name string) []map[string]float64 {
	t.Helper()
	f, err := os.Open(checks + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]float64
	for _, r := range rows[1:] {
		row := map[string]float64{}
		for i, cell := range r {
			v, err := strconv.ParseFloat(cell, 64)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			row[rows[0][i]] = v
		}
		out = append(out, row)
	}
	return out
}

// Source: NCEI / BGS, WMM2025, the 100 final test values distributed with the
// model and the 12 of the technical report's table. Printed to 0.01 degrees.
func TestDeclinationMatchesPublishedValues(t *testing.T) {
	rows := append(table(t, "wmm2025_test_values.csv"), table(t, "wmm2025_report_table.csv")...)
	if len(rows) != 112 {
		t.Fatalf("expected 112 published values, got %d", len(rows))
	}
	for _, r := range rows {
		p := Position{LatDeg: r["lat_deg"], LonDeg: Wrap180(r["lon_deg"])}
		got, _, _ := Declination(p, r["height_km"], r["year"])
		if d := math.Abs(Wrap180(got - r["D_deg"])); d > 0.00501 {
			t.Errorf("%v at %v km in %v: got %.4f, published %.2f", p, r["height_km"], r["year"], got, r["D_deg"])
		}
		north, east := field(p, r["height_km"], r["year"])
		// The components are printed to 1 nT in the one set and to 0.1 nT in the other.
		if math.Abs(north-r["X_nT"]) > 0.51 || math.Abs(east-r["Y_nT"]) > 0.51 {
			t.Errorf("%v: got X %.1f, Y %.1f nT, published %v, %v", p, north, east, r["X_nT"], r["Y_nT"])
		}
	}
}

// Source: WMM2025.COF as published (2025.0, WMM-2025, 11/13/2024).
func TestCoefficientsAreThePublishedOnes(t *testing.T) {
	f, err := os.Open(checks + "WMM2025.COF")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	seen := 0
	for s := bufio.NewScanner(f); s.Scan(); {
		cells := strings.Fields(s.Text())
		if len(cells) != 6 {
			continue
		}
		var v [6]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(cells[i], 64); err != nil {
				t.Fatal(err)
			}
		}
		n, m := int(v[0]), int(v[1])
		if got := wmm2025()[n*(n+1)/2+m-1]; got != (wmmTerm{v[2], v[3], v[4], v[5]}) {
			t.Errorf("degree %d order %d: got %v, published %v", n, m, got, v[2:])
		}
		seen++
	}
	if seen != 90 {
		t.Fatalf("expected 90 published terms, got %d", seen)
	}
}

// Source of the formula: constants of the NOAA/CIRES program; its worked value
// for 15 000 nT is 0.445 degrees.
func TestDeclinationStatesItsDoubt(t *testing.T) {
	if sd := math.Hypot(wmmBaseSDDeg, wmmBySDDegNT/15000); math.Abs(sd-0.445) > 0.0005 {
		t.Errorf("doubt at 15 000 nT: got %.4f, expected 0.445", sd)
	}
	lake := Position{LatDeg: 60.17, LonDeg: 24.94}
	now, sdNow, ok := Declination(lake, 0, 2026.5)
	if !ok || math.Abs(now-10.432) > 0.001 || sdNow > 0.6 { // recomputed from the coefficient file, not printed
		t.Errorf("within the model's years: got %.3f, %.2f, %v", now, sdNow, ok)
	}
	old, sdOld, ok := Declination(lake, 0, 2014.6)
	if ok || old == 0 || sdOld < sdNow+0.5 || sdOld > 3 {
		t.Errorf("ten years before the model: got %.3f, %.2f, %v", old, sdOld, ok)
	}
	for _, p := range []Position{{math.NaN(), 0}, {91, 0}, {0, math.Inf(1)}, {0, 181}} {
		if deg, sd, ok := Declination(p, 0, 2026); ok || deg != 0 || sd != 180 {
			t.Errorf("%v is no position: got %v, %v, %v", p, deg, sd, ok)
		}
	}
	if _, _, ok := Declination(Position{LatDeg: 85.8, LonDeg: 139}, 0, 2025); ok {
		t.Error("at the magnetic pole a compass shows nothing")
	}
}

func TestDeclinationIsFiniteEverywhere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Position{rapid.Float64Range(-90, 90).Draw(t, "lat"), rapid.Float64Range(-180, 180).Draw(t, "lon")}
		d, sd, _ := Declination(p, rapid.Float64Range(-1, 5).Draw(t, "km"), rapid.Float64Range(1900, 2100).Draw(t, "year"))
		if !(math.Abs(d) <= 180) || !(sd > 0 && sd <= 180) {
			t.Fatalf("%v: %v, %v", p, d, sd)
		}
	})
}

func TestYearKnowsItsLength(t *testing.T) {
	tests := []struct {
		ms   int64
		want float64
	}{
		{1735689600000, 2025},                           // 2025-01-01
		{1751414400000 + 12*3600000, 2025.5},            // 2025-07-02 noon, day 182.5 of 365
		{1719878400000, 2024.5},                         // 2024-07-02, day 183 of 366
		{1767225600000 - 1, 2025 + 1 - 1/(365*86400e3)}, // last millisecond
	}
	for _, tt := range tests {
		if got := Year(tt.ms); math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("Year(%d) = %.9f, expected %.9f", tt.ms, got, tt.want)
		}
	}
}

// The floor is one sine and cosine for each of the 90 terms.
func BenchmarkDeclination(b *testing.B) {
	p := Position{LatDeg: 47.05, LonDeg: -30.4}
	b.Run("evaluate", func(b *testing.B) {
		for b.Loop() {
			Declination(p, 0, 2026.5)
		}
	})
	b.Run("floor", func(b *testing.B) {
		for b.Loop() {
			for i := range 90 {
				math.Sincos(float64(i))
			}
		}
	})
}
