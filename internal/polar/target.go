package polar

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Best is one best angle and what it gives.
type Best struct {
	TWADeg  float64 // off the wind; signed only in Course
	SpeedKn float64 // through the water
	MadeKn  float64 // the part of it in the wanted direction
}

// leastKn is the speed below which a table says she does not sail at all.
const leastKn = 0.05

// noSailShare is the share of the speed on a beat below which she no longer sails
// but luffs (common practice, no source).
const noSailShare = 0.3

// Target returns the best angles to windward and to leeward in a true wind of
// twsKn knots, and the speed to expect at twaDeg off it. OK is false without wind
// or where the table holds no speed to windward or to leeward. Angles are found
// only within the table's own: a best angle is never extrapolated. It takes some
// microseconds and no memory.
func (p *Polar) Target(twsKn, twaDeg float64) boat.Target {
	up, okUp := p.Upwind(twsKn)
	down, okDown := p.Downwind(twsKn)
	if !okUp || !okDown {
		return boat.Target{}
	}
	return boat.Target{
		BeatDeg: up.TWADeg, BeatKn: up.SpeedKn, BeatVMG: up.MadeKn,
		RunDeg: down.TWADeg, RunKn: down.SpeedKn, RunVMG: down.MadeKn,
		HereKn: p.Speed(twsKn, twaDeg), NoSailUp: p.noSail(twsKn, up), OK: true,
	}
}

// Upwind returns the angle of best VMG to windward, 0 to 90. ok is false where
// she does not sail to windward at all.
func (p *Polar) Upwind(twsKn float64) (best Best, ok bool) {
	return p.best(search{twsKn: twsKn, towards: 0, lo: p.deg[0], hi: math.Min(90, p.deg[len(p.deg)-1])})
}

// Downwind returns the angle of best VMG to leeward, 90 to 180; its MadeKn is
// positive.
func (p *Polar) Downwind(twsKn float64) (best Best, ok bool) {
	return p.best(search{twsKn: twsKn, towards: 180, lo: math.Max(90, p.deg[0]), hi: p.deg[len(p.deg)-1]})
}

// Course returns the angle off the wind, -180 to 180, starboard positive, with
// the most speed made good towards a mark that bears offDeg off the wind, same
// range and sign (wind direction minus bearing of the mark). A mark near dead to
// windward or leeward has two courses nearly as good: the one on its own side is
// given.
func (p *Polar) Course(twsKn, offDeg float64) (best Best, ok bool) {
	off := geo.Wrap180(offDeg)
	last := p.deg[len(p.deg)-1]
	best, ok = p.best(search{twsKn: twsKn, towards: math.Abs(off), lo: p.deg[0], hi: last})
	if off < 0 {
		best.TWADeg = -best.TWADeg
	}
	return best, ok
}

// search is one search for the most speed made good.
type search struct {
	twsKn   float64
	towards float64 // direction off the wind, 0..180
	lo, hi  float64 // angles looked at
}

func (p *Polar) made(s search, a float64) float64 {
	return float64(p.Speed(s.twsKn, a) * math.Cos(geo.Rad(a-s.towards)))
}

// best looks at every degree first, since a table may have more than one hump,
// then narrows down between the neighbours of the best.
func (p *Polar) best(s search) (Best, bool) {
	if !(s.hi >= s.lo) || !(s.twsKn > 0) {
		return Best{}, false
	}
	at, most := s.lo, p.made(s, s.lo)
	for a := math.Ceil(s.lo); a <= s.hi; a++ {
		if m := p.made(s, a); m > most {
			at, most = a, m
		}
	}
	if m := p.made(s, s.hi); m > most {
		at = s.hi
	}
	at = p.narrow(s, math.Max(s.lo, at-1), math.Min(s.hi, at+1))
	b := Best{TWADeg: at, SpeedKn: p.Speed(s.twsKn, at), MadeKn: p.made(s, at)}
	return b, b.SpeedKn >= leastKn && b.MadeKn > 0
}

// narrow is a golden-section search that ends on a hundredth of a degree, so that
// a last bit that differs between processors does not show.
func (p *Polar) narrow(s search, lo, hi float64) float64 {
	const golden = 0.6180339887498949
	x1, x2 := hi-float64(golden*(hi-lo)), lo+float64(golden*(hi-lo))
	f1, f2 := p.made(s, x1), p.made(s, x2)
	for hi-lo > 0.002 {
		if f1 >= f2 {
			hi, x2, f2 = x2, x1, f1
			x1 = hi - float64(golden*(hi-lo))
			f1 = p.made(s, x1)
		} else {
			lo, x1, f1 = x1, x2, f2
			x2 = lo + float64(golden*(hi-lo))
			f2 = p.made(s, x2)
		}
	}
	at := math.Round((lo+hi)/2*100) / 100
	return math.Min(s.hi, math.Max(s.lo, at))
}

// noSail returns the angle off the wind below which the speed is under a share of
// that on the beat, to half a degree.
func (p *Polar) noSail(twsKn float64, up Best) float64 {
	a := math.Floor(up.TWADeg*2) / 2
	for a > 0 && p.Speed(twsKn, a) >= noSailShare*up.SpeedKn {
		a -= 0.5
	}
	return math.Max(0, a)
}
