package lesson

import (
	"fmt"

	"helmcue/internal/boat"
	"helmcue/internal/sim"
)

// start is when simulated lessons begin.
const start boat.Time = 1_800_000_000_000

// classSpec names conditions of the simulator and what is changed in them.
type classSpec struct {
	scene  string
	level  boat.Level
	name   string // empty: the scene's
	change func(*sim.Conditions)
}

// classSpecs are the learners by skill and wind: those who sail badly in their own
// ways, those who hear badly, and those who hardly need a coach.
func classSpecs() []classSpec {
	light := func(c *sim.Conditions) { c.Wind.Kn = 5.5 }
	fresh := func(c *sim.Conditions) { c.Wind.Kn, c.Wind.Gust = 13, 0.15 }
	shifty := func(c *sim.Conditions) { c.Wind.SwingDeg, c.Wind.PeriodS = 9, 260 }
	deaf := func(c *sim.Conditions) {
		c.Learner.Misses, c.Learner.MixesUp, c.Learner.SlowS, c.Learner.ForgetS = 0.2, 0.05, 2, 40
	}
	return []classSpec{
		{"first-lesson", boat.Beginner, "", nil},
		{"first-lesson", boat.Beginner, "first-lesson light", light},
		{"first-lesson", boat.Beginner, "first-lesson shifty", shifty},
		{"first-lesson", boat.Beginner, "hears badly", deaf},
		{"novice", boat.Beginner, "", nil},
		{"pincher", boat.Beginner, "", nil},
		{"footer", boat.Improver, "", nil},
		{"over-trimmer", boat.Improver, "", nil},
		{"shifty-morning", boat.Improver, "", nil},
		{"fresh-afternoon", boat.Improver, "", nil},
		{"steady-beat", boat.Improver, "", nil},
		{"steady-beat", boat.Improver, "steady-beat fresh", fresh},
		{"expert", boat.Expert, "", nil},
		{"expert", boat.Expert, "expert shifty", shifty},
	}
}

// Classes are the kinds of learners of the evaluation.
func Classes() ([]Class, error) {
	var out []Class
	for _, s := range classSpecs() {
		c, err := s.class()
		if err != nil {
			return nil, err
		}
		out = append(out, c)
	}
	return out, nil
}

func (s classSpec) class() (Class, error) {
	c, err := sim.Named(s.scene)
	if err != nil {
		return Class{}, err
	}
	name := s.scene
	if s.change != nil {
		name = s.name
		s.change(&c)
	}
	p, err := sim.Prepare(c)
	if err != nil {
		return Class{}, fmt.Errorf("class %s: %w", name, err)
	}
	return Class{name, s.level, func(seed uint64) (*sim.Sim, error) { return p.Make(seed, start), nil }}, nil
}
