package sense

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// A channel follows one reading through time: it smooths, refuses jumps until
// they last, and goes stale. The zero channel has seen nothing.
type channel struct {
	at       boat.Time // of the last reading taken
	seen     bool
	val      float64
	raw      float64 // the last reading taken, as it came
	gapS     float64 // usual time between readings, seconds
	refused  int     // readings refused in a row
	refusedV float64 // the last one refused
}

// law is how a kind of reading behaves.
type law struct {
	lo, hi float64 // beyond these no reading of a small boat can lie
	circle bool    // degrees that wrap
	tauS   float64 // smoothing
	jump   float64 // more than this at once is doubted
	rate   float64 // and this much more for every second since the last
	lasts  int     // so many alike in a row are believed after all
}

// staleAfterS is how old a reading may be: three of its usual gaps, since a slow
// sender is not a silent one, but never under 3 s nor over 30.
func (c *channel) staleAfterS() float64 {
	return math.Min(30, math.Max(3, 3*c.gapS))
}

func (c *channel) fresh(t boat.Time) bool {
	return c.seen && t.Seconds(c.at) <= c.staleAfterS()
}

func (c *channel) read(t boat.Time) boat.Reading {
	if !c.fresh(t) {
		return boat.Reading{}
	}
	return boat.Some(c.val)
}

// put takes a reading where there is one within reach.
func (c *channel) put(t boat.Time, r boat.Reading, l law) {
	if r.OK && r.Val >= l.lo && r.Val <= l.hi {
		c.add(t, r.Val, l)
	}
}

// add takes a reading and says whether it was believed. Readings no newer than
// the last are late twins of what is known and are passed over.
func (c *channel) add(t boat.Time, v float64, l law) bool {
	if c.seen && t <= c.at {
		return false
	}
	if !c.fresh(t) {
		c.note(t)
		c.raw = v
		c.val, c.seen, c.refused = wrap(v, l), true, 0
		return true
	}
	dt := t.Seconds(c.at)
	step := c.step(v, l)
	if math.Abs(step) > l.jump+float64(l.rate*dt) && !c.lasting(v, l) {
		return false
	}
	c.raw = v
	if c.refused > 0 {
		c.refused = 0
		c.note(t)
		c.val = wrap(v, l)
		return true
	}
	c.note(t)
	share := 1.0
	if l.tauS > 0 {
		share = 1 - math.Exp(-dt/l.tauS)
	}
	c.val = wrap(c.val+float64(step*share), l)
	return true
}

func (c *channel) step(v float64, l law) float64 {
	if l.circle {
		return geo.Diff(c.val, v)
	}
	return v - c.val
}

// lasting counts a refused reading and says whether enough alike came in a row.
func (c *channel) lasting(v float64, l law) bool {
	d := v - c.refusedV
	if l.circle {
		d = geo.Diff(c.refusedV, v)
	}
	if c.refused > 0 && math.Abs(d) > l.jump {
		c.refused = 0
	}
	c.refused++
	c.refusedV = v
	return c.refused >= l.lasts
}

func (c *channel) note(t boat.Time) {
	if c.seen {
		gap := math.Min(t.Seconds(c.at), 30)
		if c.gapS == 0 {
			c.gapS = gap
		} else {
			c.gapS += float64(0.1 * (gap - c.gapS))
		}
	}
	c.at = t
}

func wrap(v float64, l law) float64 {
	if l.circle {
		return geo.Wrap360(v)
	}
	return v
}
