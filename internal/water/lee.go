package water

import (
	"math"

	"helmcue/internal/geo"
)

// Wind is a wind for the questions about shelter: where it comes from, degrees true,
// and how sure that is, one standard deviation.
type Wind struct {
	FromDeg float64
	SDDeg   float64
}

// Lee is what land does to the wind at one place.
type Lee struct {
	Band      Band         // with the wind just as believed
	Dead      float64      // probability of dead air, over the doubt of wind and heights, 0..1
	Deep      float64      // that she is within eight heights
	Outer     float64      // that she is within twelve and a half, where dead air may begin
	Disturbed float64      // that she is within twenty
	Open      float64      // share of the open wind that the model leaves at a sail, 0..1: to order places by
	NoHeight  float64      // probability that near land of unknown height stands upwind
	Heights   float64      // distance to the obstacle upwind in its heights; +Inf for none
	Behind    geo.Position // the place on the shore that takes the wind; means nothing where Dead is 0
}

const (
	meanderDeg = 5.0 // no wind is steadier over the minutes in which air is dead or not
	mostSDDeg  = 60.0
	rays       = 9
)

// spread returns directions that stand for the wind with equal weight, the middle
// one first: the middles of nine parts of a normal distribution.
func (w Wind) spread() [rays]float64 {
	sd := math.Min(mostSDDeg, math.Hypot(w.SDDeg, meanderDeg))
	if math.IsNaN(sd) {
		sd = mostSDDeg
	}
	var out [rays]float64
	for i, z := range [rays]float64{0, -0.28221615, 0.28221615, -0.58945580, 0.58945580, -0.96742157, 0.96742157, -1.59321882, 1.59321882} {
		out[i] = w.FromDeg + float64(z*sd)
	}
	return out
}

// Lee returns what land does to the wind at p. On land and off the chart the band
// says so and the rest means nothing.
func (c *Chart) Lee(p geo.Position, w Wind) Lee {
	switch {
	case !c.Has(p):
		return Lee{Band: OffChart, Open: 1, Heights: math.Inf(1)}
	case !c.afloat(c.at(p)):
		return Lee{Band: Ashore, Heights: math.Inf(1)}
	}
	return c.lee(c.at(p), w)
}

func (c *Chart) lee(p point, w Wind) Lee {
	var sum gathered
	out := Lee{}
	nearest := math.Inf(1)
	for i, from := range w.spread() {
		sin, cos := math.Sincos(geo.Rad(from))
		one := c.upwind(p, point{sin, cos})
		sum.add(one, c)
		if i == 0 {
			out.Band, out.Heights = one.band(c)
		}
		if d, ok := one.worst(c); ok && d < nearest {
			nearest = d
			out.Behind = c.frame.From(p.x+float64(sin*d), p.y+float64(cos*d))
		}
	}
	sum.into(&out)
	return out
}

// gathered sums what was met in each direction. A map asks neither how deep in a lee
// a place lies nor where the lee may begin, and is plain: it leaves both out.
type gathered struct {
	dead, deep, outer, disturbed, open, noHeight float64
	plain                                        bool
}

func (g *gathered) add(m met, c *Chart) {
	open, dead, deep, outer, disturbed := 1.0, 1.0, 1.0, 1.0, 1.0
	for _, h := range m.hits[:m.n] {
		o := &c.kinds[h.obst]
		i := o.step(h.distM)
		if i < 0 {
			continue
		}
		open *= float64(o.open[i])
		dead *= float64(1 - o.dead[i])
		disturbed *= float64(1 - o.disturbed[i])
		if !g.plain {
			deep *= float64(1 - o.deep[i])
			outer *= float64(1 - o.outer[i])
		}
	}
	g.open += open
	g.dead += 1 - dead
	g.deep += 1 - deep
	g.outer += 1 - outer
	g.disturbed += 1 - disturbed
	if m.noHeightM <= noHeightM {
		g.noHeight++
	}
}

func (g *gathered) into(l *Lee) {
	l.Dead, l.Deep, l.Outer, l.Disturbed = g.dead/rays, g.deep/rays, g.outer/rays, g.disturbed/rays
	l.Open, l.NoHeight = g.open/rays, g.noHeight/rays
}

// met is what stands upwind in one direction: for each area its nearest shore.
type met struct {
	hits      [12]metAt
	n         int
	noHeightM float64 // nearest land of unknown height
}

type metAt struct {
	area, obst int32
	distM      float64
}

// upwind looks along a direction from p.
func (c *Chart) upwind(p, dir point) met {
	m := met{noHeightM: math.Inf(1)}
	reach := math.Max(noHeightM, farH*c.tallM)
	c.grid.ray(p, dir, reach, func(i int32, d float64) bool {
		m.take(c, c.edges[i].area, d)
		return false
	})
	return m
}

func (m *met) take(c *Chart, of int32, d float64) {
	if of < 0 {
		return
	}
	obst := c.areas[of].obst
	if obst == -2 {
		m.noHeightM = math.Min(m.noHeightM, d)
	}
	if obst < 0 || d > c.kinds[obst].reachM() {
		return
	}
	for j := range m.hits[:m.n] {
		if m.hits[j].area == of {
			m.hits[j].distM = math.Min(m.hits[j].distM, d)
			return
		}
	}
	if m.n < len(m.hits) {
		m.hits[m.n] = metAt{of, obst, d}
		m.n++
	}
}

// band returns the worst band of what was met, and the least distance in heights.
func (m *met) band(c *Chart) (Band, float64) {
	worst, least := Clear, math.Inf(1)
	if m.noHeightM <= noHeightM {
		worst = NoHeight
	}
	for _, h := range m.hits[:m.n] {
		o := &c.kinds[h.obst]
		x := h.distM / o.heightM
		least = math.Min(least, x)
		if b := BandAt(x, o.porosity); worst == NoHeight && b >= Dead || worst != NoHeight && b > worst {
			worst = b
		}
	}
	return worst, least
}

// worst returns the distance to the obstacle that is nearest in its own heights and
// may make the air dead.
func (m *met) worst(c *Chart) (float64, bool) {
	least, dist := disturbedH, 0.0
	for _, h := range m.hits[:m.n] {
		if x := h.distM / c.kinds[h.obst].heightM; x < least {
			least, dist = x, h.distM
		}
	}
	return dist, least < disturbedH
}
