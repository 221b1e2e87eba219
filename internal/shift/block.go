package shift

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

const (
	blockS    = 5.0
	blockFill = 0.6  // of a block's seconds must show a heading
	swingMost = 14.0 // a bow that went farther within a block was steered there
)

// block is five seconds of sailing, meant. Directions are true.
type block struct {
	t       boat.Time // its end
	headDeg float64
	dirDeg  boat.Reading // of the wind, by an instrument
	lnKn    float64      // natural logarithm of her speed in knots
}

// gather means samples into blocks.
type gather struct {
	began, last boat.Time
	first       float64 // heading, which the sums are relative to
	firstDir    boat.Reading
	n, nKn, nW  int
	head, least float64
	most        float64
	dir, ln     float64
	filledS     float64
}

// add takes one sight and returns the block that it ends, if it ends one.
func (g *gather) add(s *Sight) (block, bool) {
	h, now := s.State.HeadingDeg, s.State.T
	if g.began == 0 || now.Seconds(g.last) > 2 || now < g.last {
		*g = gather{began: now, last: now}
	}
	if h.OK {
		if g.n == 0 {
			g.first = h.Val
		}
		off := geo.Diff(g.first, h.Val)
		g.head, g.n = g.head+off, g.n+1
		g.least, g.most = math.Min(g.least, off), math.Max(g.most, off)
		g.filledS += math.Min(1, now.Seconds(g.last))
	}
	if kn := s.State.SpeedKn; kn.OK && kn.Val > 0.3 {
		g.ln, g.nKn = g.ln+math.Log(kn.Val), g.nKn+1
	}
	if d := s.windDir(); d.OK {
		if g.nW == 0 {
			g.firstDir = d
		}
		g.dir, g.nW = g.dir+geo.Diff(g.firstDir.Val, d.Val), g.nW+1
	}
	g.last = now
	if now.Seconds(g.began) < blockS {
		return block{}, false
	}
	b, ok := g.close(now)
	*g = gather{began: now, last: now}
	return b, ok
}

func (g *gather) close(now boat.Time) (block, bool) {
	if g.n == 0 || g.nKn == 0 || g.filledS < blockFill*blockS || g.most-g.least > swingMost {
		return block{}, false
	}
	b := block{t: now, headDeg: geo.Wrap360(g.first + g.head/float64(g.n)), lnKn: g.ln / float64(g.nKn)}
	if g.nW > 0 {
		b.dirDeg = boat.Some(geo.Wrap360(g.firstDir.Val + g.dir/float64(g.nW)))
	}
	return b, true
}
