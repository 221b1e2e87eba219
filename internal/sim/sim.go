package sim

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"helmcue/internal/boat"
	"helmcue/internal/force"
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
	with    Conditions
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

// New makes the scene called name, or the scenario of the catalogue, beginning at
// start. The same seed makes the same session. An unknown name is an error that
// lists the known ones.
func New(name string, seed uint64, start boat.Time) (*Sim, error) {
	c, err := Named(name)
	if err != nil {
		return nil, err
	}
	return Make(c, seed, start)
}

// Named returns the conditions of a scene or of a scenario of the catalogue.
func Named(name string) (Conditions, error) {
	var known []string
	for _, c := range slices.Concat(scenes(), Catalogue(), Further()) {
		if c.Name == name {
			return c, nil
		}
		known = append(known, c.Name)
	}
	return Conditions{}, fmt.Errorf("expected a scene (%s), got %q", strings.Join(known, ", "), name)
}

// Make makes a session under conditions of one's own. Wind and boat length must be
// what a boat can sail in.
func Make(c Conditions, seed uint64, start boat.Time) (*Sim, error) {
	p, err := Prepare(c)
	if err != nil {
		return nil, err
	}
	return p.Make(seed, start), nil
}

// Prepared are conditions with the boat tried on every course, which takes longer than
// many minutes of sailing her. It changes no more: any number may sail from it at once.
type Prepared struct {
	with Conditions
	boat force.Boat
	book *force.Book
}

// Prepare checks the conditions and tries the boat.
func Prepare(c Conditions) (*Prepared, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	b := c.hull()
	return &Prepared{with: c, boat: b, book: b.Book()}, nil
}

// hull is the boat they ask for.
func (c Conditions) hull() force.Boat {
	b := force.Of(c.Boat.LengthM, c.Boat.Jib)
	b.Draggy = or(c.Boat.Drag, 1)
	return b
}

// check says what of them is out of reason.
func (c Conditions) check() error {
	if !(c.Boat.LengthM >= 2.5 && c.Boat.LengthM <= 12) || !(c.Wind.Kn >= 0 && c.Wind.Kn <= 40) {
		return fmt.Errorf("expected a boat of 2.5 to 12 metres in up to 40 knots, got %g m in %g", c.Boat.LengthM, c.Wind.Kn)
	}
	if !(c.Phone.LagS >= 0 && c.Phone.LagS <= 3) {
		return fmt.Errorf("expected a receiver up to 3 seconds late, got %g", c.Phone.LagS)
	}
	return nil
}

// Under is the same boat under other conditions, tried anew only where they ask for
// another boat.
func (p *Prepared) Under(c Conditions) (*Prepared, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	if c.hull() != p.boat {
		return Prepare(c)
	}
	return &Prepared{with: c, boat: p.boat, book: p.book}, nil
}

// Make makes the session that a seed stands for.
func (p *Prepared) Make(seed uint64, start boat.Time) *Sim {
	c := p.with
	// The lake is made up: no land is charted within many miles of this place.
	s := &Sim{with: c, chance: newChances(seed), start: start, now: start, origin: geo.Position{LatDeg: 47.05, LonDeg: -30.4}}
	s.varDeg = variation(s.origin, start)
	s.wind = newBreeze(s.chance.wind, c)
	s.hull = newHull(p, s.wind.dirDeg)
	s.hull.eastM, s.hull.northM = c.From.EastM, c.From.NorthM
	s.learner = newLearner(s.chance.crew, c, &s.hull, s.wind.dirDeg)
	s.phone = newPhone(s.chance.phone, c)
	return s
}

// Settings returns the settings that suit the scene. They are not among the
// inputs of Step: whoever runs the scene gives them to the engine first.
func (s *Sim) Settings() boat.Settings {
	return boat.Settings{
		Boat: s.with.Boat.Name, LengthM: s.with.Boat.LengthM, Jib: s.with.Boat.Jib, Level: s.with.Level,
		LimitKn: boat.DefaultLimitKn, Mount: s.with.mount(),
	}
}

// Now returns the time reached.
func (s *Sim) Now() boat.Time { return s.now }

// Step lets 100 ms pass and returns what the phone sent in that time: a sample where
// one is due, and once, near the beginning, what the learner tells of the wind. Source and Sent are set as a
// phone with a perfect clock would.
func (s *Sim) Step() []boat.Input {
	s.now += stepMS
	t := s.now.Seconds(s.start)
	s.wind.step(s.chance.wind, t, moved{stepS, s.hull.eastM, s.hull.northM})
	s.learner.obey(s.chance.ear, t, &s.hull)
	s.learner.step(s.chance.crew, t, &s.hull, s.wind)
	s.hull.step(s.wind, stepS)
	var out []boat.Input
	if sample := s.phone.step(s, t); sample != nil {
		out = append(out, s.input(boat.Input{Kind: boat.SampleIn, Sample: sample}))
	}
	if !s.fixed && t >= fixS {
		s.fixed = true
		if !s.with.Learner.NoFix {
			out = append(out, s.input(boat.Input{Kind: boat.WindFixIn, WindFix: s.fix()}))
		}
	}
	return out
}

// fix is what the learner tells of the wind at the start: she lies head to wind, or,
// where the conditions say so, a direction that is off.
func (s *Sim) fix() *boat.WindFix {
	f := &boat.WindFix{Method: "head_to_wind", Kn: s.learner.guess}
	if s.with.Learner.FixOffDeg != 0 || s.with.Phone.NoCompass || s.with.mount() == boat.Worn {
		f.Method, f.Ref = "hand", boat.True
		f.DirDeg = boat.Some(math.Round(geo.Wrap360(s.wind.dirDeg + s.with.Learner.FixOffDeg)))
	}
	return f
}

func (s *Sim) input(in boat.Input) boat.Input {
	in.T, in.Sent, in.Source = s.now, s.now, "sim"
	return in
}

// Hear lets the learner hear a cue that is spoken now. What comes of it shows in
// later steps: they are slow, a little off, and sometimes miss it altogether.
func (s *Sim) Hear(c boat.Cue) {
	if s.with.Course != Motored && s.with.Course != Docked {
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

// Polar is what she can do, by her own trim on every course: the table that a careful
// owner would have measured, knots.
func (s *Sim) Polar() boat.PolarTable {
	k := s.hull.book
	t := boat.PolarTable{Name: s.with.Boat.Name}
	for i, ms := range k.WindMS {
		t.TWSKn = append(t.TWSKn, math.Round(100*ms/geo.KnotMS)/100)
		var row []float64
		for j, a := range k.TWA {
			if i == 0 {
				t.TWADeg = append(t.TWADeg, math.Round(geo.Deg(a)))
			}
			row = append(row, math.Round(100*k.MS[i][j]/geo.KnotMS)/100)
		}
		t.SpeedKn = append(t.SpeedKn, row)
	}
	return t
}

func (c Conditions) mount() boat.Mount {
	if c.Phone.Mount == "" {
		return boat.Fixed
	}
	return c.Phone.Mount
}
