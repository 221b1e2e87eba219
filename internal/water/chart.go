package water

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// mostM is how large a chart may be: beyond, one flat map is not true enough.
const mostM = 60_000.0

// Chart is a chart made ready for questions. It does not change once it is made, so
// that any number may ask at once.
type Chart struct {
	frame geo.Frame
	edges []edge
	areas []area
	kinds []obstacle // the different obstacles there are, by height and porosity
	grid  grid
	open  bool // has an area of water: all outside of it is land
	tallM float64
	marks []boat.Mark
}

// edge is a piece of shore, or of a bridge, in metres east and north.
type edge struct {
	ax, ay, bx, by float64
	area           int32 // index of its area; -1 for a bridge
}

type area struct {
	kind string
	obst int32 // index of its obstacle; -1: nothing stands there; -2: height not known
}

// point is a place on the chart's flat map, metres.
type point struct{ x, y float64 }

// New makes a Chart. mastM is how much room she needs under a bridge, metres; a
// bridge that is lower, or of which it is not known, counts as shore. A chart
// without any area, or larger than 60 km, is refused.
func New(w boat.Water, mastM float64) (*Chart, error) {
	if len(w.Areas) == 0 {
		return nil, fmt.Errorf("expected a chart with at least one area of land or water, got none: draw the shore first")
	}
	lo, hi, err := bounds(w)
	if err != nil {
		return nil, err
	}
	c := &Chart{marks: w.Marks}
	c.frame = geo.NewFrame(geo.Position{LatDeg: (lo.LatDeg + hi.LatDeg) / 2, LonDeg: geo.Wrap180(lo.LonDeg + float64(geo.Wrap360(hi.LonDeg-lo.LonDeg)/2))})
	for _, a := range w.Areas {
		c.addArea(a)
	}
	for _, b := range w.Bridges {
		if !b.ClearM.OK || b.ClearM.Val < mastM {
			c.addLine(b.Line, -1)
		}
	}
	c.grid, err = newGrid(c.edges)
	return c, err
}

// bounds returns the south-west and north-east corner of all areas. A chart across
// the date line has its west corner east of its east corner, both 0..360.
func bounds(w boat.Water) (lo, hi geo.Position, err error) {
	first := w.Areas[0].Rings
	if len(first) == 0 || len(first[0]) == 0 {
		return lo, hi, fmt.Errorf("expected an area with a shore, got one without a point: draw it again")
	}
	ref := first[0][0][0]
	minLat, maxLat, west, east := 91.0, -91.0, 0.0, 0.0
	for _, a := range w.Areas {
		for _, r := range a.Rings {
			for _, p := range r {
				if at := position(p); !at.Valid() {
					return lo, hi, fmt.Errorf("expected longitudes within 180 and latitudes within 90 degrees, got %v, %v", p[0], p[1])
				}
				off := geo.Diff(ref, p[0])
				west, east = math.Min(west, off), math.Max(east, off)
				minLat, maxLat = math.Min(minLat, p[1]), math.Max(maxLat, p[1])
			}
		}
	}
	if maxLat > 89 || minLat < -89 {
		return lo, hi, fmt.Errorf("expected a chart away from the poles, got latitudes %.2f to %.2f", minLat, maxLat)
	}
	lo = geo.Position{LatDeg: minLat, LonDeg: geo.Wrap180(ref + west)}
	hi = geo.Position{LatDeg: maxLat, LonDeg: geo.Wrap180(ref + east)}
	if d := geo.Distance(lo, hi); d > mostM {
		return lo, hi, fmt.Errorf("expected a chart of at most %.0f km across, got %.0f km: cut it to the water you sail", mostM/1000, d/1000)
	}
	return lo, hi, nil
}

func position(p boat.LonLat) geo.Position { return geo.Position{LatDeg: p[1], LonDeg: p[0]} }

func (c *Chart) addArea(a boat.Area) {
	c.open = c.open || a.Kind == boat.Open
	c.areas = append(c.areas, area{kind: a.Kind, obst: c.obstacle(a)})
	for _, r := range a.Rings {
		c.addLine(r, int32(len(c.areas)-1))
	}
}

// obstacle returns the index of what stands at the area's shore.
func (c *Chart) obstacle(a boat.Area) int32 {
	switch {
	case a.Kind == boat.Shallow || a.HeightM.OK && a.HeightM.Val < leastHeightM:
		return -1
	case !a.HeightM.OK:
		return -2
	}
	for i, k := range c.kinds {
		if k.heightM == a.HeightM.Val && k.porosity == a.Porosity {
			return int32(i)
		}
	}
	c.tallM = math.Max(c.tallM, a.HeightM.Val)
	c.kinds = append(c.kinds, newObstacle(a.HeightM.Val, a.Porosity))
	return int32(len(c.kinds) - 1)
}

func (c *Chart) addLine(line []boat.LonLat, of int32) {
	for i := 1; i < len(line); i++ {
		a, b := c.at(position(line[i-1])), c.at(position(line[i]))
		if a != b {
			c.edges = append(c.edges, edge{a.x, a.y, b.x, b.y, of})
		}
	}
}

func (c *Chart) at(p geo.Position) point {
	x, y := c.frame.To(p)
	return point{x, y}
}

// Has says whether p lies within what the chart shows. Outside of it nothing is
// known, which is no clear water.
func (c *Chart) Has(p geo.Position) bool { return p.Valid() && c.grid.has(c.at(p)) }

// Afloat says whether the chart shows water at p: not land, not a shallow.
func (c *Chart) Afloat(p geo.Position) bool { return c.Has(p) && c.afloat(c.at(p)) }

// afloat counts the shores to the east of p: an odd count for an area is inside it.
func (c *Chart) afloat(p point) bool {
	var open, ground bool
	odd := make([]bool, 0, 16)
	if n := len(c.areas); n > cap(odd) {
		odd = make([]bool, 0, n)
	}
	odd = odd[:len(c.areas)]
	c.grid.eastward(p, func(i int32, _ float64) {
		if a := c.edges[i].area; a >= 0 {
			odd[a] = !odd[a]
		}
	})
	for i, in := range odd {
		switch {
		case in && c.areas[i].kind == boat.Open:
			open = true
		case in:
			ground = true
		}
	}
	return !ground && (open || !c.open)
}

// ClearM returns the distance from p to the nearest shore or low bridge, metres,
// looked for within mostM; +Inf where there is none so near.
func (c *Chart) ClearM(p geo.Position, mostM float64) float64 {
	return c.grid.nearest(c.at(p), mostM)
}

// fanDeg is how far to either side of a course the shore is looked for: nobody
// steers straighter, and a course over the ground is known no better.
const fanDeg = 4.0

// ShoreM returns how far it is to the shore on a true course, metres, or +Inf where
// there is none within reachM. It looks a little to both sides of the course.
func (c *Chart) ShoreM(p geo.Position, courseDeg, reachM float64) float64 {
	best := math.Inf(1)
	for _, off := range []float64{0, -fanDeg, fanDeg} {
		best = math.Min(best, c.firstHit(c.at(p), courseDeg+off, math.Min(reachM, best)))
	}
	return best
}

func (c *Chart) firstHit(p point, courseDeg, reachM float64) float64 {
	best := math.Inf(1)
	sin, cos := math.Sincos(geo.Rad(courseDeg))
	c.grid.ray(p, point{sin, cos}, reachM, func(_ int32, d float64) bool {
		best = math.Min(best, d)
		return true
	})
	return best
}

// Ramp returns where she comes home to, where the chart says it: of several the
// one nearest to p.
func (c *Chart) Ramp(p geo.Position) (at geo.Position, ok bool) {
	best := math.Inf(1)
	for _, m := range c.marks {
		if d := geo.Distance(p, position(m.At)); m.Kind == boat.Ramp && d < best {
			at, ok, best = position(m.At), true, d
		}
	}
	return at, ok
}
