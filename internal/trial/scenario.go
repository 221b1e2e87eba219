package trial

import (
	"math"

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
	name    string
	prepare func() (maker, error) // takes longer than many minutes of sailing
	told    told
	lasting []jump // shifts that ought to be called
	noHeel  bool   // nothing tells the side before the first turn
	times   int    // as long as others; 0: 1
	deaf    bool   // it is sailed in the first variant alone
}

// maker makes the session that a seed stands for. Any number may use it at once.
type maker func(seed uint64) world

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
	for _, c := range sim.Catalogue() {
		s := under(c)
		s.deaf = c.Learner.BiasDeg == 0 && c.Learner.AsymDeg == 0 && c.Learner.InDeg == 0 // coached where the sailor is what matters
		out = append(out, s)
	}
	out = append(out, kits()...)
	return append(out, races()...)
}

// scene is one of the simulator's scenes as its own phone shows it. A name that is
// not there fails when it is prepared.
func scene(name string) scenario {
	c, err := sim.Named(name)
	s := under(c)
	s.name = name
	if err != nil {
		s.prepare = func() (maker, error) { return nil, err }
	}
	return s
}

// under is the scenario of the simulator's conditions.
func under(c sim.Conditions) scenario {
	s := scenario{name: c.Name, told: noises(c), noHeel: c.Phone.NoCompass || c.Phone.Mount == boat.Worn}
	for _, sh := range c.Wind.Shifts {
		if sh.InS <= suddenS {
			s.lasting = append(s.lasting, jump{sh.AtS, sh.Deg})
		}
	}
	s.prepare = func() (maker, error) {
		p, err := sim.Prepare(c)
		if err != nil {
			return nil, err
		}
		return func(seed uint64) world { return p.Make(seed, start) }, nil
	}
	return s
}

// How the simulator draws what its conditions leave open.
const (
	suddenS     = 60.0 // a shift that takes longer is a drift
	rampS       = 10.0 // a shift comes in parts of so long
	plainDeg    = 3.0  // compass errors where the conditions name none
	plainDriftS = 1500.0
)

// noises is what an observer is told of the simulator's conditions.
func noises(c sim.Conditions) told {
	named := func(v, plain float64) float64 {
		if v == 0 {
			return plain
		}
		return v
	}
	t := told{
		swingDeg: c.Wind.SwingDeg, periodS: c.Wind.PeriodS, driftDeg: c.Wind.DriftDeg, driftTauS: named(c.Wind.DriftTauS, plainDriftS),
		offDeg:      named(c.Phone.CompassDeg, plainDeg) / math.Sqrt(3),      // drawn evenly on either side
		harmonicDeg: 0.6 * named(c.Phone.HarmonicDeg, plainDeg) / math.Sqrt2, // drawn evenly from a sixth up
		noCompass:   c.Phone.NoCompass || c.Phone.Mount == boat.Worn,
		currentKn:   c.Water.DriftKn / math.Sqrt2, lopsidedDeg: math.Abs(c.Learner.AsymDeg),
	}
	for _, s := range c.Wind.Shifts {
		n := math.Max(1, math.Round(s.InS/rampS))
		for k := range int(n) {
			t.jumps = append(t.jumps, jump{s.AtS + float64(k)*rampS, s.Deg / n})
		}
	}
	return t
}

// Scenarios lists the names that Sail takes.
func Scenarios() []string {
	var out []string
	for _, sc := range scenarios() {
		out = append(out, sc.name)
	}
	return out
}
