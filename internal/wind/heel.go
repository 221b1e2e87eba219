package wind

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Heel (physics: a sail pushes her over to leeward). What the phone shows has its
// mount's tilt in it, the same all day; what she heels by sail is some degrees, and
// next to nothing before the wind (common practice, no source).
const (
	tiltSD     = 4.0  // before anything told it
	uprightSD  = 2.5  // after she lay head to wind, upright
	mostTilt   = 12.0 // more is no mount but a boat that heels
	tiltPairSD = 3.0  // of the mean of the heel on two tacks
	heelMeanD  = 7.0
	leastHeel  = 4.0
	heelAstray = 0.05 // she heels to windward: crew, waves, a phone that slid
)

// tilt is what the phone shows when she is upright.
type tilt struct{ deg, variance float64 }

func (t tilt) spread() float64 {
	if t.variance == 0 {
		return tiltSD * tiltSD
	}
	return t.variance
}

func (t *tilt) level(deg, sd float64) {
	v := t.spread()
	gain := v / (v + float64(sd*sd))
	t.deg += float64(gain * (deg - t.deg))
	t.variance = v * (1 - gain)
}

// heels takes the side that the heel shows, once a leg, and says whether it did.
// Small heel says nothing.
func (e *Estimator) heels(c course) bool {
	m := &e.motion
	h := c.heel.Val - m.tilt.deg
	sd := math.Hypot(math.Sqrt(m.tilt.spread()), 1.5)
	if math.Abs(h) < leastHeel || math.Abs(h) > 45 {
		return false
	}
	// How likely such a heel is when it is the sail's, and when it is none of hers.
	lee := leeward(math.Abs(h), sd)
	not := leeward(-math.Abs(h), sd)
	odds := not/lee + heelAstray
	e.moved(c.t, c.byCOG, func(dir float64) float64 {
		off := geo.Diff(c.hdg, dir)
		// Fades before and into the wind, where there is no side to heel to.
		share := math.Abs(math.Sin(geo.Rad(off)))
		if h*off < 0 { // starboard down, the wind from port
			return 1
		}
		return 1 - float64(share*(1-math.Min(1, odds)))
	})
	if odds < 0.15 {
		m.proved = true
	}
	return true
}

// leeward is the density of showing h when she heels to leeward by an exponential
// of mean heelMeanD and the level is off by sd: their convolution, in closed form.
func leeward(h, sd float64) float64 {
	z := (h - sd*sd/heelMeanD) / (sd * math.Sqrt2)
	return math.Exp(float64(sd*sd/heelMeanD/heelMeanD/2)-h/heelMeanD) * math.Erfc(-z) / 2 / heelMeanD
}

// lean2 is how likely the change of heel from one leg to the next is, for the angles
// to the wind on both: to leeward on either, so that a mount's tilt falls out and the
// change alone tells which side was which.
func lean2(was, is boat.Reading) func(wasOff, isOff float64) float64 {
	if !was.OK || !is.OK {
		return func(_, _ float64) float64 { return 1 }
	}
	change := is.Val - was.Val
	return func(wasOff, isOff float64) float64 {
		sum := 0.0
		for _, full := range [3]float64{1.5, 6, 13} {
			d := full * (math.Sin(geo.Rad(wasOff)) - math.Sin(geo.Rad(isOff)))
			sd := 3 + float64(0.3*math.Abs(d))
			sum += bell(change, d, sd) / sd
		}
		return sum + heelAstray
	}
}

// lean is her heel in the mean of some ten seconds.
type lean struct {
	at  boat.Time
	deg float64
}

const (
	leanTauS = 10.0
	muchDeg  = 4.0
)

func (l *lean) see(s boat.State, t tilt) {
	dt := math.Min(5, math.Max(0, s.T.Seconds(l.at)))
	l.at = s.T
	l.deg += float64((s.HeelDeg.Or(t.deg) - t.deg - l.deg) * (1 - math.Exp(-dt/leanTauS)))
}

func (l *lean) much() bool { return math.Abs(l.deg) > muchDeg }
