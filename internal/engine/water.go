package engine

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/cue"
	"helmcue/internal/geo"
	"helmcue/internal/water"
)

const (
	lookS      = 120.0 // so far along her track
	tackFreeS  = 75.0  // so long the other tack must be free
	tackPriorS = 9.0   // for a tack of a boat of DefaultLengthM, common practice, no source
	tackKeep   = 0.7   // of what was believed, when another tack is seen
	nearM      = 400.0 // within which the shore is looked for
	mastPart   = 2.0   // of her length, under a bridge: more than any small boat's mast
	shoreAccM  = 5.0   // how far off a position is at least
	slowestKn  = 0.5   // below it she goes nowhere that could be foretold
)

// lake is the chart she sails on and what is seen on it, once a second.
type lake struct {
	chart *water.Chart
	asked boat.Time
	last  cue.Water
	tackS float64

	lulls  []boat.Lull   // where other boats lost way, oldest first
	sailed *water.Sailed // by her this session, and before as the chart says; nil before the first place
	was    geo.Position  // where she was a second ago

	ramp   geo.Position // as the chart gives them, for the exercises
	rampOK bool
	buoys  []geo.Position
}

// set makes a chart hold, nil for none. One that cannot be used is told of.
func (l *lake) set(s boat.Settings) error {
	l.asked, l.chart = 0, nil
	l.ramp, l.rampOK, l.buoys = geo.Position{}, false, nil
	if l.tackS == 0 {
		l.tackS = tackPriorS * s.LengthM / boat.DefaultLengthM
	}
	if s.Water == nil {
		return nil
	}
	for _, m := range s.Water.Marks {
		at := geo.Position{LonDeg: m.At[0], LatDeg: m.At[1]}
		switch m.Kind {
		case boat.Ramp:
			l.ramp, l.rampOK = at, true
		case boat.Buoy:
			l.buoys = append(l.buoys, at)
		}
	}
	for _, p := range s.Water.Sailed {
		l.memory(geo.Position{LonDeg: p[0], LatDeg: p[1]}).Keep(p)
	}
	if s.Water.Draft {
		return nil
	}
	c, err := water.New(*s.Water, mastPart*s.LengthM)
	l.chart = c
	return err
}

// memory returns what was sailed, made round the first place.
func (l *lake) memory(p geo.Position) *water.Sailed {
	if l.sailed == nil && p.Valid() {
		l.sailed, l.was = water.NewSailed(p), p
	}
	return l.sailed
}

// sail remembers where she sails. Only a boat under way tells that there is water.
func (l *lake) sail(sit cue.Situation) {
	s := sit.State
	if sit.Mode.Sailing() && s.SOGKn.Or(0) >= slowestKn {
		l.memory(s.Pos).Add(l.was, s.Pos, s.PosAccM.Or(0))
	}
	l.was = s.Pos
}

// waters looks at the water about her.
func (e *Engine) waters(sit cue.Situation) cue.Water {
	l := &e.lake
	l.learn(sit.Finished)
	if l.asked != 0 && sit.Now-l.asked < secondMS {
		return l.last
	}
	l.asked, l.last = sit.Now, cue.Water{TackS: l.tackS}
	if !sit.State.PosOK {
		return l.last
	}
	l.sail(sit)
	ramp, hasRamp := geo.Position{}, false
	if l.chart != nil {
		ramp, hasRamp = l.chart.Ramp(sit.State.Pos)
		switch pos := sit.State.Pos; {
		case !l.chart.Has(pos):
			e.noteOnce(sit.Now, "off_chart", "she is off the chart: nothing is known of the water here, and silence is no all-clear")
		case !l.chart.Afloat(pos): // the chart or the position is wrong, and neither is to be relied on here
			e.noteOnce(sit.Now, "chart_ashore", "the chart shows no water where she is: it is not relied on here, and silence is no all-clear")
		default:
			l.last.Charted = true
			l.shore(sit)
			l.lee(sit)
		}
	}
	wayS := 0.0
	if hasRamp {
		wayS = l.home(sit, ramp)
	}
	l.light(sit, wayS)
	return l.last
}

// learn takes the time of finished tacks in.
func (l *lake) learn(finished []boat.Manoeuvre) {
	for _, m := range finished {
		if m.Kind != "tack" || m.Settled == nil {
			continue
		}
		s := math.Min(30, math.Max(4, m.Settled.Seconds(m.Start)))
		l.tackS = float64(tackKeep*l.tackS) + float64((1-tackKeep)*s)
	}
}

// course returns where she goes and how fast, where that means anything.
func course(s boat.State) (deg, kn float64, ok bool) {
	deg = s.COGDeg.Or(s.HeadingDeg.Or(math.NaN()))
	kn = s.SOGKn.Or(s.SpeedKn.Or(0))
	return deg, kn, !math.IsNaN(deg) && kn >= slowestKn
}

func (l *lake) shore(sit cue.Situation) {
	pos, acc := sit.State.Pos, math.Min(30, math.Max(shoreAccM, sit.State.PosAccM.Or(shoreAccM)))
	if d := l.chart.ClearM(pos, nearM); !math.IsInf(d, 1) {
		l.last.NearM = boat.Some(d)
	}
	deg, kn, ok := course(sit.State)
	chart := l.chart
	l.last.ShoreS = func(trueDeg float64) boat.Reading {
		ms := math.Max(kn, slowestKn) * geo.KnotMS
		d := chart.ShoreM(pos, trueDeg, float64(ms*lookS)+acc)
		if math.IsInf(d, 1) {
			return boat.Reading{}
		}
		return boat.Some(math.Max(0, d-acc) / ms)
	}
	if ok {
		l.last.AheadS = l.last.ShoreS(deg)
	}
}

func (l *lake) lee(sit cue.Situation) {
	deg, kn, ok := course(sit.State)
	if !ok || !sit.Wind.Known || !sit.Wind.DirDeg.OK || !sit.Mode.Sailing() {
		return
	}
	w := water.Wind{FromDeg: sit.Wind.DirDeg.Val, SDDeg: sit.Wind.SDDeg}
	here := l.chart.Lee(sit.State.Pos, w)
	l.last.LeeHere, l.last.HereBy = here.Dead, here.Behind
	run := l.chart.Ahead(water.Course{From: sit.State.Pos, Deg: deg, Kn: kn, AccM: shoreAccM, Wind: w, S: lookS})
	l.last.LeeS, l.last.LeeP, l.last.LeeDeep, l.last.LeeBy = run.EntryS, run.Dead, run.Deep, run.Behind
	l.last.EdgeS, l.last.LeeOuter = run.EdgeS, run.Outer
	l.last.LeeSeen = run.EdgeS.OK && l.seen(sit.Now, run.Behind, w)
	if here.Dead > 0.5 {
		l.last.LeeS, l.last.EdgeS = boat.Reading{}, boat.Reading{} // she is in it: too late for a word of it
	}
	if !sit.TWADeg.OK || !sit.Target.OK {
		return
	}
	on := float64(kn * geo.KnotMS * l.tackS)
	l.last.TackFree = l.chart.Free(water.Course{
		From: geo.Destination(sit.State.Pos, deg, on), Kn: math.Max(kn, sit.Target.BeatKn), AccM: shoreAccM, Wind: w, S: tackFreeS, Sailed: l.sailed,
		Deg: geo.Wrap360(sit.Wind.DirDeg.Val + math.Copysign(sit.Target.BeatDeg, sit.TWADeg.Val)),
	})
}

// What another boat's lull is worth. Common practice, no source.
const (
	lullS  = 600.0 // so long it tells of the wind there
	lulls  = 30    // so many are kept
	sameM  = 150.0 // what takes the wind of two places is one, where no further apart
	inEdge = 0.5   // she lay in the lee more likely than not
)

// lull remembers where another boat lost way.
func (l *lake) lull(t boat.Time, b boat.Lull) {
	if t.Seconds(b.T) > lullS || b.T.Seconds(t) > lullS {
		return
	}
	if len(l.lulls) == lulls {
		l.lulls = l.lulls[1:]
	}
	l.lulls = append(l.lulls, b)
}

// seen says whether another boat has lost way of late in the lee of the same place.
func (l *lake) seen(t boat.Time, behind geo.Position, w water.Wind) bool {
	for _, b := range l.lulls {
		if t.Seconds(b.T) > lullS {
			continue
		}
		there := l.chart.Lee(geo.Position{LonDeg: b.At[0], LatDeg: b.At[1]}, w)
		if there.Outer > inEdge && geo.Distance(there.Behind, behind) <= sameM {
			return true
		}
	}
	return false
}

// home looks for the way to the ramp and returns how long it takes, seconds.
func (l *lake) home(sit cue.Situation, ramp geo.Position) float64 {
	s := sit.State
	way := water.Reach(water.Leg{From: s.Pos, To: ramp, Wind: sit.Wind, Target: sit.Target, Kn: s.SOGKn, COGDeg: s.COGDeg,
		Speed: func(float64) float64 { return math.Max(1, sit.Target.BeatKn) }})
	l.last.RampM, l.last.VMCKn = way.DistM, way.VMCKn
	if way.DistM > 0 {
		l.last.Ramp = boat.Some(way.BearingDeg)
	}
	return way.TimeS.Or(way.DistM / (2 * geo.KnotMS)) // two knots, where nothing is known
}

func (l *lake) light(sit cue.Situation, wayS float64) {
	day := water.SunOn(sit.State.Pos, sit.Now)
	leave, ok := day.Leave(wayS)
	if !ok {
		return
	}
	l.last.SunsetS, l.last.LeaveS = boat.Some(day.Set.Seconds(sit.Now)), boat.Some(leave.Seconds(sit.Now))
	l.last.LeaveText = "twenty minutes are left to put her away"
	if wayS > 0 {
		l.last.LeaveText = fmt.Sprintf("the way to the ramp takes some %.0f minutes, and twenty are left to put her away", math.Ceil(1.5*wayS/60))
	}
}

// roomLengths is how far off the shore must be for a turn or a mark to be asked for.
const roomLengths = 15.0

// room says whether the water about her is charted, and whether land is too near for
// a turn or a mark to be asked for.
func room(sit cue.Situation) (charted, near bool) {
	w := sit.Water
	return w.Charted, w.NearM.OK && w.NearM.Val < roomLengths*sit.Settings.LengthM || w.AheadS.OK && w.AheadS.Val < 60
}
