package wind

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// When the direction counts as known, by the width of its 90 % interval.
const (
	knownDeg   = 60.0 // it becomes known below this
	unknownDeg = 75.0 // and unknown above this
	nothingDeg = 250.0
)

// spreadEveryS is how often the grid is spread where no fact asks for it.
const spreadEveryS = 5.0

// Where a fact came from, as boat.Wind names it.
const (
	byFix        = "fix"
	byInstrument = "instrument"
	byMotion     = "motion"
)

// Estimator is what is believed about the wind round one boat. Its time is that
// of its calls, and goes forward only.
type Estimator struct {
	dir      grid
	speed    strength
	window   window
	motion   motion
	joint    joint
	might    might
	begun    bool      // some direction was told
	now      boat.Time // until when the grid has been spread
	fact     boat.Time // last fact about direction
	by       string
	sysDeg   float64 // error of that source which more of its facts do not lessen
	sureFrom bool    // known, kept for its hysteresis
	had      bool    // another solution, likewise
	stale    bool    // told must be made anew
	told     belief
}

// New makes an estimator that knows nothing.
func New() *Estimator {
	e := new(Estimator)
	e.dir.clear()
	return e
}

// At returns what is believed at time t, which should not go back; an earlier
// time gets what was believed last. Directions and the interval are rounded to
// 0.1 degrees, speeds to 0.1 knots. Known is false before anything was said, when
// the 90 % interval has grown beyond 75 degrees (it is known again under 60), and
// while another direction is nearly as likely, which is then in OtherDeg. SDDeg is
// the interval's half over 1.645. Cheap: the grid is spread every five seconds, over
// which its deviation grows by hundredths of a degree.
func (e *Estimator) At(t boat.Time) boat.Wind {
	e.step(t, spreadEveryS)
	e.speed.step(t)
	var w boat.Wind
	if e.speed.ok {
		w.SpeedKn = boat.Some(e.speed.kn).Round(0.1)
		w.SpeedSD = tenth(math.Sqrt(e.speed.variance))
	}
	if !e.begun {
		return w
	}
	e.tell()
	lo, width := e.widened()
	if width > nothingDeg {
		return w
	}
	w.DirDeg = boat.Some(direction(e.told.dirDeg))
	w.LoDeg, w.HiDeg = direction(lo), direction(lo+width)
	w.SDDeg = tenth(width / 2 / sdOfWithin)
	w.Known = e.sureFrom
	if e.told.other {
		w.OtherDeg = boat.Some(direction(e.told.otherDeg))
	}
	w.AgeS = math.Max(0, t.Seconds(e.fact))
	w.By = e.by
	return w
}

// step spreads the grid until t when at least leastS seconds have gone by.
func (e *Estimator) step(t boat.Time, leastS float64) {
	if !e.begun || t <= e.now || t.Seconds(e.now) < leastS {
		return
	}
	seconds := t.Seconds(e.now)
	if e.joint.on && seconds < forgetS {
		if leastS > 0.1 && seconds < blockS {
			return
		}
		e.joint.spread(seconds, e.swing())
		e.joint.into(&e.dir)
	} else {
		e.joint.on = false
		e.dir.spread(seconds, e.swing())
	}
	e.now, e.stale = t, true
}

// swing is by how much the wind's direction wanders faster than in a breeze.
// Headings on a beat and instruments follow the wind of the minute, and in light air that swings widely
// (common practice, no source); what a person says is meant for longer.
func (e *Estimator) swing() float64 {
	const breezeKn, utmost = 8.0, 2.5
	if e.joint.on {
		kn, _ := e.might.kn()
		return math.Min(utmost, math.Max(1, breezeKn/math.Max(1, kn)))
	}
	if e.by != byInstrument || !e.speed.ok {
		return 1
	}
	return math.Min(utmost, math.Max(1, breezeKn/math.Max(1, e.speed.kn)))
}

// fact is one statement about the direction.
type fact struct {
	t      boat.Time
	by     string
	sysDeg float64
	doubt  float64 // share by which what was believed is doubted for its sake
	likely func(dirDeg float64) float64
}

func (e *Estimator) learn(f fact) {
	if !e.begun {
		e.begun, e.now, e.fact = true, f.t, f.t
	}
	e.step(f.t, 0.001)
	before := e.dir
	e.dir.doubt(f.doubt)
	e.dir.multiply(f.likely)
	if e.joint.on {
		e.joint.follow(&before, &e.dir)
	}
	e.by, e.sysDeg, e.stale = f.by, f.sysDeg, true
	e.motion.proved = e.motion.proved || f.by != byMotion
	if f.t > e.fact {
		e.fact = f.t
	}
}

// tell makes the belief anew where something changed, and decides whether the
// wind is known.
func (e *Estimator) tell() {
	if !e.stale {
		return
	}
	e.stale = false
	e.told = e.dir.belief(e.had)
	e.had = e.told.other
	_, width := e.widened()
	limit := knownDeg
	if e.sureFrom {
		limit = unknownDeg
	}
	e.sureFrom = !e.told.other && tenth(width) <= limit && e.motion.proved
}

// widened returns the interval with the source's own steady error in it: ten
// readings of one crooked vane are as crooked as one.
func (e *Estimator) widened() (loDeg, widthDeg float64) {
	half := e.told.widthDeg / 2
	more := math.Hypot(half, sdOfWithin*e.sysDeg) - half
	width := math.Min(360, e.told.widthDeg+float64(2*more))
	return geo.Wrap360(e.told.loDeg - (width-e.told.widthDeg)/2), width
}

func tenth(v float64) float64 { return math.Round(v*10) / 10 }

// direction rounds to a tenth within 0 to 360.
func direction(deg float64) float64 {
	if d := tenth(geo.Wrap360(deg)); d < 360 {
		return d
	}
	return 0
}
