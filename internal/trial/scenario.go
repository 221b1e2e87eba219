package trial

import (
	"helmcue/internal/boat"
	"helmcue/internal/sim"
)

// Variant is how a scenario is sailed.
type Variant struct {
	Name   string
	Fix    bool    // somebody tells the wind's direction at the beginning
	OffDeg float64 // and so far off it is
	Obeys  bool    // the learner hears the cues; else as in a replay they are made and nobody hears
}

// Variants lists how every scenario is sailed.
func Variants() []Variant {
	return []Variant{
		{Name: "alone"},
		{Name: "fix-10-obeys", Fix: true, OffDeg: 10, Obeys: true},
	}
}

// Session is one scenario, sailed once.
type Session struct {
	Scenario string
	Variant  Variant
	Seed     uint64
	Minutes  int
}

// world is what sails: the simulator, or another.
type world interface {
	Settings() boat.Settings
	Step() []boat.Input // a tenth of a second
	Truth() sim.Truth
	Hear(boat.Cue)
}

// scenario is what an evaluation needs to know of a simulated session.
type scenario struct {
	name   string
	make   func(seed uint64) (world, error)
	told   told
	noHeel bool // nothing tells the side before the first turn
	times  int  // as long as others; 0: 1
	deaf   bool // nobody on board takes advice or gives any: it is sailed in the first variant alone
}

func (s scenario) variants() []Variant {
	if s.deaf {
		return Variants()[:1]
	}
	return Variants()
}

// Every session begins then.
const start = boat.Time(1_900_000_000_000)

func scenarios() []scenario {
	var out []scenario
	for _, sc := range sim.Scenes() {
		out = append(out, scene(sc.Name))
	}
	out = append(out, kits()...)
	return append(out, races()...)
}

// scene is one of the simulator's scenes as its own phone shows it. The wind told to
// the bound is that of its table of scenes.
func scene(name string) scenario {
	t := told{driftTauS: 1500, offDeg: 1.7, harmonicDeg: 1.3}
	switch name {
	case "first-lesson":
		t.swingDeg, t.periodS, t.driftDeg = 4, 240, 3
	case "shifty-morning":
		t.swingDeg, t.periodS, t.driftDeg = 10, 280, 6
	case "fresh-afternoon":
		t.swingDeg, t.periodS, t.driftDeg = 6, 200, 4
	case "light-air":
		t.swingDeg, t.periodS, t.driftDeg = 8, 320, 8
	}
	return scenario{name: name, make: func(seed uint64) (world, error) { return sim.New(name, seed, start) }, told: t}
}

// Scenarios lists the names that Sail takes.
func Scenarios() []string {
	var out []string
	for _, sc := range scenarios() {
		out = append(out, sc.name)
	}
	return out
}
