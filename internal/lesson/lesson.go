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

// Sail sails one lesson and measures it. The same setup gives the same result.
func Sail(set Setup) (*Result, error) {
	l, err := Record(set)
	if err != nil {
		return nil, err
	}
	return l.measure(), nil
}

// Record sails one lesson and returns it as it was.
func Record(set Setup) (*Log, error) {
	s, err := set.Make()
	if err != nil {
		return nil, err
	}
	m, err := newMouth()
	if err != nil {
		return nil, err
	}
	settings := s.Settings()
	settings.Level = set.Level
	l := &sailing{sim: s, mouth: m, log: &Log{Setup: set, Start: s.Now(), LengthM: settings.LengthM, VarDeg: s.VarDeg()}}
	if set.Teacher == Ours {
		l.engine = engine.New()
		l.engine.Step(boat.Input{T: s.Now(), Kind: boat.SettingsIn, Settings: &settings})
	}
	l.knowing.level = set.Level
	steps := int(set.Minutes * 600)
	for i := range steps {
		if err := l.step(i >= l.log.quietFrom()); err != nil {
			return nil, err
		}
	}
	return l.log, nil
}

// quietFrom is the first step in which nobody speaks.
func (l *Log) quietFrom() int { return int(l.Setup.Minutes*600) - int(l.Setup.QuietS*10) }

// sailing is a lesson under way.
type sailing struct {
	sim     *sim.Sim
	engine  *engine.Engine
	knowing knowing
	mouth   mouth
	log     *Log
}

func (l *sailing) step(quiet bool) error {
	inputs := l.sim.Step()
	truth := l.sim.Truth()
	l.log.Truths = append(l.log.Truths, truth)
	for _, c := range l.cues(inputs, truth) {
		if quiet {
			continue
		}
		s, words, err := l.mouth.seconds(c)
		if err != nil {
			return err
		}
		c.Words = words
		l.log.Cues = append(l.log.Cues, Spoken{c, s, truth})
		l.sim.Hear(c)
	}
	return nil
}

// cues is what the teacher would say now. The engine goes on in the quiet unheard.
func (l *sailing) cues(inputs []boat.Input, truth sim.Truth) (out []boat.Cue) {
	switch l.log.Setup.Teacher {
	case Ours:
		for _, in := range inputs {
			for _, o := range l.engine.Step(in) {
				if o.Cue != nil {
					out = append(out, *o.Cue)
				}
			}
		}
	case Knowing:
		if c, ok := l.knowing.see(truth); ok {
			out = append(out, c)
		}
	}
	return out
}
