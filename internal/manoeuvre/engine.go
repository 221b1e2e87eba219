package manoeuvre

import (
	"math"

	"helmcue/internal/boat"
)

// engine notices what no sail can do: a steady course close to the wind with way
// on, or more speed than the wind has. After that nothing is a manoeuvre for some minutes, or until she has gone
// for a while where a sail would take her.
type engine struct {
	sum    float64 // seconds of it, leaking
	sailed float64 // seconds since then on courses fit for sailing
	seen   boat.Time
	ever   bool
}

const (
	deadDeg  = 20.0 // closer to the true wind no boat keeps way on
	engineS  = 12.0
	engineOf = 600.0 // seconds for which it is remembered
	sailedS  = 60.0
)

func (e *engine) see(p *past, in Sight) {
	target := in.Target
	n := len(p.all)
	if n < 2 {
		return
	}
	m := p.all[n-1]
	dt := math.Min(5, m.t.Seconds(p.all[n-2].t))
	dead := deadDeg
	if target.OK && target.NoSailUp > 0 {
		dead = math.Min(28, math.Max(dead, target.NoSailUp-6))
	}
	if in.Wind.Known { // a doubtful wind makes a boat that points well look as if she motored
		dead -= math.Max(0, in.Wind.SDDeg-6)
	}
	least := 1.5
	if target.OK {
		least = math.Max(1, 0.35*target.BeatKn)
	}
	steady := math.Abs(m.off) < dead && math.Abs(p.rate(3)) < 2.5
	if m.knOK && m.kn > least && (steady || m.kn > float64(1.15*m.windKn)+0.5) {
		e.sum = math.Min(2*engineS, e.sum+dt)
		if e.sum >= engineS {
			e.seen, e.ever, e.sailed = m.t, true, 0
		}
	} else {
		e.sum = math.Max(0, e.sum-float64(0.25*dt))
	}
	if a := math.Abs(m.off); a > dead+8 && m.kn > least && m.kn < m.windKn {
		e.sailed += float64(dt * sailing(m.off, in.State.HeelDeg))
	}
	e.ever = e.ever && e.sailed < sailedS
}

// sailing is how much a course, off degrees from the wind, speaks for sails: fully
// where she points as a boat on a beat does or heels to leeward, else little, since
// an engine goes there too.
func sailing(off float64, heel boat.Reading) float64 {
	beating := math.Abs(off) < 58
	heels := heel.OK && math.Abs(heel.Val) > 5 && heel.Val*off < 0
	if beating || heels {
		return 1
	}
	return 0.25
}

// drives says whether an engine drove her within the last minutes before t.
func (e *engine) drives(t boat.Time) bool { return e.ever && t.Seconds(e.seen) < engineOf }

// What sail and engine do to her speed head to wind (common practice, no source: a
// dinghy loses half her way in six seconds, a heavy boat a fifth).
const (
	pushedDeg  = 25.0
	pushedS    = 4.0
	pushedPart = 0.94
	gainedPart = 1.1
	denseDeg   = 15.0 // readings further apart say nothing about the speed between
)

// pushed says whether something drove her through the eye of the wind: she gained
// speed there, or took her time and hardly lost any.
func (p *past) pushed(o *open) bool {
	if o.kind != tack || !o.entry.OK {
		return false
	}
	at := o.eye.After(o.lagS)
	now := mean(p.between(at.After(-1), at.After(2)), speed)
	most := o.entry.Val // she may have been gathering way
	for _, m := range p.between(o.start.After(o.lagS-5), o.start.After(o.lagS)) {
		most = math.Max(most, m.kn)
	}
	if now.OK && now.Val > float64(gainedPart*most)+0.1 {
		return true
	}
	in, out, dense := p.through(o)
	if !dense || out.Seconds(in) < pushedS {
		return false
	}
	before := mean(p.between(in.After(o.lagS-0.7), in.After(o.lagS+0.7)), speed)
	after := mean(p.between(out.After(o.lagS-0.7), out.After(o.lagS+0.7)), speed)
	return before.OK && after.OK && after.Val >= pushedPart*before.Val
}

// through is when she came within pushedDeg of the wind and when she left it, and
// whether the readings between are close enough to tell.
func (p *past) through(o *open) (in, out boat.Time, dense bool) {
	i := p.from(o.eye)
	k := i
	for i > 0 && math.Abs(p.all[i-1].off) < pushedDeg {
		i--
	}
	for k < len(p.all)-1 && math.Abs(p.all[k].off) < pushedDeg {
		k++
	}
	i = max(i-1, 0)
	if k >= len(p.all) {
		return 0, 0, false
	}
	for j := i + 1; j <= k; j++ {
		if math.Abs(p.all[j].off-p.all[j-1].off) > denseDeg {
			return 0, 0, false
		}
	}
	return p.all[i].t, p.all[k].t, true
}
