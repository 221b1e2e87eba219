package wind

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// How instruments are listened to (common practice, no source). A vane at the
// masthead swings with the boat and ten readings a second share their errors, so
// a quarter of a minute makes one fact.
const (
	windowS    = 15.0
	readEveryS = 0.9
	gapS       = 12.0 // a hole longer than this begins the quarter minute anew
	leastReads = 2
	turnDps    = 8.0 // in a turn vane and compass lag each other
	ownSDDeg   = 4.0
	compassSys = 4.0 // steady: compass and leeway, and what computed the wind on board
	courseSys  = 9.0 // steady: leeway and current too, where the course stands for the heading
	vaneSys    = 2.0 // steady: the vane's mounting
	logSysKn   = 0.3 // steady: the log
	wildShare  = 0.05
	faintKn    = 1.5 // below this the vane shows nothing
	ownSDKn    = 1.0
)

// window gathers readings until they make a fact.
type window struct {
	start, last boat.Time
	reads       int
	sin, cos    float64
	dirs        int
	kn          float64
	speeds      int
	sysDeg      float64
}

// Instruments looks at what the boat's own wind instruments show in s; call it
// with each state. Apparent wind with boat speed is turned into true here; where
// that is missing, true wind as an instrument computed it is taken. Without a
// heading only the speed can be used (and the angle, see Angle). Every quarter of
// a minute of readings is one fact. Readings in a quick turn are passed over.
func (e *Estimator) Instruments(s boat.State) {
	w := &e.window
	if w.reads > 0 && s.T.Seconds(w.last) < readEveryS && s.T >= w.last {
		return
	}
	if s.YawDps.OK && math.Abs(s.YawDps.Val) > turnDps {
		return
	}
	r := read(s)
	if !r.dir.OK && !r.kn.OK {
		return
	}
	if w.reads > 0 && (s.T < w.last || s.T.Seconds(w.last) > gapS) {
		*w = window{}
	}
	w.add(s.T, r)
	if s.T.Seconds(w.start) >= windowS && w.reads >= leastReads {
		e.close(s.T)
	}
}

// reading is the true wind by instruments at one moment.
type reading struct {
	dir, kn boat.Reading
	sysDeg  float64
}

func read(s boat.State) reading {
	var r reading
	tws, twa, ok := fromApparent(s)
	angle := s.TWADeg
	r.kn = s.TWSKn
	if ok {
		r.kn, angle = boat.Some(tws), boat.Some(twa)
	}
	r.sysDeg = compassSys
	if s.HeadingBy == "course" {
		r.sysDeg = courseSys
	}
	if ok {
		r.sysDeg = math.Hypot(r.sysDeg, propagated(s, tws, twa))
	}
	switch {
	case angle.OK && s.HeadingDeg.OK:
		r.dir = boat.Some(geo.Wrap360(s.HeadingDeg.Val + angle.Val))
	case s.TWDDeg.OK:
		r.dir, r.sysDeg = boat.Some(geo.Wrap360(s.TWDDeg.Val)), compassSys
	}
	if r.kn.OK && !(r.kn.Val >= 0 && r.kn.Val <= mostKn) {
		return reading{}
	}
	if r.kn.OK && r.kn.Val < faintKn {
		r.dir = boat.Reading{}
	}
	return r
}

// propagated is what steady errors of vane and log do to the true direction,
// degrees: little in a breeze, much where the boat makes most of the wind she
// feels.
func propagated(s boat.State, twsKn, twaDeg float64) float64 {
	kn := math.Max(twsKn, faintKn)
	vane := vaneSys * s.AWSKn.Val / kn * math.Cos(geo.Rad(twaDeg-s.AWADeg.Val))
	log := geo.Deg(logSysKn / kn * math.Sin(geo.Rad(twaDeg)))
	return math.Min(60, math.Hypot(vane, log))
}

func (w *window) add(t boat.Time, r reading) {
	if w.reads == 0 {
		w.start = t
	}
	w.reads++
	w.last = t
	if r.dir.OK {
		sin, cos := math.Sincos(geo.Rad(r.dir.Val))
		w.sin += sin
		w.cos += cos
		w.dirs++
		w.sysDeg += r.sysDeg
	}
	if r.kn.OK {
		w.kn += r.kn.Val
		w.speeds++
	}
}

// close makes facts of the window and begins the next.
func (e *Estimator) close(t boat.Time) {
	w := e.window
	e.window = window{}
	if w.speeds > 0 {
		kn := w.kn / float64(w.speeds)
		e.speed.take(t, kn, ownSDKn)
		e.might.told(t, kn, ownSDKn)
	}
	if w.dirs < leastReads {
		return
	}
	r := math.Hypot(w.sin, w.cos) / float64(w.dirs)
	if r < 0.5 { // all round the compass: no direction
		return
	}
	scatter := geo.CircularSD(r)
	sd := math.Hypot(ownSDDeg, scatter/2)
	dir := geo.Wrap360(geo.Deg(math.Atan2(w.sin, w.cos)))
	e.learn(fact{t: t, by: byInstrument, sysDeg: w.sysDeg / float64(w.dirs), likely: near(dir, sd, wildShare)})
}
