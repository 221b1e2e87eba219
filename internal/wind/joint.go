package wind

import (
	"math"

	"helmcue/internal/geo"
)

// joint is the probability of every direction of the wind together with how the
// boat is sailed: a hidden Markov model on a grid, exact to its bins. Cell
// (lean, close, kind) holds one grid over directions; all of them sum to 1. Facts
// about the direction alone multiply every cell; time and turns move between them.
type joint struct {
	levels
	on   bool
	cell [cells]grid
	rest rests
}

func at(lean, near, kind int) int { return (lean*closes+near)*kinds + kind }

// start spreads what is believed of the direction over the cells.
func (j *joint) start(dir *grid) {
	j.levels = newLevels()
	j.on = true
	j.rest.start(dir)
	for l := range leans {
		for c := range closes {
			weight := j.leanPrior[l] * j.closePrior[c]
			for k := range kinds {
				part := weight * firstFree
				switch {
				case k == motor:
					part = weight * firstMotor
				case k < helms:
					part = weight * firstBeat * j.helmPrior[k]
				case k < free:
					part = weight * firstRun / runs
				}
				g := &j.cell[at(l, c, k)]
				for i, p := range dir.p {
					g.p[i] = part * p
				}
			}
		}
	}
}

// into writes what the cells say of the direction alone, scaled to a sum of 1.
func (j *joint) into(dir *grid) {
	var sum grid
	total := 0.0
	for c := range j.cell {
		for i, p := range j.cell[c].p {
			sum.p[i] += p
		}
	}
	for _, p := range sum.p {
		total += p
	}
	if !(total > 1e-200) || math.IsInf(total, 0) {
		j.on = false // no cell can be; the direction stays and the cells begin anew
		return
	}
	for i := range sum.p {
		dir.p[i] = sum.p[i] / total
	}
	for c := range j.cell {
		for i := range j.cell[c].p {
			j.cell[c].p[i] /= total
		}
	}
}

// weigh takes a fact of how she sails: how likely it is for each direction of the
// wind, and where an engine drives her.
func (j *joint) weigh(likely func(dirDeg float64) float64, engine float64) {
	var v [bins]float64
	for i := range v {
		v[i] = likely(float64(i) * binDeg)
	}
	for c := range j.cell {
		for i := range j.cell[c].p {
			if c%kinds == motor {
				j.cell[c].p[i] *= engine
			} else {
				j.cell[c].p[i] *= v[i]
			}
		}
	}
}

// follow brings the cells to what the direction alone has become.
func (j *joint) follow(before, after *grid) {
	var scale grid
	for i := range scale.p {
		if before.p[i] > 0 {
			scale.p[i] = after.p[i] / before.p[i]
		}
	}
	for c := range j.cell {
		for i := range j.cell[c].p {
			j.cell[c].p[i] *= scale.p[i]
		}
	}
}

// How the wind's direction changes while she sails (common practice, no source): it
// swings, more so in light air; now and then by more; it may be anywhere.
const (
	heavyDeg     = 14.0
	slowClose    = 0.004 // in a quarter of a minute to each neighbouring level
	slowLean     = 0.002
	anywherePart = 0.0001
)

// spread lets the wind change for some seconds, swing times as much as usual.
func (j *joint) spread(seconds, swing float64) {
	share := seconds / blockS
	deg2S, heavyPart := j.rest.now()
	variance := deg2S * seconds * swing / (binDeg * binDeg)
	passes := int(math.Ceil(variance / 0.4))
	heavy := 1 - math.Pow(1-heavyPart, share*swing)
	for c := range j.cell {
		g := &j.cell[c]
		for range passes {
			g.pass(variance / float64(passes) / 2)
		}
		g.tails(heavy)
	}
	j.slow(share)
	j.rest.spread(seconds, swing)
	anywhere := math.Min(1, anywherePart*share)
	for c := range j.cell {
		g := &j.cell[c]
		sum := 0.0
		for _, p := range g.p {
			sum += p
		}
		for i := range g.p {
			g.p[i] = float64(g.p[i]*(1-anywhere)) + float64(anywhere*sum)/bins
		}
	}
}

// tails moves a share of the mass by a two-sided exponential of heavyDeg.
func (g *grid) tails(share float64) {
	keep := math.Exp(-binDeg / heavyDeg)
	var out [bins]float64
	up, down := 0.0, 0.0
	for i := -bins; i < bins; i++ { // once round to fill the memory
		k := wrap(i)
		up = float64(up*keep) + g.p[k]
		m := bins - 1 - k
		if i >= 0 {
			out[k] += up
			out[m] += float64(down * keep)
		}
		down = float64(down*keep) + g.p[m]
	}
	norm := (1 - keep) / (1 + keep) // its own place is in up alone
	for i := range g.p {
		g.p[i] = float64(g.p[i]*(1-share)) + float64(share*norm*out[i])
	}
}

// slow lets what stays for a session change a little.
func (j *joint) slow(share float64) {
	a, b := math.Min(0.2, slowClose*share), math.Min(0.2, slowLean*share)
	for l := range leans {
		for k := range kinds {
			for c := 1; c < closes; c++ {
				mix(&j.cell[at(l, c-1, k)], &j.cell[at(l, c, k)], a)
			}
		}
	}
	for c := range closes {
		for k := range kinds {
			for l := 1; l < leans; l++ {
				mix(&j.cell[at(l-1, c, k)], &j.cell[at(l, c, k)], b)
			}
		}
	}
}

func mix(a, b *grid, share float64) {
	for i := range a.p {
		d := share * (b.p[i] - a.p[i])
		a.p[i] += d
		b.p[i] -= d
	}
}

// nearAngle is the tabulated angle off the wind next to a heading in bin i.
func nearAngle(hdg float64, i int) int {
	return int(math.Round(math.Abs(geo.Diff(hdg, float64(i)*binDeg)) / angleDeg))
}
