package engine

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/polar"
)

// targetCache keeps the best angles of the last wind: they are found by search
// and change far more slowly than the boat's own angle.
type targetCache struct {
	kn   float64
	base boat.Target
}

func (c *targetCache) at(p *polar.Polar, w boat.Wind, twa boat.Reading) boat.Target {
	if !w.SpeedKn.OK {
		return boat.Target{}
	}
	kn := math.Round(w.SpeedKn.Val*10) / 10
	if !c.base.OK || kn != c.kn {
		c.kn = kn
		c.base = p.Target(kn, 90)
	}
	t := c.base
	if twa.OK {
		t.HereKn = p.Speed(kn, math.Abs(twa.Val))
	} else {
		t.HereKn = 0
	}
	return t
}
