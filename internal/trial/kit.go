package trial

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/polar"
	"helmcue/internal/sim"
)

// kit is a world as other sensors show it.
type kit struct {
	world
	set    func(world, *boat.Settings)
	sample func(k *kit, s *boat.Sample) bool // changes a copy of the sample; false: it is lost
	n      int                               // samples seen
}

func (k *kit) Settings() boat.Settings {
	s := k.world.Settings()
	if k.set != nil {
		k.set(k.world, &s)
	}
	return s
}

func (k *kit) Step() []boat.Input {
	var out []boat.Input
	for _, in := range k.world.Step() {
		if in.Sample != nil && k.sample != nil {
			s := *in.Sample
			k.n++
			if !k.sample(k, &s) {
				continue
			}
			in.Sample = &s
		}
		out = append(out, in)
	}
	return out
}

// second is how many seconds of samples were seen, at ten a second.
func (k *kit) second() int { return k.n / 10 }

// fitted is one kit on one of the simulator's scenes.
type fitted struct {
	name, scene string
	set         func(world, *boat.Settings)
	sample      func(k *kit, s *boat.Sample) bool
	told        func(*told)
	noHeel      bool
}

// kits lists the simulator's scenes as other phones show them.
func kits() []scenario {
	crooked := func(t *told) { t.offDeg, t.harmonicDeg = 15, 8 }
	var out []scenario
	for _, f := range []fitted{
		{name: "no-level", scene: "first-lesson", sample: func(_ *kit, s *boat.Sample) bool { s.HeelDeg = boat.Reading{}; return true }, noHeel: true},
		{name: "no-gyro", scene: "first-lesson", sample: func(_ *kit, s *boat.Sample) bool { s.YawDps = boat.Reading{}; return true }},
		{name: "tilted-12", scene: "fresh-afternoon", sample: func(_ *kit, s *boat.Sample) bool { s.HeelDeg.Val += 12; return true }},
		{name: "magnet-at-12min", scene: "first-lesson", sample: magnet, told: crooked},
		{name: "polar-her-own", scene: "first-lesson", set: ownPolar},
		{name: "polar-too-fast", scene: "first-lesson", set: scaledPolar(1.25)},
		{name: "polar-too-slow", scene: "fresh-afternoon", set: scaledPolar(0.8)},
		{name: "polar-of-8m", scene: "shifty-morning", set: func(_ world, s *boat.Settings) { t := polar.Generic(8, true); s.Polar = &t }},
	} {
		out = append(out, f.scenario())
	}
	return out
}

func (f fitted) scenario() scenario {
	s := scene(f.scene)
	plain := s.prepare
	s.name, s.noHeel, s.deaf = f.name, f.noHeel, true
	if f.told != nil {
		f.told(&s.told)
	}
	s.prepare = func() (maker, error) {
		m, err := plain()
		if err != nil {
			return nil, err
		}
		return func(seed uint64) world { return &kit{world: m(seed), set: f.set, sample: f.sample} }, nil
	}
	return s
}

// crook adds 15 degrees and a first harmonic of 8 to the compass.
func crook(_ *kit, s *boat.Sample) bool {
	if s.HeadingDeg.OK {
		s.HeadingDeg.Val = geo.Wrap360(s.HeadingDeg.Val + 15 + 8*math.Sin(geo.Rad(s.HeadingDeg.Val-50)))
	}
	return true
}

// magnet is something laid beside the phone after twelve minutes.
func magnet(k *kit, s *boat.Sample) bool {
	if k.second() > 720 {
		return crook(k, s)
	}
	return true
}

// scaledPolar is the generic hull with all speeds times by.
func scaledPolar(by float64) func(world, *boat.Settings) {
	return func(_ world, s *boat.Settings) {
		t := polar.Generic(s.LengthM, s.Jib)
		for _, row := range t.SpeedKn {
			for i := range row {
				row[i] *= by
			}
		}
		s.Polar = &t
	}
}

// ownPolar is what the simulated boat does at her best.
func ownPolar(w world, s *boat.Settings) {
	if b, ok := w.(*sim.Sim); ok {
		t := b.Polar()
		s.Polar = &t
	}
}
