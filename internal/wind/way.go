package wind

import "math"

// A boat that has lost her way cannot point: her keel holds the less the slower she
// goes, and whoever sails her bears off to be fast again, or has just pinched the way
// out of her. At her full speed on a beat the heading tells where the wind is, without
// it hardly (physics, and common practice without a source for the figures).
const (
	fullWay  = 0.92 // of her recent best on a beat: full speed from here on
	noWay    = 0.7  // and under this she gathers it
	slowLow  = 4.5  // so much lower she then sails,
	slowSD   = 5.0  // give or take
	paceTauS = 900.0
)

// pace is her recent best speed on a beat, knots; 0 before there was one.
type pace struct{ kn float64 }

// see takes a block that is a beat with this probability.
func (p *pace) see(b *block, beat float64) {
	p.kn *= math.Exp(-b.seconds / paceTauS)
	if beat > 0.5 {
		p.kn = math.Max(p.kn, b.kn)
	}
}

// gathers sets how far her heading on a beat may be trusted.
func (b *block) gathers(p pace) {
	slow := 0.5 // nothing to compare with
	if p.kn > 0 {
		slow = math.Max(0, math.Min(1, (fullWay-b.kn/p.kn)/(fullWay-noWay)))
	}
	b.low = slow * slowLow
	b.sd = math.Hypot(b.sd, slow*slowSD)
}

// beats is how likely she is on a beat.
func (j *joint) beats() float64 {
	sum := 0.0
	for c := range j.cell {
		if c%kinds < helms {
			for _, p := range j.cell[c].p {
				sum += p
			}
		}
	}
	return sum
}
