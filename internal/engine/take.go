package engine

import (
	"fmt"

	"helmcue/internal/boat"
	"helmcue/internal/cue"
	"helmcue/internal/polar"
)

// take hands the input to whoever it is for.
func (e *Engine) take(in boat.Input) {
	switch in.Kind {
	case boat.SampleIn:
		e.sample(in)
	case boat.WindFixIn:
		e.fix(in)
	case boat.SettingsIn:
		if in.Settings != nil {
			e.change(e.now, *in.Settings)
		}
	case boat.AnswerIn:
		if in.Answer != nil && !e.drill.Answer(e.now, *in.Answer) {
			e.coach.Answer(e.now, *in.Answer)
			e.coachNotes(e.now)
		}
	case boat.ActIn:
		if in.Act != nil {
			e.coach.Act(e.now, *in.Act)
			e.drilled(*in.Act)
			e.coachNotes(e.now)
		}
	case boat.SpokenIn:
		if in.Spoken != nil && in.Spoken.Own == nil {
			e.coach.Spoken(e.now, in.Spoken.ID, in.Spoken.What)
			e.coachNotes(e.now)
		}
	case boat.LullIn:
		if in.Lull != nil {
			e.lake.lull(e.now, *in.Lull)
		}
	case boat.Hidden, boat.LinkLost:
		e.deaf = true
	case boat.Shown, boat.LinkBack:
		e.deaf = false
	}
}

func (e *Engine) sample(in boat.Input) {
	if in.Sample == nil {
		return
	}
	s := *in.Sample
	if e.set.IgnoreWind {
		s.AWADeg, s.AWSKn = boat.Reading{}, boat.Reading{}
		s.TWADeg, s.TWSKn, s.TWDDeg = boat.Reading{}, boat.Reading{}, boat.Reading{}
	}
	e.filter.Add(in.T, s)
	if in.T >= e.now {
		e.deaf = false
	}
}

// fix passes a statement about the wind on, unless the session is to be sailed
// as though nobody had said anything.
func (e *Engine) fix(in boat.Input) {
	if in.WindFix == nil {
		return
	}
	f := *in.WindFix
	if e.set.IgnoreWind && in.Source != boat.FromCommand {
		return
	}
	s := e.filter.State(e.now)
	if refused := e.wind.Fix(e.now, f, s); refused != "" {
		e.note(e.now, "wind_fix_refused", refused)
		return
	}
	if f.Method == "head_to_wind" {
		e.filter.Upright(e.now)
	}
	w := e.wind.At(e.now)
	e.note(e.now, "wind_fix", fmt.Sprintf("wind from %03.0f°, sure to %.0f°, by %s", w.DirDeg.Or(0), w.SDDeg, f.Method))
}

func (e *Engine) change(t boat.Time, s boat.Settings) {
	level := e.set.Level
	e.apply(s)
	if e.begun && e.set.Level != level {
		e.note(t, "level", "from here on in the words for "+e.set.Level.String())
	}
}

// apply makes settings hold. A polar that cannot be used is said and replaced by
// the generic hull: a session is never lost to a bad table.
func (e *Engine) apply(s boat.Settings) {
	if s.LengthM <= 0 {
		s.LengthM = boat.DefaultLengthM
	}
	if s.LimitKn <= 0 {
		s.LimitKn = boat.DefaultLimitKn
	}
	e.set = s
	e.drill.SetPlan(s.Plan)
	e.filter.SetMount(s.Mount)
	table := polar.Generic(s.LengthM, s.Jib)
	if s.Polar != nil {
		table = *s.Polar
	}
	p, err := polar.New(table)
	if err != nil {
		e.note(e.now, "polar_refused", "the polar cannot be used, the generic hull stands in: "+err.Error())
		p, _ = polar.New(polar.Generic(s.LengthM, s.Jib))
	}
	e.polar = p
	if err := e.lake.set(s); err != nil {
		e.note(e.now, "water_refused", "the chart cannot be used, she sails without one: "+err.Error())
	}
	if s.Water != nil && s.Water.Draft {
		e.noteOnce(e.now, "water_draft", "the chart is a draft from tracks: nobody has looked at its shores, and the coach goes by none of them")
	}
	e.target = targetCache{}
	if e.coach == nil {
		e.coach = cue.New(s.Seed)
	}
}
