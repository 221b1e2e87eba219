package mode

import (
	"math"

	"helmcue/internal/boat"
)

// motor adds up, second by second, what only an engine can do and what a sail
// does. It comes on after some twenty seconds of the one and goes off only after
// minutes of the other: a boat that motors to windward crosses angles she could
// have sailed, and a coach that speaks then is a fool.
type motor struct {
	sum float64 // seconds of evidence, 0..full
	on  bool
}

const (
	motorOn   = 20.0
	motorFull = 60.0
	// sailing evidence counts this much of motoring evidence
	sailWeight = 0.2
	heelWeight = 1.0
	// not none: what little is taken for an engine in an hour's sailing must wear off
	uprightWeight = 0.05
	uprightDeg    = 3.0
	leansDeg      = 5.0
	// of way into the wind where the wind is not known well enough to be sure of it
	mayHaveShifted = 0.4
	leansKn        = 6.0
	// A turn through the wind this wide, from one angle she can sail to another, is
	// what a sail makes a boat do; what is left of the doubt is seconds.
	wideDeg   = 60.0
	afterTurn = 5.0
)

// WideTurn says whether a manoeuvre is one that only a sailing boat has a reason
// for: a tack from one angle she can sail to another. With the wind astern an engine
// goes anywhere.
func WideTurn(m boat.Manoeuvre) bool {
	return m.Kind == "tack" && m.TurnDeg.OK && m.TurnDeg.Val >= wideDeg
}

func (m *motor) see(in Sight, dt float64) {
	for _, turn := range in.Turned {
		if WideTurn(turn) && in.Target.OK && math.Abs(in.TWADeg.Or(0)) > in.Target.NoSailUp {
			m.sum = math.Min(m.sum, afterTurn)
		}
	}
	m.sum = math.Min(motorFull, math.Max(0, m.sum+float64(m.evidence(in)*dt)))
	switch {
	case m.sum >= motorOn:
		m.on = true
	case m.sum <= 0:
		m.on = false
	}
}

// evidence is per second: above zero for an engine, below for a sail.
func (m *motor) evidence(in Sight) float64 {
	speed := in.State.SpeedKn
	if !speed.OK || !in.Wind.Known || !in.TWADeg.OK || !in.Target.OK {
		return 0
	}
	if speed.Val < 1.2 || in.Turn.Phase != boat.NoTurn {
		return 0
	}
	a := math.Abs(in.TWADeg.Val)
	doubt := in.Wind.SDDeg
	wind := in.Wind.SpeedKn
	switch {
	case a+doubt < in.Target.NoSailUp && speed.Val > 0.3*in.Target.BeatKn:
		return m.intoWind(in, a+2*doubt) // steady way into the eye of the wind
	case wind.OK && speed.Val > float64(1.15*(wind.Val+in.Wind.SpeedSD))+0.5:
		return 1 // faster than the wind itself, in a small boat
	case wind.OK && wind.Val > 2 && speed.Val > 2.2*in.Target.HereKn && a > in.Target.NoSailUp:
		return 0.5 // far beyond her polar: an engine, or another boat's polar
	case a-doubt > in.Target.NoSailUp && speed.Val < 1.3*in.Target.HereKn:
		return -m.sailing(in)
	}
	return 0
}

// intoWind is what way into the believed wind is worth: less where she may lie higher
// than she could sail only since the wind has gone round, and nothing where she leans
// as no engine makes her.
func (m *motor) intoWind(in Sight, farthest float64) float64 {
	switch {
	case math.Abs(in.State.HeelDeg.Or(0)) > leansDeg:
		return 0
	case farthest > in.Target.NoSailUp:
		return mayHaveShifted
	}
	return 1
}

// sailing is worth more where she heels to leeward, as no engine makes her, and
// hardly anything where she stays upright in a breeze that would lean on a sail.
func (m *motor) sailing(in Sight) float64 {
	h := in.State.HeelDeg
	switch {
	case !h.OK:
	case math.Abs(h.Val) > leansDeg && h.Val*in.TWADeg.Val < 0:
		return heelWeight
	case math.Abs(h.Val) < uprightDeg && math.Abs(in.TWADeg.Val) < 110 && in.Wind.SpeedKn.Or(0) >= leansKn:
		return uprightWeight
	}
	return sailWeight
}
