package mode

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Sight is what the judge looks at.
type Sight struct {
	State  boat.State
	Wind   boat.Wind
	TWADeg boat.Reading // of the bow to the believed wind, -180..180
	Target boat.Target
	Turn   boat.Turn
	Turned []boat.Manoeuvre // finished since the last sight
}

// How long something must last before it is believed, seconds (common practice,
// no source: what an instructor waits before saying so).
const (
	capsizedDeg  = 70.0
	capsizedS    = 3.0
	stoppedKn    = 0.3
	stoppedS     = 10.0
	slowS        = 12.0
	underWayS    = 4.0
	pastEyeS     = 4.0
	runningDeg   = 145.0
	runHyst      = 5.0
	lowDeg       = 13.0 // below the best angle to windward she may be and still be beating
	beatHyst     = 6.0
	gybeS        = 1.0 // of swinging towards the stern, until a run is given up for a gybe
	slowShare    = 0.3
	underWayPart = 0.4
)

// Judge holds what was seen so far. Make it with New.
type Judge struct {
	mode  boat.Mode
	since boat.Time
	now   boat.Time
	seen  bool

	over  spell                         // heeled past any sailing
	still spell                         // hardly moving
	slow  spell                         // moving far too slowly for the wind
	going spell                         // moving as a sailing boat does
	swing struct{ of, since boat.Time } // a turn, by its start, and since when it has been told
	motor motor
}

// New makes a Judge that believes nothing yet.
func New() *Judge { return &Judge{} }

// Step returns the mode at in.State.T and since when it has held.
func (j *Judge) Step(in Sight) (boat.Mode, boat.Time) {
	t := in.State.T
	if !j.seen {
		j.seen, j.since, j.now = true, t, t
	}
	dt := math.Min(t.Seconds(j.now), 2)
	j.now = t
	j.weigh(in, dt)
	if m := j.pick(in); m != j.mode {
		j.mode, j.since = m, t
	}
	return j.mode, j.since
}

func (j *Judge) weigh(in Sight, dt float64) {
	t := in.State.T
	j.over.see(t, math.Abs(in.State.HeelDeg.Or(0)) > capsizedDeg)
	speed := in.State.SpeedKn
	j.still.see(t, speed.OK && speed.Val < stoppedKn)
	target := in.Target.HereKn
	if in.Target.OK && math.Abs(in.TWADeg.Or(90)) < in.Target.BeatDeg {
		target = in.Target.BeatKn
	}
	known := in.Wind.Known && in.Target.OK && speed.OK
	j.slow.see(t, known && speed.Val < slowShare*target)
	j.going.see(t, known && speed.Val > underWayPart*target && speed.Val > 2*stoppedKn)
	j.motor.see(in, dt)
}

func (j *Judge) pick(in Sight) boat.Mode {
	t := in.State.T
	switch {
	case j.over.lasted(t, capsizedS), j.mode == boat.Capsized && j.over.on:
		return boat.Capsized
	case in.Turn.StuckSince != 0:
		return boat.Irons
	case j.turning(in):
		if in.Turn.Kind == "gybe" {
			return boat.Gybing
		}
		return boat.Tacking
	case j.motor.on:
		return boat.Motoring
	case j.still.lasted(t, stoppedS):
		return boat.Stopped
	case !in.Wind.Known || !in.TWADeg.OK || !in.State.SpeedKn.OK:
		return boat.Unknown
	case j.slow.lasted(t, slowS):
		return j.idle(in)
	case !j.mode.Sailing() && j.mode != boat.Unknown && !j.going.lasted(t, underWayS):
		return j.keepIdle(in)
	}
	return j.course(in)
}

func (j *Judge) turning(in Sight) bool {
	switch in.Turn.Phase {
	case boat.Turning:
		// Before the wind the stern swings towards it in every wave.
		return in.Turn.Kind != "gybe" || in.State.T.Seconds(j.swung(in)) >= gybeS
	case boat.PastEye:
		return in.State.T.Seconds(in.Turn.Eye) <= pastEyeS
	}
	return false
}

// swung is since when the turn under way has been told.
func (j *Judge) swung(in Sight) boat.Time {
	if j.swing.of != in.Turn.Start {
		j.swing.of, j.swing.since = in.Turn.Start, in.State.T
	}
	return j.swing.since
}

// idle tells waiting on purpose from being carried off: a drifting boat goes
// where wind or water take her, whatever way she points.
func (j *Judge) idle(in Sight) boat.Mode {
	if in.Wind.SpeedKn.OK && in.Wind.SpeedKn.Val < 1.5 {
		return boat.Drifting
	}
	if in.State.COGDeg.OK && in.State.HeadingBy == "compass" {
		off := math.Abs(geo.Wrap180(in.State.COGDeg.Val - in.State.HeadingDeg.Val))
		if off > 60 {
			return boat.Drifting
		}
	}
	return boat.Waiting
}

// keepIdle holds an idle mode until she is under way again; what is over at once
// (a turn broken off, a capsize righted, a motor stopped) becomes waiting.
func (j *Judge) keepIdle(in Sight) boat.Mode {
	switch j.mode {
	case boat.Waiting, boat.Drifting, boat.Stopped:
		if j.mode == boat.Stopped && !j.still.on {
			return j.idle(in)
		}
		return j.mode
	}
	return boat.Waiting
}

func (j *Judge) course(in Sight) boat.Mode {
	a := math.Abs(in.TWADeg.Val)
	close := math.Max(in.Target.BeatDeg+lowDeg, 55)
	run := runningDeg
	if in.Target.OK && in.Target.RunDeg-8 < run {
		run = math.Max(in.Target.RunDeg-8, 125)
	}
	switch j.mode {
	case boat.CloseHauled, boat.Tacking: // a tack mostly goes from beat to beat, out of it a learner is low
		close += beatHyst
	case boat.Running, boat.Gybing:
		run -= runHyst
	case boat.Reaching:
		close -= beatHyst
		run += runHyst
	}
	switch {
	case a < close:
		return boat.CloseHauled
	case a > run:
		return boat.Running
	}
	return boat.Reaching
}

// spell is a condition and since when it has held without a break.
type spell struct {
	on    bool
	since boat.Time
}

func (s *spell) see(t boat.Time, on bool) {
	if on && !s.on {
		s.since = t
	}
	s.on = on
}

func (s *spell) lasted(t boat.Time, sec float64) bool {
	return s.on && t.Seconds(s.since) >= sec
}
