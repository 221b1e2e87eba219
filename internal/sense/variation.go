package sense

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// variation is the compass's angle to true north here. The model's value holds;
// what an instrument states is used until there is a position.
type variation struct {
	deg     float64
	known   bool
	modelAt geo.Position
	model   bool
}

func (v *variation) state(deg float64) {
	if !v.model {
		v.deg, v.known = deg, true
	}
}

// update asks the magnetic model again only after some ten kilometres: it is dear
// and the field changes by about a tenth of a degree over that.
func (v *variation) update(t boat.Time, p geo.Position) {
	if v.model && math.Abs(p.LatDeg-v.modelAt.LatDeg) < 0.1 && math.Abs(geo.Wrap180(p.LonDeg-v.modelAt.LonDeg)) < 0.1 {
		return
	}
	deg, sd, _ := geo.Declination(p, 0, geo.Year(int64(t)))
	if sd > 5 {
		return // near a magnetic pole the compass is no guide
	}
	v.deg, v.known, v.model, v.modelAt = deg, true, true, p
}
