package water

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// mostCells is the largest map that is made, cells.
const mostCells = 4_000_000

// Cell is one place of a Map.
type Cell struct {
	Afloat    bool
	Band      Band    // with the wind just as believed; Ashore on land
	Dead      float32 // probability of dead air, 0..1
	Disturbed float32 // probability of being within twenty heights
	Open      float32 // share of the open wind by the model: to order places by, not to be spoken
}

// Map is the shelter over a whole chart in one wind: rows from south to north, cells
// from west to east.
type Map struct {
	SouthWest  geo.Position // of the middle of the first cell
	StepM      float64
	Cols, Rows int
	Cells      []Cell

	chart  *Chart
	x0, y0 float64
	sweeps []sweep
	land   sweep
}

// MapSize is how large a Map is to be: so many cells, at least one, each way at most.
type MapSize struct{ Cols, Rows int }

// NewMap makes an empty map of the whole chart, with square cells, as large as fits.
// Fill works its rows out.
func (c *Chart) NewMap(w Wind, size MapSize) (*Map, error) {
	if size.Cols < 2 || size.Rows < 2 || size.Cols > mostCells/size.Rows {
		return nil, fmt.Errorf("expected a map of 2 by 2 up to %d cells, got %d by %d", mostCells, size.Cols, size.Rows)
	}
	wide, high := float64(c.grid.cols)*c.grid.size, float64(c.grid.rows)*c.grid.size
	m := &Map{chart: c, StepM: math.Max(wide/float64(size.Cols), high/float64(size.Rows))}
	m.Cols, m.Rows = min(size.Cols, int(math.Ceil(wide/m.StepM))), min(size.Rows, int(math.Ceil(high/m.StepM)))
	m.x0, m.y0 = c.grid.x0+m.StepM/2, c.grid.y0+m.StepM/2
	m.SouthWest = c.frame.From(m.x0, m.y0)
	m.Cells = make([]Cell, m.Cols*m.Rows)
	for _, from := range w.spread() {
		sin, cos := math.Sincos(geo.Rad(from))
		m.sweeps = append(m.sweeps, c.sweep(point{sin, cos}, m.StepM, false))
	}
	m.land = c.sweep(point{1, 0}, m.StepM, true)
	return m, nil
}

// At returns the place of the middle of a cell.
func (m *Map) At(col, row int) geo.Position {
	return m.chart.frame.From(m.x0+float64(float64(col)*m.StepM), m.y0+float64(float64(row)*m.StepM))
}

// CellAt returns the cell that holds p, or false where the map does not reach.
func (m *Map) CellAt(p geo.Position) (Cell, bool) {
	at := m.chart.at(p)
	col, row := int(math.Round((at.x-m.x0)/m.StepM)), int(math.Round((at.y-m.y0)/m.StepM))
	if col < 0 || row < 0 || col >= m.Cols || row >= m.Rows {
		return Cell{Band: OffChart}, false
	}
	return m.Cells[row*m.Cols+col], true
}

// sweep is the shore cut by parallel lines along one direction: for each line where
// it meets which area, in order.
type sweep struct {
	dir   point // along the lines, upwind
	v0    float64
	step  float64
	start []int32
	cuts  []sweepCut
}

type sweepCut struct {
	u    float64
	area int32
}

// sweep cuts the shore by lines step apart. With all it takes every area, else only
// those that may take the wind.
func (c *Chart) sweep(dir point, step float64, all bool) sweep {
	s := sweep{dir: dir, step: step, v0: math.Inf(1)}
	v1 := math.Inf(-1)
	for _, e := range c.edges {
		va, vb := s.across(e.ax, e.ay), s.across(e.bx, e.by)
		s.v0, v1 = math.Min(s.v0, math.Min(va, vb)), math.Max(v1, math.Max(va, vb))
	}
	if all { // lines through the middles of the map's rows
		north := math.Ceil((s.across(0, c.grid.y0) - s.v0) / step)
		s.v0 = s.across(0, c.grid.y0+step/2) - float64(north*step)
	}
	lines := int((v1-s.v0)/step) + 2
	s.start = make([]int32, lines+1)
	s.each(c, all, func(k int, _ float64, _ int32) { s.start[k+1]++ })
	for i := 1; i < len(s.start); i++ {
		s.start[i] += s.start[i-1]
	}
	s.cuts = make([]sweepCut, s.start[lines])
	next := slices.Clone(s.start)
	s.each(c, all, func(k int, u float64, of int32) {
		s.cuts[next[k]] = sweepCut{u, of}
		next[k]++
	})
	for k := range lines {
		slices.SortFunc(s.line(k), func(a, b sweepCut) int { return cmp.Or(cmp.Compare(a.u, b.u), cmp.Compare(a.area, b.area)) })
	}
	return s
}

func (s *sweep) along(x, y float64) float64  { return float64(x*s.dir.x) + float64(y*s.dir.y) }
func (s *sweep) across(x, y float64) float64 { return float64(x*s.dir.y) - float64(y*s.dir.x) }
func (s *sweep) line(k int) []sweepCut       { return s.cuts[s.start[k]:s.start[k+1]] }

// each names every cut of a line with an edge.
func (s *sweep) each(c *Chart, all bool, visit func(k int, u float64, of int32)) {
	for _, e := range c.edges {
		if e.area < 0 || !all && c.areas[e.area].obst == -1 {
			continue
		}
		va, vb := s.across(e.ax, e.ay), s.across(e.bx, e.by)
		ua, ub := s.along(e.ax, e.ay), s.along(e.bx, e.by)
		if va > vb {
			va, vb, ua, ub = vb, va, ub, ua
		}
		for k := max(0, int(math.Ceil((va-s.v0)/s.step))); k < len(s.start)-1; k++ {
			v := s.v0 + float64(float64(k)*s.step)
			if v >= vb { // half open: a corner is cut once
				break
			}
			visit(k, ua+float64((ub-ua)*(v-va)/(vb-va)), e.area)
		}
	}
}

// Fill works out the rows from lo up to but without hi. Different rows may be filled
// at the same time.
func (m *Map) Fill(lo, hi int) {
	afloat := make([]bool, m.Cols)
	odd := make([]bool, len(m.chart.areas))
	for row := max(0, lo); row < min(m.Rows, hi); row++ {
		m.afloat(row, afloat, odd)
		y := m.y0 + float64(float64(row)*m.StepM)
		for col := range m.Cols {
			cell := &m.Cells[row*m.Cols+col]
			if !afloat[col] {
				*cell = Cell{Band: Ashore}
				continue
			}
			*cell = m.cell(m.x0+float64(float64(col)*m.StepM), y)
		}
	}
}

func (m *Map) cell(x, y float64) Cell {
	sum := gathered{plain: true}
	out := Cell{Afloat: true}
	for i := range m.sweeps {
		one, any := m.sweeps[i].upwind(m.chart, x, y)
		if i == 0 && any {
			out.Band, _ = one.band(m.chart)
		}
		if !any {
			sum.open++
			continue
		}
		sum.add(one, m.chart)
	}
	out.Dead, out.Disturbed, out.Open = float32(sum.dead/rays), float32(sum.disturbed/rays), float32(sum.open/rays)
	return out
}

// upwind looks along the line nearest to the place.
func (s *sweep) upwind(c *Chart, x, y float64) (m met, any bool) {
	k := int(math.Round((s.across(x, y) - s.v0) / s.step))
	if k < 0 || k >= len(s.start)-1 {
		return met{}, false
	}
	u, line := s.along(x, y), s.line(k)
	first, _ := slices.BinarySearchFunc(line, u, func(a sweepCut, u float64) int { return cmp.Compare(a.u, u) })
	reach := u + math.Max(noHeightM, farH*c.tallM)
	if first == len(line) || line[first].u > reach {
		return met{}, false
	}
	m.noHeightM = math.Inf(1)
	for _, cut := range line[first:] {
		if cut.u > reach {
			break
		}
		m.take(c, cut.area, cut.u-u)
	}
	return m, true
}

// afloat says which cells of a row are water, going along it from the west.
func (m *Map) afloat(row int, out, odd []bool) {
	c := m.chart
	clear(odd)
	k := int(math.Round((-(m.y0 + float64(float64(row)*m.StepM)) - m.land.v0) / m.land.step))
	var line []sweepCut
	if k >= 0 && k < len(m.land.start)-1 {
		line = m.land.line(k)
	}
	open, ground := 0, 0
	for col := range out {
		x := m.x0 + float64(float64(col)*m.StepM)
		for ; len(line) > 0 && line[0].u <= x; line = line[1:] {
			of := line[0].area
			odd[of] = !odd[of]
			by := 1
			if !odd[of] {
				by = -1
			}
			if c.areas[of].kind == boat.Open {
				open += by
			} else {
				ground += by
			}
		}
		out[col] = ground == 0 && (open > 0 || !c.open)
	}
}
