package compass

import (
	"math"

	"helmcue/internal/boat"
)

// How leeway goes with speed. A board lifts by the square of the flow, so the same
// side force asks for an angle that grows as she slows (foil theory); on a beat the
// force falls with her speed too, so that less than the square is left. A stalled
// board lifts no more and slides without a law. Exponent, shares and scatter are
// common practice, no source.
const (
	slidePower = 1.3
	slideLeast = 0.5
	slideMost  = 3.0
	slideShare = 0.3 // standard deviation of one fact's leeway, as a share: gusts, heel, trim
	stallShare = 0.6 // of her usual speed on that point of sailing, below which nothing is learned
	usualTauS  = 600.0
)

// usual is her speed of the last ten minutes on each point of sailing, knots, 0
// where she was not seen on it: before the wind, across it, close-hauled.
type usual struct {
	speed [3]float64
	at    [3]boat.Time
}

// point is the point of sailing by how much of a beat's leeway its push has.
func (f Fact) point() int {
	switch p := math.Abs(f.Push.Or(0)); {
	case p > 0.75:
		return 2
	case p > 0.3:
		return 1
	}
	return 0
}

// waterKn is her speed as the board feels it.
func (f Fact) waterKn() float64 {
	if f.WaterKn.OK && f.WaterKn.Val > 0.5 {
		return f.WaterKn.Val
	}
	return f.SOGKn
}

// stalls says whether she is so slow for this point of sailing that her board may
// have stalled; a slow spell that lasts becomes the usual. No boat is slower across
// the wind than close-hauled.
func (u *usual) stalls(f Fact) bool {
	i, kn := f.point(), f.waterKn()
	most := u.speed[i]
	if i == 1 {
		most = math.Max(most, u.speed[2])
	}
	if u.speed[i] == 0 {
		u.speed[i], u.at[i] = kn, f.T
	}
	share := 1 - math.Exp(-math.Max(0, math.Min(60, f.T.Seconds(u.at[i])))/usualTauS)
	u.speed[i] += float64((kn - u.speed[i]) * share)
	u.at[i] = f.T
	return f.Push.OK && kn < stallShare*most
}

// kn is her usual speed close-hauled, or on the point next to it that she was seen
// on; instead where she was seen on none.
func (u *usual) kn(instead float64) float64 {
	for i := len(u.speed) - 1; i >= 0; i-- {
		if u.speed[i] > 0 {
			return u.speed[i]
		}
	}
	return instead
}

// slide is how many times the leeway of her usual speed she makes at this one.
func (u *usual) slide(f Fact) float64 {
	kn := f.waterKn()
	return math.Min(slideMost, math.Max(slideLeast, math.Pow(u.kn(kn)/kn, slidePower)))
}

// sliding is the variance, degrees squared, of what one fact's leeway has beside the
// law.
func (l *Learner) sliding(f Fact) float64 {
	deg := slideShare * f.Push.Or(0) * l.usual.slide(f) * math.Max(leewayDeg, l.belief.mean[termLeeway])
	return float64(deg * deg)
}
