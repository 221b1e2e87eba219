package compass

import (
	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// trail is what the compass showed in the last seconds, unwrapped so that it runs
// on through north.
type trail struct {
	ring [128]bow
	n    int // ever added
}

type bow struct {
	t   boat.Time
	deg float64
}

// trailMS is the least time between two entries: with it the trail holds the
// twelve seconds and more that are asked for.
const (
	trailMS   = 100
	trailGapS = 5.0 // across a longer silence nothing is interpolated
)

func (p *trail) last() bow { return p.ago(0) }

func (p *trail) ago(k int) bow { return p.ring[(p.n-1-k)%len(p.ring)] }

func (p *trail) len() int { return min(p.n, len(p.ring)) }

func (p *trail) add(t boat.Time, deg float64) {
	if p.n > 0 {
		last := p.last()
		if t-last.t < trailMS {
			return
		}
		deg = last.deg + geo.Diff(last.deg, deg)
	}
	p.ring[p.n%len(p.ring)] = bow{t, deg}
	p.n++
}

// at is what the compass showed at time t; false where it is not known.
func (p *trail) at(t boat.Time) (float64, bool) {
	var later bow
	for k := range p.len() {
		b := p.ago(k)
		switch {
		case b.t > t:
			later = b
			continue
		case b.t == t:
			return b.deg, true
		case k == 0:
			return b.deg, t.Seconds(b.t) < 1
		case later.t.Seconds(b.t) > trailGapS:
			return 0, false
		}
		share := t.Seconds(b.t) / later.t.Seconds(b.t)
		return b.deg + float64((later.deg-b.deg)*share), true
	}
	return 0, false
}
