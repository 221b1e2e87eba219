package sim

import "helmcue/internal/boat"

// Scene is the name of a simulated session and what happens in it.
type Scene struct {
	Name  string
	About string // one sentence
}

// kind is who drives the boat.
type kind int

const (
	sailed kind = iota
	motored
	docked
)

// scene is everything that sets one session apart from another.
type scene struct {
	Scene
	kind     kind
	boatName string
	level    boat.Level
	lengthM  float64
	jib      bool
	dirDeg   float64 // mean wind direction, from, true
	kn       float64 // mean wind speed
	swingDeg float64 // amplitude of the oscillation
	periodS  float64 // of the oscillation
	driftDeg float64 // sd of the slow drift
	gust     float64 // sd of gusts, share of the mean
	skill    float64 // 0..1: 1 makes no errors of helm or sheet
	gybes    float64 // chance of a gybe on a run
	footDeg  float64 // how far too low the first beat begins
	trimDeg  float64 // how far the sheet is in too far at first (negative: out)
}

func scenes() []scene {
	return []scene{
		{
			Scene:    Scene{"first-lesson", "a first lesson to windward and back in a steady nine knots"},
			boatName: "Pebble", lengthM: 4.2, jib: true, dirDeg: 225, kn: 9, swingDeg: 4, periodS: 240,
			driftDeg: 3, gust: 0.08, skill: 0.45, gybes: 0.3, footDeg: 15, trimDeg: 14,
		},
		{
			Scene:    Scene{"shifty-morning", "seven knots that swing by ten degrees every few minutes"},
			boatName: "Sandpiper", lengthM: 4.2, jib: true, dirDeg: 310, kn: 7, swingDeg: 10, periodS: 280,
			driftDeg: 6, gust: 0.15, skill: 0.6, gybes: 0.3, footDeg: 12, trimDeg: -12,
		},
		{
			Scene:    Scene{"fresh-afternoon", "fourteen gusty knots, heel to mind and no gybes"},
			boatName: "Nettle", lengthM: 4.7, jib: true, dirDeg: 190, kn: 14, swingDeg: 6, periodS: 200,
			driftDeg: 4, gust: 0.16, skill: 0.55, gybes: 0, footDeg: 12, trimDeg: 12,
		},
		{
			Scene:    Scene{"light-air", "three and a half knots, slow answers and slow turns"},
			boatName: "Thistle", lengthM: 3.6, dirDeg: 80, kn: 3.5, swingDeg: 8, periodS: 320,
			driftDeg: 8, gust: 0.2, skill: 0.5, gybes: 0.3, footDeg: 12, trimDeg: 14,
		},
		{
			Scene: Scene{"motor-trip", "out under engine, straight into the wind and round about"}, kind: motored,
			boatName: "Pebble", lengthM: 4.2, jib: true, dirDeg: 225, kn: 8, swingDeg: 5, periodS: 260,
			driftDeg: 3, gust: 0.1, skill: 1,
		},
		{
			Scene: Scene{"at-the-dock", "made fast, swinging about the wind and going nowhere"}, kind: docked,
			boatName: "Pebble", lengthM: 4.2, jib: true, dirDeg: 225, kn: 8, swingDeg: 5, periodS: 260,
			driftDeg: 3, gust: 0.1, skill: 1,
		},
	}
}

// Scenes lists what New takes, the demonstration's scene first.
func Scenes() []Scene {
	var out []Scene
	for _, s := range scenes() {
		out = append(out, s.Scene)
	}
	return out
}
