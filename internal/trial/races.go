package trial

import "math"

// lake is the light, shifty wind of an inland lake, told by a receiver every second.
func lake() weather {
	return weather{everyS: 1, kn: 6, stepDeg: 40, stepEveryS: 2400, slowDeg: 10, slowS: 900, flutterDeg: 4, currentKn: 0.1}
}

// races lists the scenarios of the second world.
func races() []scenario {
	out := []scenario{
		lakeRace("race-1s", func(w *weather) {}),
		lakeRace("race-5s", func(w *weather) { w.everyS = 5 }),
		lakeRace("race-10s", func(w *weather) { w.everyS = 10 }),
		lakeRace("race-level", func(w *weather) { w.level = true }),
		lakeRace("race-very-light", func(w *weather) { w.kn = 3.5 }),
		lakeRace("race-quick-swing", func(w *weather) { w.slowDeg, w.slowS, w.stepDeg = 10, 150, 0 }),
		lakeRace("race-many-jumps", func(w *weather) { w.stepEveryS = 900 }),
		lakeRace("race-pincher", func(w *weather) { w.pointDeg = -5 }),
		lakeRace("race-footer", func(w *weather) { w.pointDeg = 9 }),
		lakeRace("race-lopsided", func(w *weather) { w.lopsided = 8 }),
		lakeRace("race-tide", func(w *weather) { w.currentKn = 0.7 }),
		lakeRace("race-one-tack", func(w *weather) { w.course = oneTack }),
	}
	steady := weather{everyS: 1, kn: 9, slowDeg: 2, slowS: 900, flutterDeg: 2}
	out = append(out, fixedRace("race-steady", steady))
	steady.level = true
	out = append(out, fixedRace("race-steady-level", steady))
	steady.stepDeg, steady.stepEveryS = 12, 700
	return append(out, fixedRace("race-lasting-10", steady))
}

// lakeRace is the lake's wind with a change.
func lakeRace(name string, change func(*weather)) scenario {
	w := lake()
	change(&w)
	return fixedRace(name, w)
}

// fixedRace is a scenario in the second world.
func fixedRace(name string, w weather) scenario {
	t := told{driftDeg: w.slowDeg, driftTauS: w.slowS, noCompass: !w.level, offDeg: compassOffDeg, currentKn: w.currentKn}
	if w.lopsided > 0 { // known in size and not in sign
		t.lopsidedDeg = math.Abs(w.lopsided) / 2
	}
	return scenario{
		name: name, prepare: func() (maker, error) { return func(seed uint64) world { return newRace(seed, w) }, nil },
		told: t, noHeel: !w.level, times: 2, deaf: true,
	}
}
