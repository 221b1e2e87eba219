package water

import (
	"cmp"
	"math"
	"slices"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// sailedM is the width of a cell of the water sailed: about what a receiver is off.
const sailedM = 15.0

// Sailed remembers where boats have sailed: there was depth enough, and no land, on
// the day. Make it with NewSailed; it grows with the water, not with the time.
type Sailed struct {
	frame geo.Frame
	cells map[[2]int32]uint16
}

// NewSailed makes an empty memory for the water round origin, within some 20 km.
func NewSailed(origin geo.Position) *Sailed {
	return &Sailed{frame: geo.NewFrame(origin), cells: map[[2]int32]uint16{}}
}

func (s *Sailed) key(p geo.Position) [2]int32 {
	x, y := s.frame.To(p)
	return [2]int32{int32(math.Floor(x / sailedM)), int32(math.Floor(y / sailedM))}
}

// Add takes a boat's position in, accM being how far off it may be, metres. It
// counts a visit once she comes from another cell, and takes no vague position.
func (s *Sailed) Add(from, to geo.Position, accM float64) {
	if !from.Valid() || !to.Valid() || !(accM <= sailedM) {
		return
	}
	k := s.key(to)
	if n := s.cells[k]; (n == 0 || k != s.key(from)) && n < math.MaxUint16 {
		s.cells[k] = n + 1
	}
}

// Visits returns how often the water at p was sailed.
func (s *Sailed) Visits(p geo.Position) int {
	if !p.Valid() {
		return 0
	}
	return int(s.cells[s.key(p)])
}

// Keep takes in a place that was sailed before, as Places gives them.
func (s *Sailed) Keep(p boat.LonLat) {
	if at := position(p); at.Valid() {
		if k := s.key(at); s.cells[k] == 0 {
			s.cells[k] = 1
		}
	}
}

// Merge returns the places of a and those of b that none of a stands for. It moves
// none, and changes neither list.
func Merge(a, b []boat.LonLat) []boat.LonLat {
	out := slices.Clone(a)
	if len(b) == 0 || !position(b[0]).Valid() {
		return out
	}
	middle := geo.NewFrame(position(b[0])) // so that the places of b lie in the middle of cells
	s := NewSailed(middle.From(-sailedM/2, -sailedM/2))
	for _, p := range a {
		s.Keep(p)
	}
	for _, p := range b {
		if k := s.key(position(p)); s.cells[k] == 0 {
			s.cells[k] = 1
			out = append(out, p)
		}
	}
	return out
}

// Along says whether every place on a straight course of distM metres was sailed
// before, or lies beside one that was.
func (s *Sailed) Along(from geo.Position, courseDeg, distM float64) bool {
	for d := 0.0; d <= distM; d += sailedM / 2 {
		if !s.beside(geo.Destination(from, courseDeg, d)) {
			return false
		}
	}
	return true
}

func (s *Sailed) beside(p geo.Position) bool {
	k := s.key(p)
	for dx := int32(-1); dx <= 1; dx++ {
		for dy := int32(-1); dy <= 1; dy++ {
			if s.cells[[2]int32{k[0] + dx, k[1] + dy}] > 0 {
				return true
			}
		}
	}
	return false
}

// Places returns the middles of the cells that were sailed, west to east, then south
// to north, for a map or to be kept.
func (s *Sailed) Places() []boat.LonLat {
	keys := make([][2]int32, 0, len(s.cells))
	for k := range s.cells { // order does not reach an output: it is sorted below
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b [2]int32) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	out := make([]boat.LonLat, len(keys))
	for i, k := range keys {
		p := s.frame.From((float64(k[0])+0.5)*sailedM, (float64(k[1])+0.5)*sailedM)
		out[i] = boat.LonLat{p.LonDeg, p.LatDeg}
	}
	return out
}
