package water

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Leg asks for the way to a mark.
type Leg struct {
	From, To geo.Position
	Wind     boat.Wind
	Target   boat.Target
	Kn       boat.Reading                 // over the ground now
	COGDeg   boat.Reading                 // true
	Speed    func(offDeg float64) float64 // of the boat at an angle off this wind, knots; nil: not known
}

// Way is the way to a mark. Leeway, current, shore and the wind's next shift are not
// in it.
type Way struct {
	DistM      float64
	BearingDeg float64      // true, 0..360; means nothing where DistM is 0
	VMCKn      boat.Reading // speed made good towards it now, negative away from it
	Fetch      boat.Reading // probability that one tack takes her there, 0..1; absent without wind
	Beat       bool         // it lies closer to the wind than she sails
	Deep       bool         // it lies lower than her best run
	LegM       [2]float64   // metres to sail on starboard and on port tack, where Beat or Deep
	TimeS      boat.Reading // to go as the target says
	Starboard  Layline
	Port       Layline
}

// Layline is the line on which one tack just fetches the mark.
type Layline struct {
	Deg     float64 // bearing of the mark on it, which is the heading there, true
	HalfDeg float64 // half the width of the wind's 90 % interval
}

const quantile95 = 1.645

// Reach works out the way. Angles come from the target, the doubt from the wind.
func Reach(l Leg) Way {
	w := Way{DistM: geo.Distance(l.From, l.To)}
	w.BearingDeg, _ = geo.Bearing(l.From, l.To)
	if l.Kn.OK && l.COGDeg.OK {
		w.VMCKn = boat.Some(l.Kn.Val * math.Cos(geo.Rad(geo.Diff(l.COGDeg.Val, w.BearingDeg))))
	}
	if !l.Wind.Known || !l.Wind.DirDeg.OK || !l.Target.OK || l.Target.BeatDeg <= 0 {
		return w
	}
	wind, sd := l.Wind.DirDeg.Val, math.Max(l.Wind.SDDeg, 0.1)
	w.Starboard = Layline{geo.Wrap360(wind - l.Target.BeatDeg), quantile95 * sd}
	w.Port = Layline{geo.Wrap360(wind + l.Target.BeatDeg), quantile95 * sd}
	off := geo.Diff(w.BearingDeg, wind) // starboard positive
	w.Fetch = boat.Some(0.5 * math.Erfc((l.Target.BeatDeg-math.Abs(off))/sd/math.Sqrt2))
	switch {
	case math.Abs(off) < l.Target.BeatDeg:
		w.Beat = true
		w.legs(off, l.Target.BeatDeg, l.Target.BeatKn)
	case l.Target.RunDeg > 90 && math.Abs(off) > l.Target.RunDeg:
		w.Deep = true
		w.legs(geo.Wrap180(180-off), 180-l.Target.RunDeg, l.Target.RunKn)
	case l.Speed != nil:
		w.time(w.DistM, l.Speed(math.Abs(off)))
	}
	return w
}

// legs splits the way into two legs, half degrees to each side of the wind (or of
// dead downwind), the mark lying off to the side of the first. Plane trigonometry:
// sin(h+t)/sin 2h and sin(h-t)/sin 2h of the distance.
func (w *Way) legs(off, half, kn float64) {
	double := math.Sin(geo.Rad(2 * half))
	if !(double > 1e-6) {
		w.time(w.DistM, kn)
		return
	}
	w.LegM[0] = w.DistM * math.Sin(geo.Rad(half+off)) / double
	w.LegM[1] = w.DistM * math.Sin(geo.Rad(half-off)) / double
	w.time(w.LegM[0]+w.LegM[1], kn)
}

func (w *Way) time(m, kn float64) {
	if kn > 0.1 {
		w.TimeS = boat.Some(m / (kn * geo.KnotMS))
	}
}
