package sim

// Scene is the name of a simulated session and what happens in it.
type Scene struct {
	Name  string
	About string // one sentence
}

// scenes are the sessions for demonstration and trying out, the demonstration's first.
func scenes() []Conditions {
	return []Conditions{
		{
			Name: "first-lesson", About: "a first lesson to windward and back in a steady nine knots",
			Boat:    Boat{Name: "Pebble", LengthM: 4.2, Jib: true},
			Wind:    Wind{DirDeg: 225, Kn: 9, SwingDeg: 4, PeriodS: 240, DriftDeg: 3, Gust: 0.08},
			Learner: Learner{Skill: 0.45, Gybes: 0.3, FootDeg: 15, TrimDeg: 14, GuessesWind: true},
		},
		{
			Name: "shifty-morning", About: "seven knots that swing by ten degrees every few minutes",
			Boat:    Boat{Name: "Sandpiper", LengthM: 4.2, Jib: true},
			Wind:    Wind{DirDeg: 310, Kn: 7, SwingDeg: 10, PeriodS: 280, DriftDeg: 6, Gust: 0.15},
			Learner: Learner{Skill: 0.6, Gybes: 0.3, FootDeg: 12, TrimDeg: 12, GuessesWind: true},
		},
		{
			Name: "fresh-afternoon", About: "fourteen gusty knots, heel to mind and no gybes",
			Boat:    Boat{Name: "Nettle", LengthM: 4.7, Jib: true},
			Wind:    Wind{DirDeg: 190, Kn: 14, SwingDeg: 6, PeriodS: 200, DriftDeg: 4, Gust: 0.16},
			Learner: Learner{Skill: 0.55, FootDeg: 12, TrimDeg: 12, GuessesWind: true},
		},
		{
			Name: "light-air", About: "three and a half knots, slow answers and slow turns",
			Boat:    Boat{Name: "Thistle", LengthM: 4.0, Jib: true},
			Wind:    Wind{DirDeg: 80, Kn: 3.5, SwingDeg: 8, PeriodS: 320, DriftDeg: 8, Gust: 0.2},
			Learner: Learner{Skill: 0.5, Gybes: 0.3, FootDeg: 12, TrimDeg: 12, GuessesWind: true},
		},
		{
			Name: "motor-trip", About: "out under engine, straight into the wind and round about", Course: Motored,
			Boat:    Boat{Name: "Pebble", LengthM: 4.2, Jib: true},
			Wind:    Wind{DirDeg: 225, Kn: 8, SwingDeg: 5, PeriodS: 260, DriftDeg: 3, Gust: 0.1},
			Learner: Learner{Skill: 1, GuessesWind: true},
		},
		{
			Name: "at-the-dock", About: "made fast, swinging about the wind and going nowhere", Course: Docked,
			Boat:    Boat{Name: "Pebble", LengthM: 4.2, Jib: true},
			Wind:    Wind{DirDeg: 225, Kn: 8, SwingDeg: 5, PeriodS: 260, DriftDeg: 3, Gust: 0.1},
			Learner: Learner{Skill: 1, GuessesWind: true},
		},
	}
}

// Scenes lists what New takes, the demonstration's scene first.
func Scenes() []Scene {
	var out []Scene
	for _, s := range scenes() {
		out = append(out, Scene{s.Name, s.About})
	}
	return out
}
