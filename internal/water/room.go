package water

import (
	"math"

	"helmcue/internal/geo"
)

// Room is a round piece of open water: no shore, no shallow, no dead or disturbed
// air in it, as far as the chart and the wind of the map tell.
type Room struct {
	At      geo.Position
	RadiusM float64
}

const roomDisturbed = 0.5 // as likely as this, air is too disturbed to practise in

// Rooms returns the widest rooms of a filled map, widest first, each at least
// leastM in radius and none within another, at most so many. The map's edge counts
// as shore: beyond it nothing is known.
func (m *Map) Rooms(leastM float64, most int) []Room {
	far := m.distances()
	var out []Room
	var at []point
	for len(out) < most {
		best, where := leastM, -1
		for i, d := range far {
			if d > best && !near(at, out, m.point(i), d) {
				best, where = d, i
			}
		}
		if where < 0 {
			break
		}
		at = append(at, m.point(where))
		out = append(out, Room{At: m.At(where%m.Cols, where/m.Cols), RadiusM: best})
	}
	return out
}

// near says whether a room would overlap one that was taken.
func near(at []point, taken []Room, p point, radius float64) bool {
	for i := range at {
		if math.Hypot(p.x-at[i].x, p.y-at[i].y) < taken[i].RadiusM+radius {
			return true
		}
	}
	return false
}

func (m *Map) point(i int) point {
	return point{float64(i%m.Cols) * m.StepM, float64(i/m.Cols) * m.StepM}
}

// Suggest returns the room to practise in: of those at least needM in radius the one
// nearest to from, else the widest. It is false without a room.
func Suggest(rooms []Room, from geo.Position, needM float64) (Room, bool) {
	best, found := Room{}, false
	for _, r := range rooms {
		fits := r.RadiusM >= needM
		switch {
		case !found,
			fits && best.RadiusM < needM,
			fits && geo.Distance(from, r.At) < geo.Distance(from, best.At),
			!fits && best.RadiusM < needM && r.RadiusM > best.RadiusM:
			best, found = r, true
		}
	}
	return best, found
}

// distances returns for every cell how far it is to the nearest that is no room,
// metres. It is exact for cells: Felzenszwalb and Huttenlocher 2012, Distance
// Transforms of Sampled Functions, Theory of Computing 8, 415-428.
func (m *Map) distances() []float64 {
	cols, rows := m.Cols+2, m.Rows+2 // a border of no room
	f := make([]float64, cols*rows)
	for i, c := range m.Cells {
		if c.Afloat && c.Disturbed < roomDisturbed && c.Band != NoHeight {
			f[(i/m.Cols+1)*cols+i%m.Cols+1] = math.Inf(1)
		}
	}
	line := make([]float64, max(cols, rows))
	for x := range cols {
		for y := range rows {
			line[y] = f[y*cols+x]
		}
		lower(line[:rows])
		for y := range rows {
			f[y*cols+x] = line[y]
		}
	}
	out := make([]float64, len(m.Cells))
	for y := 1; y <= m.Rows; y++ {
		copy(line, f[y*cols:(y+1)*cols])
		lower(line[:cols])
		for x := 1; x <= m.Cols; x++ {
			out[(y-1)*m.Cols+x-1] = math.Max(0, (math.Sqrt(line[x])-0.5)*m.StepM)
		}
	}
	return out
}

// lower replaces f by the lower envelope of the parabolas that stand on it.
func lower(f []float64) {
	v, z := make([]int, 0, len(f)), make([]float64, 0, len(f)) // where parabolas stand, from where each is lowest
	for q := range f {
		if math.IsInf(f[q], 1) {
			continue
		}
		from := math.Inf(-1)
		for len(v) > 0 {
			p := v[len(v)-1]
			from = (f[q] + float64(q*q) - f[p] - float64(p*p)) / float64(2*(q-p))
			if from > z[len(z)-1] {
				break
			}
			v, z, from = v[:len(v)-1], z[:len(z)-1], math.Inf(-1)
		}
		v, z = append(v, q), append(z, from)
	}
	base := append([]float64(nil), f...)
	k := 0
	for q := range f {
		if len(v) == 0 {
			return
		}
		for k+1 < len(v) && z[k+1] < float64(q) {
			k++
		}
		d := float64(q - v[k])
		f[q] = base[v[k]] + float64(d*d)
	}
}
