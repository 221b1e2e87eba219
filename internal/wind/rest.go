package wind

import "math"

// How restlessly the wind swings differs from day to day by more than tenfold, and
// no one number serves both (common practice, no source, for the levels). So three
// are tried side by side on the direction alone: each spreads its own grid, takes the
// facts the cells took, and is believed by how well it foretold them. The cells
// spread by their mean.
const (
	restlessness = 4
	restNew      = 0.01 // a block: one day holds calm and shifty hours
)

func restLevels() [restlessness]float64 { return [restlessness]float64{0.025, 0.11, 0.4, 1.5} } // degrees squared a second

// heavyLevels are the parts that move by an exponential of heavyDeg in a quarter of a minute.
func heavyLevels() [restlessness]float64 { return [restlessness]float64{0.002, 0.005, 0.01, 0.01} }

type rests struct {
	dir    [restlessness]grid
	weight [restlessness]float64
}

func (r *rests) start(dir *grid) {
	for i := range r.dir {
		r.dir[i], r.weight[i] = *dir, 1.0/restlessness
	}
}

// now is what the cells spread by.
func (r *rests) now() (deg2S, heavy float64) {
	levels, parts := restLevels(), heavyLevels()
	for i, w := range r.weight {
		deg2S += float64(w * math.Log(levels[i]))
		heavy += float64(w * parts[i])
	}
	return math.Exp(deg2S), heavy
}

// spread lets each grid's wind change.
func (r *rests) spread(seconds, swing float64) {
	levels, parts := restLevels(), heavyLevels()
	share := seconds / blockS
	for i := range r.dir {
		variance := levels[i] * seconds * swing / (binDeg * binDeg)
		passes := int(math.Ceil(variance / 0.4))
		for range passes {
			r.dir[i].pass(variance / float64(passes) / 2)
		}
		r.dir[i].tails(1 - math.Pow(1-parts[i], share*swing))
		r.dir[i].doubt(math.Min(1, anywherePart*share))
	}
}

// take weighs the levels by what a block made of the direction.
func (r *rests) take(before, after *grid) {
	total := 0.0
	for k := range r.dir {
		g := &r.dir[k]
		sum := 0.0
		for i := range g.p {
			if before.p[i] > 0 {
				g.p[i] *= after.p[i] / before.p[i]
			}
			sum += g.p[i]
		}
		if !(sum > 1e-200) || math.IsInf(sum, 0) {
			g.p, sum = after.p, 1
		}
		for i := range g.p {
			g.p[i] /= sum
		}
		r.weight[k] *= sum
		total += r.weight[k]
	}
	for k := range r.weight {
		if !(total > 0) {
			r.weight[k], total = 1.0/restlessness, 1
		}
		r.weight[k] = float64((1-restNew)*r.weight[k]/total) + restNew/restlessness
	}
}
