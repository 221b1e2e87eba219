package sim

import (
	"fmt"
	"math/rand/v2"
	"strings"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

const (
	stepMS = 100
	stepS  = 0.1
	// The learner lies head to wind with flapping sails until sailS, and says so
	// with a tap at fixS.
	fixS  = 5.0
	sailS = 7.0
)

// Sim is one simulated session. Make it with New; it is for one goroutine.
type Sim struct {
	scene   scene
	chance  chances
	start   boat.Time
	now     boat.Time
	origin  geo.Position
	varDeg  float64 // magnetic variation, east positive
	wind    breeze
	hull    hull
	learner learner
	phone   phone
	fixed   bool
}

// chances are one generator for each thing, so that a cue heard changes what the
// learner does and neither the weather nor the phone's errors.
type chances struct{ wind, crew, ear, phone *rand.Rand }

func newChances(seed uint64) chances {
	make := func(stream uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, stream)) }
	return chances{wind: make(1), crew: make(2), ear: make(3), phone: make(4)}
}

// New makes the scene called name, beginning at start. The same seed makes the
// same session. An unknown name is an error that lists the known ones.
func New(name string, seed uint64, start boat.Time) (*Sim, error) {
	for _, sc := range scenes() {
		if sc.Name == name {
			return begin(sc, seed, start), nil
		}
	}
	var known []string
	for _, sc := range scenes() {
		known = append(known, sc.Name)
	}
	return nil, fmt.Errorf("expected a scene (%s), got %q", strings.Join(known, ", "), name)
}

func begin(sc scene, seed uint64, start boat.Time) *Sim {
	// The lake is made up: no land is charted within many miles of this place.
	s := &Sim{scene: sc, chance: newChances(seed), start: start, now: start, origin: geo.Position{LatDeg: 47.05, LonDeg: -30.4}}
	s.varDeg = variation(s.origin, start)
	s.wind = newBreeze(s.chance.wind, sc)
	s.hull = hull{lengthM: sc.lengthM, headingDeg: s.wind.dirDeg, sheetDeg: 50, fast: sc.kind == docked}
	s.learner = newLearner(s.chance.crew, sc, s.wind.dirDeg)
	s.phone = newPhone(s.chance.phone, sc)
	return s
}

// Settings returns the settings that suit the scene. They are not among the
// inputs of Step: whoever runs the scene gives them to the engine first.
func (s *Sim) Settings() boat.Settings {
	return boat.Settings{
		Boat: s.scene.boatName, LengthM: s.scene.lengthM, Jib: s.scene.jib, Level: s.scene.level,
		LimitKn: boat.DefaultLimitKn, Mount: boat.Fixed,
	}
}

// Now returns the time reached.
func (s *Sim) Now() boat.Time { return s.now }

// Step lets 100 ms pass and returns what the phone sent in that time: one sample,
// and once, near the beginning, the fix of the wind with a guess at its speed. Source and Sent are set as a
// phone with a perfect clock would.
func (s *Sim) Step() []boat.Input {
	s.now += stepMS
	t := s.now.Seconds(s.start)
	s.wind.step(s.chance.wind, t, stepS)
	s.learner.obey(s.chance.ear, t, &s.hull)
	s.learner.step(s.chance.crew, t, &s.hull, s.wind)
	s.hull.step(s.wind, stepS)
	sample := s.phone.step(s, t)
	out := []boat.Input{s.input(boat.Input{Kind: boat.SampleIn, Sample: sample})}
	if !s.fixed && t >= fixS {
		s.fixed = true
		fix := &boat.WindFix{Method: "head_to_wind", Kn: s.learner.guess}
		out = append(out, s.input(boat.Input{Kind: boat.WindFixIn, WindFix: fix}))
	}
	return out
}

func (s *Sim) input(in boat.Input) boat.Input {
	in.T, in.Sent, in.Source = s.now, s.now, "sim"
	return in
}

// Hear lets the learner hear a cue that is spoken now. What comes of it shows in
// later steps: they are slow, a little off, and sometimes miss it altogether.
func (s *Sim) Hear(c boat.Cue) {
	if s.scene.kind == sailed {
		s.learner.hear(s.chance.ear, s.now.Seconds(s.start), c, s.varDeg)
	}
}

// variation is the compass's angle to north on the made-up lake, by the same model
// the world is charted with.
func variation(p geo.Position, t boat.Time) float64 {
	deg, _, _ := geo.Declination(p, 0, geo.Year(int64(t)))
	return deg
}

// VarDeg is the magnetic variation on the lake, degrees, east positive.
func (s *Sim) VarDeg() float64 { return s.varDeg }
