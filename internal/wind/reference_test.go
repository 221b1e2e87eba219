package wind

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"helmcue/internal/geo"
)

// circleCase is one posterior worked out by scipy on a grid of a tenth of a degree.
type circleCase struct {
	Name  string `json:"name"`
	Steps []struct {
		Op   string    `json:"op"`
		Args []float64 `json:"args"`
	} `json:"steps"`
	MeanDeg   float64 `json:"mean_deg"`
	Resultant float64 `json:"resultant"`
	LoDeg     float64 `json:"lo_deg"`
	WidthDeg  float64 `json:"width_deg"`
}

func circleCases(t *testing.T) []circleCase {
	t.Helper()
	b, err := os.ReadFile("../../testdata/checks/circle_filter.json")
	if err != nil {
		t.Fatal(err)
	}
	var out []circleCase
	if err := json.Unmarshal(b, &out); err != nil {
		t.Fatal(err)
	}
	if len(out) < 8 {
		t.Fatalf("expected the cases of the script, got %d", len(out))
	}
	return out
}

// The grid's drift, doubt, measurement, mean and smallest arc against the same
// filter made with scipy on a grid twenty times as fine: wrapped normal drift by
// Fourier, von Mises measurements with a share of wild ones.
// Source: testdata/checks/scripts/filter_reference.py.
func TestGridAgreesWithReference(t *testing.T) {
	for _, c := range circleCases(t) {
		g := new(grid)
		g.clear()
		for _, s := range c.Steps {
			switch s.Op {
			case "measure":
				g.multiply(near(s.Args[0], s.Args[1], s.Args[2]))
			case "doubt":
				g.doubt(s.Args[0])
			case "spread": // in the grid's own passes, without its rare jumps
				passes := math.Ceil(s.Args[0] / (binDeg * binDeg) / 0.4)
				for range int(passes) {
					g.pass(s.Args[0] / (binDeg * binDeg) / passes / 2)
				}
			default:
				t.Fatalf("%s: unknown step %q", c.Name, s.Op)
			}
		}
		mean, r := g.moments()
		if math.Abs(geo.Diff(mean, c.MeanDeg)) > 0.1 || math.Abs(r-c.Resultant) > 0.002 {
			t.Errorf("%s: mean %.2f° and length %.4f, the reference has %.2f° and %.4f", c.Name, mean, r, c.MeanDeg, c.Resultant)
		}
		// A bin's width is part of what a bin can tell.
		lo, width := g.arc(mean)
		if math.Abs(width-c.WidthDeg) > 1 || math.Abs(geo.Diff(lo, c.LoDeg)) > 1.5 {
			t.Errorf("%s: 90 %% from %.1f°, %.1f° wide; the reference has %.1f°, %.1f° wide", c.Name, lo, width, c.LoDeg, c.WidthDeg)
		}
		g.sound(t, c.Name)
	}
}

// moments returns the circular mean and mean resultant length of a grid.
func (g *grid) moments() (meanDeg, r float64) {
	s, c := 0.0, 0.0
	for i, p := range g.p {
		sin, cos := math.Sincos(geo.Rad(float64(i) * binDeg))
		s += float64(p * sin)
		c += float64(p * cos)
	}
	return geo.Wrap360(geo.Deg(math.Atan2(s, c))), math.Hypot(s, c)
}

// sound fails where a grid is no distribution.
func (g *grid) sound(t *testing.T, name string) {
	t.Helper()
	sum := 0.0
	for _, p := range g.p {
		if !(p >= 0) {
			t.Fatalf("%s: a bin holds %v", name, p)
		}
		sum += p
	}
	if math.Abs(sum-1) > 1e-9 {
		t.Errorf("%s: the bins sum to %v", name, sum)
	}
}
