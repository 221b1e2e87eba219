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
		out = append(out, scenario{name: sc.Name, make: func(seed uint64) (world, error) { return sim.New(sc.Name, seed, start) },
			told: told{swingDeg: 8, periodS: 280, driftDeg: 5, driftTauS: 1500, offDeg: 1.7, harmonicDeg: 1.3}})
	}
	for _, c := range []struct {
		name   string
		everyS int
	}{{"race-1s", 1}, {"race-5s", 5}, {"race-10s", 10}} {
		out = append(out, scenario{name: c.name, make: func(seed uint64) (world, error) { return newRace(seed, c.everyS), nil },
			noHeel: true, times: 4, deaf: true, told: told{driftDeg: 10, driftTauS: 900, noCompass: true, currentKn: 0.15}})
	}
	return out
}

// Scenarios lists the names that Sail takes.
func Scenarios() []string {
	var out []string
	for _, sc := range scenarios() {
		out = append(out, sc.name)
	}
	return out
}
