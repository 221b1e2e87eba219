package engine

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/cue"
)

// remember keeps what the next status line will say, at the precision it
// deserves. want is the speed she should have.
func (e *Engine) remember(sit cue.Situation, want boat.Reading) {
	s, w, twa, target := sit.State, sit.Wind, sit.TWADeg, sit.Target
	st := boat.Status{
		T: sit.Now, Mode: sit.Mode, TWDKnown: w.Known,
		Heading: s.HeadingDeg.Round(0.1), SOGKn: s.SOGKn.Round(0.01),
		TWADeg: twa.Round(0.1), TargetKn: want.Round(0.01), Share: sit.Share.Round(0.001),
	}
	if w.DirDeg.OK {
		st.TWDDeg = w.DirDeg.Round(0.1)
		st.TWDSDDeg = boat.Some(w.SDDeg).Round(0.1)
		st.TWDLoDeg = boat.Some(w.LoDeg).Round(0.1)
		st.TWDHiDeg = boat.Some(w.HiDeg).Round(0.1)
		st.TWDOther = w.OtherDeg.Round(0.1)
	}
	if w.SpeedKn.OK {
		st.TWSKn = w.SpeedKn.Round(0.1)
		st.TWSSDKn = boat.Some(w.SpeedSD).Round(0.1)
	}
	if twa.OK && target.OK {
		switch sit.Mode {
		case boat.CloseHauled, boat.Tacking, boat.Irons:
			st.TargetTWA = boat.Some(math.Copysign(target.BeatDeg, twa.Val)).Round(0.1)
		case boat.Running, boat.Gybing:
			st.TargetTWA = boat.Some(math.Copysign(target.RunDeg, twa.Val)).Round(0.1)
		}
	}
	if e.stream.shown {
		st.SetDeg, st.DriftKn = s.Current.SetDeg().Round(1), boat.Some(s.Current.DriftKn()).Round(0.1)
	}
	e.reported = st
}

func (e *Engine) status(t boat.Time) {
	st := e.reported
	st.T = t
	e.out = append(e.out, boat.Output{Status: &st})
}
