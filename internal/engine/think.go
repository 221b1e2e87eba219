package engine

import (
	"math"
	"slices"

	"helmcue/internal/boat"
	"helmcue/internal/cue"
	"helmcue/internal/geo"
	"helmcue/internal/manoeuvre"
	"helmcue/internal/mode"
	"helmcue/internal/phrase"
	"helmcue/internal/wind"
)

// think looks at the boat at time t and says what there is to say.
func (e *Engine) think(t boat.Time) {
	e.thought = t
	s := e.filter.State(t)
	if !e.set.IgnoreWind {
		e.wind.Instruments(s)
	}
	w := e.reckon.fill(e.wind.At(t))
	twa := angle(s, w)
	e.filter.Lean(t, twa)
	target := e.target.at(e.polar, w, twa)
	tau := tauS(e.set.LengthM)
	turn, finished := e.watch.Step(manoeuvre.Sight{State: s, Wind: w, Target: target, LengthM: e.set.LengthM, TauS: tau})
	early := e.watch.Early()
	m, since := e.judge.Step(mode.Sight{State: s, Wind: w, TWADeg: twa, Target: target, Turn: turn, Turned: finished})
	if m == boat.Motoring {
		e.filter.Lean(t, boat.Reading{}) // no sail pushes her to leeward
		finished = slices.DeleteFunc(finished, func(m boat.Manoeuvre) bool { return !mode.WideTurn(m) })
		early = nil
		e.noteOnce(t, "motoring", "she goes where or as fast as no sail would take her: taken for motoring, coaching rests")
	}
	if !w.Known && s.SpeedKn.Or(0) > 1 && m != boat.Motoring {
		e.noteOnce(t, "wind_unknown", "the wind is not known: point the phone into it, or tap head to wind with the sails flapping; until then only what needs no wind is said")
	}
	for i := range finished {
		e.out = append(e.out, boat.Output{Manoeuvre: &finished[i]})
	}
	want := e.wanted(s, m, twa, target)
	switch {
	case m != boat.CloseHauled && m != boat.Reaching:
	case w.Reckoned:
		e.reckon.learn(t, e.polar, s, twa)
	default:
		e.factor.learn(t, s.SpeedKn, want)
	}
	if want.OK {
		want.Val = float64(want.Val * e.factor.value())
	}
	sit := cue.Situation{
		Now: t, Settings: e.set, State: s, Wind: w, TWADeg: twa, Target: target,
		Share: share(s.SpeedKn, want), Mode: m, ModeSince: since, Turn: turn,
		Finished: finished, Scored: early, TauS: tau, Deaf: e.deaf,
	}
	sit.Water = e.waters(sit)
	e.streams(t, s.Current)
	sit.Guide = e.exercises(sit)
	sit.Shift = e.shifted(sit)
	e.remember(sit, want)
	e.speak(sit)
	e.motion(sit)
}

// speak asks the coach and gives its cues their words.
func (e *Engine) speak(sit cue.Situation) {
	cues := e.coach.Decide(sit)
	if l, ok := e.coach.Lull(); ok {
		e.out = append(e.out, boat.Output{Lull: &l})
	}
	e.coachNotes(sit.Now)
	for _, c := range cues {
		line, err := phrase.Find(c)
		if err != nil {
			e.noteOnce(sit.Now, "no_words", "a cue has no words and stays unsaid: "+err.Error())
			continue
		}
		c.Words = line.Words
		if steers(c) {
			e.asked.ask(c, sit)
		}
		if asksCloseness(c) {
			e.shifts.Asked(sit.Now)
			e.asked = request{at: sit.Now} // what she does now was asked for: no evidence of where she likes to sail
		}
		e.drill.Heard(c)
		e.out = append(e.out, boat.Output{Cue: &c})
	}
}

// coachNotes hands on what the coach wrote down, at the time it is handed on, so
// that outputs stay in order.
func (e *Engine) coachNotes(t boat.Time) {
	for _, n := range e.coach.Notes() {
		n.T = t
		e.out = append(e.out, boat.Output{Note: &n})
	}
}

// angle is the bow to the believed wind, starboard positive. Where no direction
// is known but an instrument shows the angle itself, that is the angle.
func angle(s boat.State, w boat.Wind) boat.Reading {
	switch {
	case w.Known && w.DirDeg.OK && s.HeadingDeg.OK:
		return boat.Some(geo.Diff(s.HeadingDeg.Val, w.DirDeg.Val))
	case s.HeadingDeg.OK:
		return boat.Reading{}
	}
	return wind.Angle(s)
}

// wanted is the speed she should have now: on a beat or a run that of the best
// angle, since pinching lowers what the present angle allows; else that of the
// angle she sails.
func (e *Engine) wanted(s boat.State, m boat.Mode, twa boat.Reading, target boat.Target) boat.Reading {
	if !target.OK || !twa.OK {
		return boat.Reading{}
	}
	switch m {
	case boat.CloseHauled: // low she has more to show for it
		return boat.Some(math.Max(target.BeatKn, target.HereKn))
	case boat.Tacking, boat.Irons:
		return boat.Some(target.BeatKn)
	case boat.Running, boat.Gybing:
		return boat.Some(math.Min(target.RunKn, math.Max(target.HereKn, 0.6*target.RunKn)))
	case boat.Reaching, boat.Waiting, boat.Stopped, boat.Drifting:
		return boat.Some(math.Max(target.HereKn, 0.3*target.BeatKn))
	}
	return boat.Reading{}
}

func share(speed, want boat.Reading) boat.Reading {
	if !speed.OK || !want.OK || want.Val < 0.3 {
		return boat.Reading{}
	}
	return boat.Some(speed.Val / want.Val)
}

// tauS is how long her speed takes to answer, seconds: about four for a dinghy of
// 4.2 m, growing with length as mass over drag does (common practice, no source).
func tauS(lengthM float64) float64 { return 4 * lengthM / boat.DefaultLengthM }
