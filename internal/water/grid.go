package water

import (
	"fmt"
	"math"
)

// grid keeps the edges by the square cells they pass, so that a question looks only
// at the cells it goes through.
type grid struct {
	edges      []edge
	x0, y0     float64
	size       float64
	cols, rows int
	start      []int32 // of each cell's list in items; one more than there are cells
	items      []int32
}

// newGrid makes the cells about as many as the edges.
func newGrid(edges []edge) (grid, error) {
	if len(edges) == 0 {
		return grid{}, fmt.Errorf("expected a shore of at least one edge, got none: draw it again")
	}
	g := grid{edges: edges, x0: math.Inf(1), y0: math.Inf(1)}
	x1, y1 := math.Inf(-1), math.Inf(-1)
	for _, e := range edges {
		g.x0, g.y0 = math.Min(g.x0, math.Min(e.ax, e.bx)), math.Min(g.y0, math.Min(e.ay, e.by))
		x1, y1 = math.Max(x1, math.Max(e.ax, e.bx)), math.Max(y1, math.Max(e.ay, e.by))
	}
	w, h := x1-g.x0, y1-g.y0
	g.size = math.Max(1, math.Sqrt(math.Max(1, w)*math.Max(1, h)/float64(len(edges))))
	g.cols, g.rows = int(w/g.size)+1, int(h/g.size)+1
	for g.cols*g.rows > 4*len(edges)+64 { // long and thin
		g.size *= 1.5
		g.cols, g.rows = int(w/g.size)+1, int(h/g.size)+1
	}
	g.fill()
	return g, nil
}

// fill sorts the edges into their cells: counts first, then places.
func (g *grid) fill() {
	g.start = make([]int32, g.cols*g.rows+1)
	for i := range g.edges {
		g.cellsOf(g.edges[i], func(cell int) { g.start[cell+1]++ })
	}
	for i := 1; i < len(g.start); i++ {
		g.start[i] += g.start[i-1]
	}
	g.items = make([]int32, g.start[len(g.start)-1])
	next := append([]int32(nil), g.start...)
	for i := range g.edges {
		g.cellsOf(g.edges[i], func(cell int) {
			g.items[next[cell]] = int32(i)
			next[cell]++
		})
	}
}

// cellsOf names the cells of each row that the edge passes, one more to each side
// for rounding.
func (g *grid) cellsOf(e edge, visit func(cell int)) {
	if e.ay > e.by {
		e.ax, e.ay, e.bx, e.by = e.bx, e.by, e.ax, e.ay
	}
	for r := max(0, g.row(e.ay)-1); r <= min(g.rows-1, g.row(e.by)+1); r++ {
		lo := math.Max(e.ay, g.y0+float64(float64(r)*g.size))
		hi := math.Min(e.by, g.y0+float64(float64(r+1)*g.size))
		xa, xb := e.ax, e.bx
		if e.by > e.ay {
			lo, hi = math.Min(math.Max(lo, e.ay), e.by), math.Min(math.Max(hi, e.ay), e.by)
			xa = e.ax + float64((e.bx-e.ax)*(lo-e.ay)/(e.by-e.ay))
			xb = e.ax + float64((e.bx-e.ax)*(hi-e.ay)/(e.by-e.ay))
		}
		for c := max(0, g.col(math.Min(xa, xb)-g.size/1000)); c <= min(g.cols-1, g.col(math.Max(xa, xb)+g.size/1000)); c++ {
			visit(r*g.cols + c)
		}
	}
}

func (g *grid) col(x float64) int { return int(math.Floor((x - g.x0) / g.size)) }
func (g *grid) row(y float64) int { return int(math.Floor((y - g.y0) / g.size)) }

func (g *grid) has(p point) bool {
	c, r := g.col(p.x), g.row(p.y)
	return c >= 0 && c < g.cols && r >= 0 && r < g.rows
}

func (g *grid) cell(c, r int) []int32 {
	i := r*g.cols + c
	return g.items[g.start[i]:g.start[i+1]]
}

// ray goes from p along dir (length one) and names the edges it hits within reach,
// with their distance, cell after cell. It ends behind a cell in which hit returned
// true. An edge may be named more than once; within a cell they are unordered.
func (g *grid) ray(p, dir point, reach float64, hit func(i int32, dist float64) (last bool)) {
	enter, leave := g.clip(p, dir, reach)
	if enter > leave {
		return
	}
	at := point{p.x + float64(dir.x*enter), p.y + float64(dir.y*enter)}
	c, r := min(max(g.col(at.x), 0), g.cols-1), min(max(g.row(at.y), 0), g.rows-1)
	wx, wy := newWalk(p.x-g.x0, dir.x, g.size, c), newWalk(p.y-g.y0, dir.y, g.size, r)
	for c >= 0 && c < g.cols && r >= 0 && r < g.rows {
		next := math.Min(wx.at, wy.at)
		stop := false
		for _, i := range g.cell(c, r) {
			if d, ok := g.edges[i].cut(p, dir); ok && d <= reach {
				// Only a hit in this cell is sure to be nearer than those of the cells behind.
				stop = hit(i, d) && d <= next || stop
			}
		}
		if stop || next > leave {
			return
		}
		if wx.at <= wy.at {
			c += wx.way
			wx.at += wx.step
		} else {
			r += wy.way
			wy.at += wy.step
		}
	}
}

// walk is the way of a ray through the cells along one axis.
type walk struct {
	way      int
	at, step float64 // distance of the next border, and between borders
}

func newWalk(from, dir, size float64, cell int) walk {
	switch {
	case dir > 0:
		return walk{1, (float64(float64(cell+1)*size) - from) / dir, size / dir}
	case dir < 0:
		return walk{-1, (float64(float64(cell)*size) - from) / dir, -size / dir}
	}
	return walk{0, math.Inf(1), math.Inf(1)}
}

// clip returns from where to where the ray lies within the grid.
func (g *grid) clip(p, dir point, reach float64) (enter, leave float64) {
	enter, leave = 0, reach
	side := func(from, dir, size float64) {
		if dir == 0 {
			if from < 0 || from > size {
				leave = -1
			}
			return
		}
		a, b := -from/dir, (size-from)/dir
		enter, leave = math.Max(enter, math.Min(a, b)), math.Min(leave, math.Max(a, b))
	}
	side(p.x-g.x0, dir.x, float64(float64(g.cols)*g.size))
	side(p.y-g.y0, dir.y, float64(float64(g.rows)*g.size))
	return enter, leave
}

// cut returns how far along dir from p the edge lies, if the ray meets it.
func (e *edge) cut(p, dir point) (float64, bool) {
	ax, ay, bx, by := e.ax-p.x, e.ay-p.y, e.bx-p.x, e.by-p.y
	// Across the ray, left positive; half open, so that a corner is met once.
	ca, cb := float64(dir.x*ay)-float64(dir.y*ax), float64(dir.x*by)-float64(dir.y*bx)
	if (ca > 0) == (cb > 0) {
		return 0, false
	}
	la, lb := float64(dir.x*ax)+float64(dir.y*ay), float64(dir.x*bx)+float64(dir.y*by)
	d := la + float64((lb-la)*ca/(ca-cb))
	return d, d >= 0
}

// eastward names every edge that a line due east from p crosses, each once.
func (g *grid) eastward(p point, cross func(i int32, x float64)) {
	r := g.row(p.y)
	if r < 0 || r >= g.rows {
		return
	}
	for c := max(0, g.col(p.x)); c < g.cols; c++ {
		for _, i := range g.cell(c, r) {
			e := &g.edges[i]
			if (e.ay > p.y) == (e.by > p.y) {
				continue
			}
			x := e.ax + float64((e.bx-e.ax)*(p.y-e.ay)/(e.by-e.ay))
			if x > p.x && min(max(g.col(x), 0), g.cols-1) == c {
				cross(i, x)
			}
		}
	}
}

// nearest returns the distance to the nearest edge within most, else +Inf.
func (g *grid) nearest(p point, most float64) float64 {
	best := math.Inf(1)
	c0, r0 := g.col(p.x), g.row(p.y)
	rings := int(math.Min(most/g.size, float64(g.cols+g.rows)+math.Abs(float64(c0))+math.Abs(float64(r0)))) + 1
	for k := 0; k <= rings && float64(k-1)*g.size < best; k++ {
		g.ring(c0, r0, k, func(i int32) { best = math.Min(best, g.edges[i].away(p)) })
	}
	if best > most {
		return math.Inf(1)
	}
	return best
}

// ring names the edges in the cells k away from a cell.
func (g *grid) ring(c0, r0, k int, visit func(i int32)) {
	for r := max(0, r0-k); r <= min(g.rows-1, r0+k); r++ {
		step := 2 * k
		if r == r0-k || r == r0+k || k == 0 {
			step = 1
		}
		for c := c0 - k; c <= c0+k; c += step {
			if c < 0 || c >= g.cols {
				continue
			}
			for _, i := range g.cell(c, r) {
				visit(i)
			}
		}
	}
}

// away is the distance from p to the edge.
func (e *edge) away(p point) float64 {
	dx, dy := e.bx-e.ax, e.by-e.ay
	t := (float64(dx*(p.x-e.ax)) + float64(dy*(p.y-e.ay))) / (float64(dx*dx) + float64(dy*dy))
	t = math.Min(1, math.Max(0, t))
	return math.Hypot(e.ax+float64(t*dx)-p.x, e.ay+float64(t*dy)-p.y)
}
