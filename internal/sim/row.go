package sim

import (
	"math"

	"helmcue/internal/geo"
)

// left is the share of the wind from fromDeg that a row leaves at a place.
func (r Row) left(at Place, fromDeg float64) float64 {
	along, from := geo.Rad(r.AlongDeg), geo.Rad(fromDeg)
	// Upwind from the place until the row: at + d * up = row + u * along.
	ux, uy := math.Sin(from), math.Cos(from)
	ax, ay := math.Sin(along), math.Cos(along)
	x, y := r.EastM-at.EastM, r.NorthM-at.NorthM
	det := float64(ux*ay) - float64(uy*ax)
	if math.Abs(det) < 0.05 { // the wind blows along the row
		return 1
	}
	d := (float64(x*ay) - float64(y*ax)) / det
	u := (float64(x*uy) - float64(y*ux)) / det
	if d < 0 {
		return 1
	}
	// The wind closes in from the ends, over one height.
	in := clamp((r.LengthM/2-math.Abs(u))/r.HeightM+0.5, 0, 1)
	return mixed(1, behind(d/r.HeightM, or(r.Density, 0.6)), in)
}

// behind is the share of the open wind so many heights behind a row of a density of
// 0.3 to 0.7. Source: Brandle and Finch, How Windbreaks Work, University of Nebraska
// EC 1763, its table written from memory; nearer than five heights it is taken as at
// five, and from forty on for open wind.
func behind(heights, density float64) float64 {
	table := [3][5]float64{
		{0.50, 0.65, 0.80, 0.85, 1.00}, // 25 to 35 percent dense
		{0.30, 0.50, 0.60, 0.75, 0.95}, // 40 to 60
		{0.25, 0.35, 0.65, 0.85, 0.95}, // 60 to 80
	}
	at := [5]float64{5, 10, 15, 20, 30}
	k := clamp((density-0.3)/0.2, 0, 2)
	i := min(int(k), 1)
	value := func(j int) float64 { return mixed(table[i][j], table[i+1][j], k-float64(i)) }
	for j, h := range at {
		if heights > h {
			continue
		}
		if j == 0 {
			return value(0)
		}
		return mixed(value(j-1), value(j), (heights-at[j-1])/(h-at[j-1]))
	}
	return mixed(value(4), 1, clamp((heights-30)/10, 0, 1))
}
