package wind

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// How close she goes tells where the wind is (physics: the sail starves at an angle
// that is the boat's, whoever steers). The figures are common practice, no source.
const (
	closestDeg  = 20.0 // no boat keeps nine tenths of her speed so near the wind
	closeTestSD = 7.0  // her polar is not hers to the degree, and gusts come between
	closeWild   = 0.15 // of tests: she luffed for another reason
)

// Close takes the result of a closeness test that ended at time t: on the tack of side
// (+1 starboard) she came up from about her best angle, and her speed began to fall
// below c.Kept of what it was when she pointed at headingDeg, true. Where her polar
// has no such angle nothing is learned.
func (e *Estimator) Close(t boat.Time, headingDeg, side float64, c Closest) {
	if a, ok := c.angle(); ok {
		e.moved(t, false, near(geo.Wrap360(headingDeg+float64(math.Copysign(a, side))), closeTestSD, closeWild))
	}
}

// Closest is what a closeness test is read by.
type Closest struct {
	BestDeg float64                      // best angle close-hauled, degrees off the wind
	Kept    float64                      // share of her speed there, 0 to 1, at which she is too close
	SpeedKn func(twaDeg float64) float64 // of her polar in the wind believed
}

// angle is where the polar falls to Kept of its speed at the best angle.
func (c Closest) angle() (deg float64, ok bool) {
	full := c.SpeedKn(c.BestDeg)
	if !(full > 0) {
		return 0, false
	}
	for a := c.BestDeg; a >= closestDeg; a -= 0.5 {
		if c.SpeedKn(a) < c.Kept*full {
			return a, true
		}
	}
	return 0, false
}
