package lake

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"helmcue/internal/boat"
)

// rings checks the rings of a polygon and gives them to the area, wound as RFC 7946
// asks: the outer one anticlockwise, holes clockwise.
func (p *reader) rings(a *boat.Area, polygon orb.Polygon) error {
	if len(polygon) == 0 {
		return fmt.Errorf("expected a polygon with a ring, got an empty one")
	}
	var outer orb.Ring
	for i, raw := range polygon {
		what := "the outer ring"
		if i > 0 {
			what = fmt.Sprintf("hole %d", i)
		}
		ring, err := p.ring(what, a.Kind, raw)
		if err != nil {
			return err
		}
		if i == 0 {
			outer = ring
		} else if !within(outer, ring) {
			return fmt.Errorf("expected %s to lie within the outer ring: an island of its own is a polygon of its own", what)
		}
		want := orb.CCW
		if i > 0 {
			want = orb.CW
		}
		if ring.Orientation() != want {
			p.note("%s was wound the wrong way round and is turned", what)
			slices.Reverse(ring)
		}
		a.Rings = append(a.Rings, lonLats(ring))
	}
	return nil
}

// ring checks one ring and returns it with its longitudes unwrapped: beyond 180 where
// it goes over the date line, so that it can be looked at as a plane figure.
func (p *reader) ring(what, kind string, raw orb.Ring) (orb.Ring, error) {
	var ring orb.Ring
	over := false
	for i, at := range raw {
		if i > 0 {
			before := ring[len(ring)-1]
			for at[0]-before[0] > 180 {
				at[0], over = at[0]-360, true
			}
			for at[0]-before[0] < -180 {
				at[0], over = at[0]+360, true
			}
			if at == before {
				continue // said twice
			}
		}
		ring = append(ring, at)
	}
	if len(ring) > 1 && ring[0] != ring[len(ring)-1] {
		return nil, fmt.Errorf("expected %s to be closed, its first and last point differ: repeat the first point at the end", what)
	}
	if len(ring) < 4 {
		return nil, fmt.Errorf("expected %s to have at least three different points, got %d", what, max(0, len(ring)-1))
	}
	if over {
		p.note("%s goes over the date line and is read the short way round", what)
	}
	if kind == boat.Open && seam(ring) {
		return nil, fmt.Errorf("expected the water in one piece, %s is cut along the date line: draw it as one ring that goes over it", what)
	}
	if i, j, ok := crossing(ring); ok {
		return nil, fmt.Errorf("expected %s not to cross itself, it does between points %d and %d, near longitude %.5f, latitude %.5f",
			what, i+1, j+1, wrap(ring[i][0]), ring[i][1])
	}
	return ring, nil
}

// seam says whether a ring runs along the date line, as it does where it was cut there.
func seam(r orb.Ring) bool {
	for i := 1; i < len(r); i++ {
		if math.Abs(r[i][0]) == 180 && r[i][0] == r[i-1][0] {
			return true
		}
	}
	return false
}

// within says whether every point of a hole lies inside the outer ring or on it.
func within(outer, hole orb.Ring) bool {
	for _, at := range hole {
		for at[0]-outer[0][0] > 180 {
			at[0] -= 360
		}
		for at[0]-outer[0][0] < -180 {
			at[0] += 360
		}
		if !planar.RingContains(outer, at) {
			return false
		}
	}
	return true
}

func wrap(lon float64) float64 {
	switch {
	case lon > 180:
		return lon - 360
	case lon < -180:
		return lon + 360
	}
	return lon
}

func lonLats(r orb.Ring) []boat.LonLat {
	out := make([]boat.LonLat, len(r))
	for i, at := range r {
		out[i] = boat.LonLat{wrap(at[0]), at[1]}
	}
	return out
}

// crossing returns two edges of a ring, by their first points, that touch or cross
// without being neighbours. It goes over the edges from west to east and compares
// each with those that reach as far.
func crossing(r orb.Ring) (int, int, bool) {
	n := len(r) - 1
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	west := func(i int) float64 { return math.Min(r[i][0], r[i+1][0]) }
	slices.SortFunc(order, func(a, b int) int { return cmp.Or(cmp.Compare(west(a), west(b)), cmp.Compare(a, b)) })
	var open []int
	for _, i := range order {
		kept := open[:0]
		for _, j := range open {
			if math.Max(r[j][0], r[j+1][0]) < west(i) {
				continue
			}
			kept = append(kept, j)
			lo, hi := min(i, j), max(i, j)
			switch {
			case hi == lo+1 && fold(r[lo], r[hi], r[hi+1]), lo == 0 && hi == n-1 && fold(r[hi], r[0], r[1]):
				return lo, hi, true
			case hi == lo+1, lo == 0 && hi == n-1:
			case touch([2]orb.Point{r[i], r[i+1]}, [2]orb.Point{r[j], r[j+1]}):
				return lo, hi, true
			}
		}
		open = append(kept, i)
	}
	return 0, 0, false
}

// side is which side of the line from a to b the point lies on.
func side(a, b, p orb.Point) float64 {
	return float64((b[0]-a[0])*(p[1]-a[1])) - float64((b[1]-a[1])*(p[0]-a[0]))
}

// fold says whether an edge turns straight back on the one before.
func fold(a, b, c orb.Point) bool {
	back := float64((b[0]-a[0])*(c[0]-b[0])) + float64((b[1]-a[1])*(c[1]-b[1]))
	return side(a, b, c) == 0 && back < 0
}

func touch(e, f [2]orb.Point) bool {
	d1, d2 := side(f[0], f[1], e[0]), side(f[0], f[1], e[1])
	d3, d4 := side(e[0], e[1], f[0]), side(e[0], e[1], f[1])
	if (d1 > 0) != (d2 > 0) && (d3 > 0) != (d4 > 0) && d1 != 0 && d2 != 0 && d3 != 0 && d4 != 0 {
		return true
	}
	return d1 == 0 && between(f, e[0]) || d2 == 0 && between(f, e[1]) || d3 == 0 && between(e, f[0]) || d4 == 0 && between(e, f[1])
}

func between(e [2]orb.Point, p orb.Point) bool {
	return math.Min(e[0][0], e[1][0]) <= p[0] && p[0] <= math.Max(e[0][0], e[1][0]) &&
		math.Min(e[0][1], e[1][1]) <= p[1] && p[1] <= math.Max(e[0][1], e[1][1])
}
