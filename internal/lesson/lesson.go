package lesson

import (
	"helmcue/internal/boat"
	"helmcue/internal/engine"
	"helmcue/internal/sim"
)

// Teacher is who speaks.
type Teacher int

// The teachers.
const (
	Nobody  Teacher = iota
	Ours            // the engine, by what the phone tells it
	Knowing         // one who sees the truth, under the same budget of words
)

func (t Teacher) String() string { return []string{"nobody", "ours", "knowing"}[t] }

// Setup is one lesson to be sailed.
type Setup struct {
	Make    func() (*sim.Sim, error) // the boat, its winds and its learner
	Level   boat.Level
	Teacher Teacher
	Minutes float64
	QuietS  float64 // the last so many seconds nobody speaks; they are measured apart
}

// Sail sails one lesson. The same setup gives the same result.
func Sail(set Setup) (*Result, error) {
	s, err := set.Make()
	if err != nil {
		return nil, err
	}
	l := &sailing{set: set, sim: s, out: &Result{Lessons: 1}}
	settings := s.Settings()
	settings.Level = set.Level
	if set.Teacher == Ours {
		l.engine = engine.New()
		l.engine.Step(boat.Input{T: s.Now(), Kind: boat.SettingsIn, Settings: &settings})
	}
	l.knowing.level = set.Level
	steps := int(set.Minutes * 600)
	quiet := steps - int(set.QuietS*10)
	for i := range steps {
		l.part = &l.out.Taught
		if i >= quiet {
			l.part = &l.out.Quiet
		}
		l.step(i >= quiet)
	}
	return l.out, nil
}

// sailing is a lesson under way.
type sailing struct {
	set     Setup
	sim     *sim.Sim
	engine  *engine.Engine
	knowing knowing
	out     *Result
	part    *Sailed

	before  boat.Mode
	heard   []boat.Cue
	settled bool
}

func (l *sailing) step(quiet bool) {
	for _, in := range l.sim.Step() {
		if l.engine == nil {
			continue
		}
		for _, o := range l.engine.Step(in) {
			if o.Cue != nil && !quiet {
				l.speak(*o.Cue)
			}
		}
	}
	truth := l.sim.Truth()
	if l.set.Teacher == Knowing && !quiet {
		if c, ok := l.knowing.see(truth); ok {
			l.speak(c)
		}
	}
	l.part.see(truth, l.before)
	l.before = truth.Mode
}

func (l *sailing) speak(c boat.Cue) {
	l.out.Cues++
	if c.Urgency == boat.Steer || c.Urgency == boat.Teach {
		l.out.Corrections++
	}
	l.sim.Hear(c)
}
