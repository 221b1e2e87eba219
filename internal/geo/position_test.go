package geo

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Source: Karney 2013, Algorithms for geodesics, J. Geod. 87, 43-55; his list of
// 20 cases as carried by the MIT-licensed geographiclib-geodesic 2.2.0.
func TestGeodesicsMatchKarney(t *testing.T) {
	rows := table(t, "geodesic_karney_20.csv")
	if len(rows) != 20 {
		t.Fatalf("expected 20 cases, got %d", len(rows))
	}
	for _, r := range rows {
		a, b := Position{r["lat1"], r["lon1"]}, Position{r["lat2"], r["lon2"]}
		if d := Distance(a, b); math.Abs(d-r["s12_m"]) > 1e-7 {
			t.Errorf("%v to %v: got %.9f m, published %.9f", a, b, d, r["s12_m"])
		}
		azi, ok := Bearing(a, b)
		if !ok || math.Abs(Diff(azi, r["azi1"])) > 1e-11 {
			t.Errorf("%v to %v: got %.12f, published %.12f", a, b, azi, r["azi1"])
		}
		q := Destination(a, r["azi1"], r["s12_m"])
		if math.Abs(q.LatDeg-b.LatDeg) > 1e-11 || math.Abs(Wrap180(q.LonDeg-b.LonDeg)) > 1e-11 {
			t.Errorf("from %v: got %v, published %v", a, q, b)
		}
	}
}

// Source: GeographicLib manual, example of the geodesic tool (Kennedy airport to
// Changi): 003:18:29.9, 15 347 628 m.
func TestGeodesicManualExample(t *testing.T) {
	a := Position{dms(40, 38, 23), -dms(73, 46, 44)}
	b := Position{dms(1, 21, 33), dms(103, 59, 22)}
	azi, _ := Bearing(a, b)
	if d := Distance(a, b); math.Abs(d-15347628) > 0.5 || math.Abs(azi-dms(3, 18, 29.9)) > 0.05/3600 {
		t.Errorf("got %.3f m, %.6f", d, azi)
	}
}

func dms(d, m, s float64) float64 { return d + m/60 + s/3600 }

func TestNoBearingBetweenOnePlace(t *testing.T) {
	p := Position{60.1, 24.9}
	if deg, ok := Bearing(p, p); ok || deg != 0 {
		t.Errorf("a place has no bearing from itself: got %v, %v", deg, ok)
	}
	if _, ok := Bearing(p, Position{math.NaN(), 0}); ok {
		t.Error("a position that is not finite has no bearing")
	}
	if !math.IsNaN(Distance(p, Position{0, math.NaN()})) {
		t.Error("expected a distance that is not finite")
	}
}

// Outside reference: the geodesics above.
func TestFrameKeepsItsStatedError(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := Position{rapid.Float64Range(-70, 70).Draw(t, "lat"), rapid.Float64Range(-180, 180).Draw(t, "lon")}
		f := NewFrame(o)
		reach := rapid.SampledFrom([]float64{2000, 10000}).Draw(t, "reach")
		draw := func(name string) Position {
			return Destination(o, rapid.Float64Range(0, 360).Draw(t, name+" bearing"), rapid.Float64Range(0, reach).Draw(t, name+" m"))
		}
		a, b := draw("a"), draw("b")
		ax, ay := f.To(a)
		bx, by := f.To(b)
		want, got := Distance(a, b), math.Hypot(bx-ax, by-ay)
		allowed := math.Max(0.01, want*1e-5)
		if reach > 2000 {
			allowed = math.Max(0.5, want*1e-4)
		}
		if math.Abs(got-want) > allowed {
			t.Fatalf("%v to %v round %v: got %.3f m, geodesic %.3f", a, b, o, got, want)
		}
		back := f.From(ax, ay)
		if d := Distance(a, back); d > 0.001 {
			t.Fatalf("%v came back %v, %.4f m off", a, back, d)
		}
	})
}

func TestFrameCrossesTheDateLine(t *testing.T) {
	f := NewFrame(Position{0, 179.999})
	e, n := f.To(Position{0, -179.999})
	if math.Abs(e-222.64) > 0.01 || math.Abs(n) > 1e-9 { // 0.002 degrees of the equator
		t.Errorf("got %.3f east, %.3f north", e, n)
	}
	if p := f.From(e, n); math.Abs(p.LonDeg+179.999) > 1e-9 {
		t.Errorf("came back as %v", p)
	}
}

func BenchmarkFrameTo(b *testing.B) {
	f, p := NewFrame(Position{47.05, -30.4}), Position{47.06, -30.41}
	b.Run("flat", func(b *testing.B) {
		for b.Loop() {
			f.To(p)
		}
	})
	b.Run("geodesic", func(b *testing.B) {
		for b.Loop() {
			Distance(f.origin, p)
		}
	})
}
