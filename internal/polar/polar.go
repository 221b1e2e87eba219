package polar

import (
	"math"

	"helmcue/internal/boat"
)

// Polar answers for one table. It is never changed after New and may be shared.
type Polar struct {
	windKn []float64
	deg    []float64
	rows   []curve // one for each wind
}

// curve is boat speed over the table's angles in one wind: values and slopes at
// the knots of a monotone cubic.
type curve struct{ kn, slope []float64 }

// deadShare is the share of a table's lowest angle below which she is taken not
// to sail, where the table does not say (common practice, no source).
const deadShare = 0.7

// New checks the table, copies it and prepares the answers. Its errors say which
// value is wrong and what was expected.
func New(t boat.PolarTable) (*Polar, error) {
	if err := check(t); err != nil {
		return nil, err
	}
	p := &Polar{windKn: append([]float64(nil), t.TWSKn...), deg: append([]float64(nil), t.TWADeg...)}
	for _, row := range t.SpeedKn {
		kn := append([]float64(nil), row...)
		p.rows = append(p.rows, curve{kn: kn, slope: slopes(p.deg, kn)})
	}
	return p, nil
}

// Speed returns the boat speed in knots in a true wind of twsKn knots at twaDeg
// off it, either side, 0 to 180. Over the angle it is a monotone cubic through
// the table, over the wind it is straight. Below the lowest wind it goes straight
// to 0 at no wind, beyond the highest it stays; below the lowest angle it falls
// straight to 0 at 0.7 of that angle, beyond the widest it stays. NaN gives NaN.
func (p *Polar) Speed(twsKn, twaDeg float64) float64 {
	a := math.Abs(twaDeg)
	if a > 180 {
		a = 360 - a
	}
	if math.IsNaN(twsKn) || !(a >= 0) {
		return math.NaN()
	}
	i, share := p.place(twsKn)
	k, fall := p.knot(a)
	low := 0.0
	if i >= 0 {
		low = p.rows[i].at(p.deg, k, a)
	}
	if share == 0 {
		return low * fall
	}
	high := p.rows[i+1].at(p.deg, k, a)
	return (low + float64(share*(high-low))) * fall
}

// place returns the row below the wind, -1 standing for no wind and no speed, and
// how far the wind is towards the next row, 0 to 1.
func (p *Polar) place(twsKn float64) (int, float64) {
	last := len(p.windKn) - 1
	switch {
	case !(twsKn > 0):
		return -1, 0
	case twsKn >= p.windKn[last]:
		return last, 0
	case twsKn < p.windKn[0]:
		return -1, twsKn / p.windKn[0]
	}
	i := below(p.windKn, twsKn)
	return i, (twsKn - p.windKn[i]) / (p.windKn[i+1] - p.windKn[i])
}

// knot returns the knot below the angle, and what is left of the speed below the
// table's first angle, 0 to 1.
func (p *Polar) knot(a float64) (k int, fall float64) {
	first := p.deg[0]
	if a >= first {
		return below(p.deg, a), 1
	}
	dead := deadShare * first
	return 0, math.Max(0, (a-dead)/(first-dead))
}

// below returns the last index but one, or less, whose value is at most v.
func below(xs []float64, v float64) int {
	i := 0
	for i+2 < len(xs) && xs[i+1] <= v {
		i++
	}
	return i
}

// at evaluates the cubic between knots k and k+1, held at its ends.
func (c curve) at(x []float64, k int, a float64) float64 {
	if len(x) == 1 {
		return c.kn[0]
	}
	h := x[k+1] - x[k]
	s := math.Min(1, math.Max(0, (a-x[k])/h))
	r := 1 - s
	v := float64(c.kn[k]*r*r*(1+float64(2*s))) + float64(c.kn[k+1]*s*s*(1+float64(2*r)))
	v += float64(h*s*r*r*c.slope[k]) - float64(h*s*s*r*c.slope[k+1])
	return math.Max(0, v)
}
