package wind

import (
	"math"

	"helmcue/internal/geo"
)

// Speed (physics): she goes no faster than her polar allows, so speed held for 20 s
// excludes the dead sector and little else. Going slower says nothing, since no
// sail need be trimmed well.
const (
	overSD    = 0.15 // of speed over polar: the polar's error and the wind's gusts
	overFloor = 0.05
	beyond    = 1.25 // faster than this in any wind: another boat's polar, or an engine
)

// speedAllows takes what her least speed in the last stretch excludes: once a leg,
// since the polar's error, the wind and the trim are much the same all along it.
func (e *Estimator) speedAllows(in Sight, c course) {
	winds := in.winds()
	if c.least > beyond*in.Factor*in.Polar(25, 100) {
		return
	}
	e.moved(c.t, c.byCOG, func(dir float64) float64 {
		a := math.Abs(geo.Diff(c.hdg, dir))
		sum := 0.0
		for _, w := range winds {
			over := c.least/math.Max(0.05, in.Factor*in.Polar(w, a)) - 1
			sum += overFloor
			if over <= 0 {
				sum++
			} else {
				sum += bell(over, 0, overSD)
			}
		}
		return math.Sqrt(sum / float64(len(winds))) // and on the next leg still half so
	})
}
