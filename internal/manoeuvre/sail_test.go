package manoeuvre_test

import (
	"math"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/manoeuvre"
	"helmcue/internal/sim"
)

const begin = boat.Time(1_800_000_000_000)

// event is a crossing of an eye as it truly was.
type event struct {
	kind string
	eye  boat.Time
}

// how says how a session is watched.
type how struct {
	name     string
	hz       int     // sights a second
	course   bool    // no compass
	windErr  float64 // the wind is believed so far clockwise of the truth, degrees
	jitter   float64 // sd of the bow's swinging in waves, beyond the simulator's own
	turnDeg  float64 // the whole world turned by this
	mirrored bool
}

// feed turns the simulator's samples into sights in the simplest way: the latest
// readings held, and a wind that is known with an error and follows the truth
// slowly. It stands in for the packages that do it in earnest.
type feed struct {
	how   how
	s     boat.State
	wind  boat.Wind
	track float64
	begun bool
}

func (f *feed) sample(t boat.Time, in boat.Sample, varDeg float64, truth sim.Truth) {
	if in.SOGKn.OK {
		f.s.SOGKn, f.s.COGDeg = in.SOGKn, boat.Reading{}
		if in.COGDeg.OK && in.SOGKn.Val > 0.7 {
			f.s.COGDeg = in.COGDeg
		}
	}
	swing := f.how.jitter * math.Sqrt2 * math.Sin(2*math.Pi*t.Seconds(begin)/3.3)
	f.s.T, f.s.SpeedKn = t, f.s.SOGKn
	f.s.HeadingDeg = boat.Some(geo.Wrap360(in.HeadingDeg.Val + varDeg + swing))
	f.s.HeadingBy, f.s.YawDps = "compass", in.YawDps
	if f.how.course {
		f.s.HeadingDeg, f.s.HeadingBy, f.s.YawDps = f.s.COGDeg, "course", boat.Reading{}
	}
	f.s.HeelDeg = in.HeelDeg
	believed := truth.TWDDeg + f.how.windErr
	if !f.begun {
		f.track, f.begun = believed, true
	}
	f.track = geo.Wrap360(f.track + geo.Diff(f.track, believed)*0.1/40)
	f.wind = boat.Wind{DirDeg: boat.Some(f.track), SDDeg: 5, Known: true, SpeedKn: boat.Some(truth.TWSKn)}
}

func (f *feed) sight(target boat.Target) manoeuvre.Sight {
	s, w := f.s, f.wind
	move := func(r boat.Reading) boat.Reading {
		if r.OK && f.how.mirrored {
			r.Val = -r.Val
		}
		if r.OK {
			r.Val = geo.Wrap360(r.Val + f.how.turnDeg)
		}
		return r
	}
	s.HeadingDeg, s.COGDeg, w.DirDeg = move(s.HeadingDeg), move(s.COGDeg), move(w.DirDeg)
	if f.how.mirrored {
		s.YawDps.Val, s.HeelDeg.Val = -s.YawDps.Val, -s.HeelDeg.Val
	}
	return manoeuvre.Sight{State: s, Wind: w, Target: target, LengthM: 4.2, TauS: 4}
}

// targetAt is a rough polar for tests, in the form the engine hands over.
func targetAt(kn, twa float64) boat.Target {
	full := 5.6 * (1 - math.Exp(-kn/7.5))
	speed := func(a float64) float64 {
		if a < 25 {
			return 0
		}
		return full * (1 - math.Exp(-(a-25)/16)) * (1 - 0.3*math.Pow(math.Max(0, a-105)/75, 2))
	}
	return boat.Target{OK: true, BeatDeg: 47, BeatKn: speed(47), BeatVMG: speed(47) * math.Cos(geo.Rad(47)),
		RunDeg: 155, RunKn: speed(155), RunVMG: -speed(155) * math.Cos(geo.Rad(155)), HereKn: speed(math.Abs(twa)), NoSailUp: 28}
}

// session is a scene of the simulator, watched.
type session struct {
	scene   string
	seed    uint64
	minutes int
	how     how
	each    func(sim.Truth, boat.Turn) // called for every sight, where given
}

func (c session) run(t *testing.T) (told []boat.Manoeuvre, truth []event) {
	t.Helper()
	s, err := sim.New(c.scene, c.seed, begin)
	if err != nil {
		t.Fatal(err)
	}
	f := &feed{how: c.how}
	w := manoeuvre.New()
	var e eyes
	every := 10 / c.how.hz
	for i := range c.minutes * 600 {
		ins := s.Step()
		now := s.Truth()
		f.sample(ins[0].T, *ins[0].Sample, s.VarDeg(), now)
		e.see(now, &truth)
		if i%every != 0 {
			continue
		}
		turn, some := w.Step(f.sight(targetAt(now.TWSKn, now.TWADeg)))
		told = append(told, some...)
		if c.each != nil {
			c.each(now, turn)
		}
	}
	// What crossed in the last minute may not be told yet.
	end := begin.After(float64(c.minutes)*60 - 62)
	for len(truth) > 0 && truth[len(truth)-1].eye > end {
		truth = truth[:len(truth)-1]
	}
	for len(told) > 0 && told[len(told)-1].Eye > end {
		told = told[:len(told)-1]
	}
	return told, truth
}

// eyes finds the true crossings: the last change of the wind's side between sailing
// on one tack (30 degrees off the wind or more) and sailing on the other, where the
// learner meant to turn or had been caught in irons.
type eyes struct {
	side  float64
	last  sim.Truth
	now   event
	meant bool
}

func (e *eyes) see(t sim.Truth, out *[]event) {
	if e.last.T != 0 && t.TWADeg*e.last.TWADeg < 0 {
		e.now = event{"tack", t.T}
		if math.Abs(t.TWADeg) > 90 {
			e.now.kind = "gybe"
		}
	}
	e.last = t
	switch t.Mode {
	case boat.Tacking, boat.Gybing, boat.Irons:
		e.meant = true
		return
	case boat.Waiting, boat.Motoring, boat.Stopped:
		return
	}
	a := math.Abs(t.TWADeg)
	if a < 30 || a > 170 {
		return
	}
	side := math.Copysign(1, t.TWADeg)
	if e.side != 0 && side != e.side && e.meant {
		*out = append(*out, e.now)
	}
	e.side, e.meant = side, false
}
