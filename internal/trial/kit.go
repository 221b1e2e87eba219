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
	set    func(*boat.Settings)
	sample func(k *kit, s *boat.Sample) bool // changes a copy of the sample; false: it is lost
	n      int                               // samples seen
	last   int64                             // second of the last sample let through
}

func (k *kit) Settings() boat.Settings {
	s := k.world.Settings()
	if k.set != nil {
		k.set(&s)
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
	set         func(*boat.Settings)
	sample      func(k *kit, s *boat.Sample) bool
	told        func(*told)
	noHeel      bool
}

// kits lists the simulator's scenes as other phones show them.
func kits() []scenario {
	worn := func(s *boat.Settings) { s.Mount = boat.Worn }
	noCompass := func(t *told) { t.noCompass = true }
	crooked := func(t *told) { t.offDeg, t.harmonicDeg = 15, 8 }
	var out []scenario
	for _, f := range []fitted{
		{name: "worn", scene: "first-lesson", set: worn, sample: wear, told: noCompass, noHeel: true},
		{name: "worn-fresh", scene: "fresh-afternoon", set: worn, sample: wear, told: noCompass, noHeel: true},
		{name: "worn-shifty", scene: "shifty-morning", set: worn, sample: wear, told: noCompass, noHeel: true},
		{name: "course-only", scene: "first-lesson", sample: courseOnly, told: noCompass, noHeel: true},
		{name: "course-only-5s", scene: "fresh-afternoon", sample: courseOnly5, told: noCompass, noHeel: true},
		{name: "no-level", scene: "first-lesson", sample: func(_ *kit, s *boat.Sample) bool { s.HeelDeg = boat.Reading{}; return true }, noHeel: true},
		{name: "no-gyro", scene: "first-lesson", sample: func(_ *kit, s *boat.Sample) bool { s.YawDps = boat.Reading{}; return true }},
		{name: "tilted-12", scene: "fresh-afternoon", sample: func(_ *kit, s *boat.Sample) bool { s.HeelDeg.Val += 12; return true }},
		{name: "crooked-compass", scene: "first-lesson", sample: crook, told: crooked},
		{name: "crooked-fresh", scene: "fresh-afternoon", sample: crook, told: crooked},
		{name: "magnet-at-12min", scene: "first-lesson", sample: magnet, told: crooked},
		{name: "dropouts", scene: "shifty-morning", sample: func(k *kit, _ *boat.Sample) bool { return k.second()%300 >= 45 }},
		{name: "polar-too-fast", scene: "first-lesson", set: scaledPolar(1.25)},
		{name: "polar-too-slow", scene: "fresh-afternoon", set: scaledPolar(0.8)},
		{name: "polar-of-8m", scene: "shifty-morning", set: func(s *boat.Settings) { t := polar.Generic(8, true); s.Polar = &t }},
	} {
		out = append(out, f.scenario())
	}
	return out
}

func (f fitted) scenario() scenario {
	s := scene(f.scene)
	s.name, s.noHeel = f.name, f.noHeel
	if f.told != nil {
		f.told(&s.told)
	}
	s.make = func(seed uint64) (world, error) {
		w, err := sim.New(f.scene, seed, start)
		if err != nil {
			return nil, err
		}
		return &kit{world: w, set: f.set, sample: f.sample}, nil
	}
	return s
}

// wear leaves what a phone on a body shows.
func wear(_ *kit, s *boat.Sample) bool {
	s.Mount = boat.Worn
	s.HeelDeg, s.PitchDeg, s.YawDps, s.HeadingDeg = boat.Reading{}, boat.Reading{}, boat.Reading{}, boat.Reading{}
	return true
}

// courseOnly leaves what a receiver shows.
func courseOnly(_ *kit, s *boat.Sample) bool {
	s.HeelDeg, s.PitchDeg, s.YawDps, s.HeadingDeg = boat.Reading{}, boat.Reading{}, boat.Reading{}, boat.Reading{}
	return s.SOGKn.OK
}

// courseOnly5 is a receiver that shows what it has every five seconds.
func courseOnly5(k *kit, s *boat.Sample) bool {
	if !courseOnly(k, s) || int64(k.second()) < k.last+5 {
		return false
	}
	k.last = int64(k.second())
	return true
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
func scaledPolar(by float64) func(*boat.Settings) {
	return func(s *boat.Settings) {
		t := polar.Generic(s.LengthM, s.Jib)
		for _, row := range t.SpeedKn {
			for i := range row {
				row[i] *= by
			}
		}
		s.Polar = &t
	}
}
