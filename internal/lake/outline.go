package lake

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// node is a corner of the grid that a field lies on, by its numbers eastward and
// northward.
type node struct{ x, y int32 }

// field is how far the nodes of a grid are from the tracks drawn on it, metres, as
// far as they are near.
type field struct {
	bufferM, stepM float64
	far            map[node]float64
}

func newField(bufferM float64) field {
	return field{bufferM: bufferM, stepM: math.Max(2.5, bufferM/4), far: map[node]float64{}}
}

// draw takes a straight piece of track in: from x, y to x, y.
func (f *field) draw(s [4]float64) {
	reach := f.reachM()
	lo := func(a, b float64) int32 { return int32(math.Floor((math.Min(a, b) - reach) / f.stepM)) }
	hi := func(a, b float64) int32 { return int32(math.Ceil((math.Max(a, b) + reach) / f.stepM)) }
	for x := lo(s[0], s[2]); x <= hi(s[0], s[2]); x++ {
		for y := lo(s[1], s[3]); y <= hi(s[1], s[3]); y++ {
			d := planar.DistanceFromSegment(orb.Point{s[0], s[1]}, orb.Point{s[2], s[3]}, orb.Point{float64(x) * f.stepM, float64(y) * f.stepM})
			if was, ok := f.far[node{x, y}]; d <= reach && (!ok || d < was) {
				f.far[node{x, y}] = d
			}
		}
	}
}

// reachM is how far off nodes are kept: every cell with a corner within the buffer
// has all its corners.
func (f *field) reachM() float64 { return f.bufferM + 1.5*f.stepM }

func (f *field) at(n node) float64 {
	if d, ok := f.far[n]; ok {
		return d
	}
	return f.reachM()
}

func (f *field) in(n node) bool { return f.at(n) < f.bufferM }

// gridEdge is an edge of the grid: from its node eastward, or northward.
type gridEdge struct {
	from  node
	north bool
}

// crossingOn returns where the shore crosses an edge of the grid. It keeps off the
// nodes, so that two shores never meet in one.
func (f *field) crossingOn(s gridEdge) orb.Point {
	to := node{s.from.x + 1, s.from.y}
	if s.north {
		to = node{s.from.x, s.from.y + 1}
	}
	a, b := f.at(s.from), f.at(to)
	share := math.Min(0.85, math.Max(0.15, (f.bufferM-a)/(b-a)))
	return orb.Point{
		(float64(s.from.x) + share*float64(to.x-s.from.x)) * f.stepM,
		(float64(s.from.y) + share*float64(to.y-s.from.y)) * f.stepM,
	}
}

// outlines returns the shores of what lies within the buffer, each outer ring
// anticlockwise with its holes, in metres. It goes round the cells of the grid
// (marching squares: Lorensen and Cline 1987 in the plane), and keeps corners that
// touch apart.
func (f *field) outlines() []orb.Polygon {
	next := map[gridEdge]gridEdge{}
	nodes := make([]node, 0, len(f.far))
	for n := range f.far { // order does not reach the rings: it is sorted
		nodes = append(nodes, n)
	}
	slices.SortFunc(nodes, func(a, b node) int { return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(a.y, b.y)) })
	var starts []gridEdge
	for _, n := range nodes {
		// The cell to the north-east of the node.
		corners := [4]node{n, {n.x + 1, n.y}, {n.x + 1, n.y + 1}, {n.x, n.y + 1}}
		sides := [4]gridEdge{{n, false}, {corners[1], true}, {corners[3], false}, {n, true}}
		for i := range 4 {
			if !f.in(corners[i]) || f.in(corners[(i+1)%4]) {
				continue
			}
			back := (i + 3) % 4 // to where the corners came in, going back round the cell
			for f.in(corners[back]) {
				back = (back + 3) % 4
			}
			next[sides[i]] = sides[back]
			starts = append(starts, sides[i])
		}
	}
	return nested(f.rings(starts, next))
}

func (f *field) rings(starts []gridEdge, next map[gridEdge]gridEdge) []orb.Ring {
	var out []orb.Ring
	done := map[gridEdge]bool{}
	for _, s := range starts {
		if done[s] {
			continue
		}
		var r orb.Ring
		for at := s; !done[at]; at = next[at] {
			done[at] = true
			r = append(r, f.crossingOn(at))
		}
		out = append(out, append(r, r[0]))
	}
	return out
}

// nested gives each hole to the smallest outer ring round it.
func nested(rings []orb.Ring) []orb.Polygon {
	var out []orb.Polygon
	for _, r := range rings {
		if r.Orientation() == orb.CCW {
			out = append(out, orb.Polygon{r})
		}
	}
	for _, r := range rings {
		if r.Orientation() == orb.CCW {
			continue
		}
		best, size := -1, math.Inf(1)
		for i, p := range out {
			if a := math.Abs(planar.Area(p[0])); a < size && planar.RingContains(p[0], r[0]) {
				best, size = i, a
			}
		}
		if best >= 0 {
			out[best] = append(out[best], r)
		}
	}
	return out
}
