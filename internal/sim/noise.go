package sim

import (
	"math"
	"math/rand/v2"
)

// noise is a random value that forgets itself over tauS and keeps within about
// two sd of zero (an Ornstein–Uhlenbeck process, stepped exactly).
type noise struct {
	sd, tauS float64
	val      float64
}

// settled is a noise that has been going for ever.
func settled(r *rand.Rand, sd, tauS float64) noise {
	return noise{sd: sd, tauS: tauS, val: sd * r.NormFloat64()}
}

func (n *noise) step(r *rand.Rand, dt float64) float64 {
	keep := math.Exp(-dt / n.tauS)
	n.val = float64(n.val*keep) + float64(n.sd*math.Sqrt(1-float64(keep*keep))*r.NormFloat64())
	return n.val
}

func between(r *rand.Rand, lo, hi float64) float64 { return lo + float64((hi-lo)*r.Float64()) }

func clamp(v, lo, hi float64) float64 { return math.Min(hi, math.Max(lo, v)) }
