package water

import (
	"math"
	"math/rand/v2"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// The waters of the tests are made up.
func here() geo.Position { return geo.Position{LatDeg: 12.5, LonDeg: -40.25} }

// ring returns a closed shore through places given in metres round origin.
func ring(origin geo.Position, pts ...point) []boat.LonLat {
	f := geo.NewFrame(origin)
	var out []boat.LonLat
	for _, p := range append(pts, pts[0]) {
		at := f.From(p.x, p.y)
		out = append(out, boat.LonLat{at.LonDeg, at.LatDeg})
	}
	return out
}

func place(x, y float64) geo.Position { return geo.NewFrame(here()).From(x, y) }

func land(height float64, pts ...point) boat.Area {
	return boat.Area{Kind: boat.Land, HeightM: boat.Some(height), Rings: [][]boat.LonLat{ring(here(), pts...)}}
}

func box(x0, y0, x1, y1 float64) []point { return []point{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}} }

func made(t testing.TB, areas ...boat.Area) *Chart {
	t.Helper()
	c, err := New(boat.Water{Areas: areas}, 7)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// roundLake is a lake of about radius r with n points of ragged shore and islands.
func roundLake(r *rand.Rand, radius float64, n int) []boat.Area {
	blob := func(cx, cy, radius float64, n int, rough float64) []point {
		pts := make([]point, n)
		for i := range pts {
			a := 2 * math.Pi * float64(i) / float64(n)
			d := radius * (1 + rough*(r.Float64()-0.5) + 0.15*math.Sin(3*a))
			pts[i] = point{cx + d*math.Cos(a), cy + d*math.Sin(a)}
		}
		return pts
	}
	areas := []boat.Area{{Kind: boat.Open, HeightM: boat.Some(12), Porosity: 0.3, Rings: [][]boat.LonLat{ring(here(), blob(0, 0, radius, n, 0.02)...)}}}
	for range 4 {
		a, d := 2*math.Pi*r.Float64(), 0.6*radius*r.Float64()
		areas = append(areas, land(4+10*r.Float64(), blob(d*math.Cos(a), d*math.Sin(a), radius/15, max(5, n/40), 0.1)...))
	}
	return areas
}

func rng(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 7)) }
