package sim

import "helmcue/internal/boat"

// Catalogue lists the scenarios of the evaluation: one plain beat, and what happens
// to it by other winds, other waters, other phones, other boats and other sailors.
func Catalogue() []Conditions {
	var out []Conditions
	for _, c := range []Conditions{
		{Name: "steady-beat", About: "a beat in nine steady knots"},
		{Name: "steady-light", About: "the same in five knots", Wind: Wind{Kn: 5}},
		{Name: "steady-fresh", About: "the same in thirteen knots", Wind: Wind{Kn: 13, Gust: 0.1}},
		{Name: "slow-swing", About: "six degrees to and fro in eight minutes", Wind: Wind{SwingDeg: 6, PeriodS: 480}},
		{Name: "quick-swing", About: "eight degrees to and fro in three minutes", Wind: Wind{SwingDeg: 8, PeriodS: 180}},
		{Name: "wide-swing", About: "fifteen degrees to and fro in six minutes", Wind: Wind{SwingDeg: 15, PeriodS: 360, DriftDeg: 6}},
		{Name: "veers-ten", About: "the wind veers ten degrees for good", Wind: Wind{Shifts: []Shift{{AtS: 700, Deg: 10, InS: 20}}}},
		{Name: "backs-fifteen", About: "it backs fifteen over two minutes", Wind: Wind{Shifts: []Shift{{AtS: 800, Deg: -15, InS: 120}}}},
		{Name: "jumps-forty", About: "it jumps by forty degrees, and back", Wind: Wind{Shifts: []Shift{{AtS: 600, Deg: 40, InS: 10}, {AtS: 1100, Deg: -40, InS: 10}}}},
		{Name: "sea-breeze", About: "it veers by sixty degrees in forty minutes", Wind: Wind{Shifts: []Shift{{AtS: 120, Deg: 60, InS: 2400}}}},
		{Name: "drifts", About: "light and drifting by fifteen degrees", Wind: Wind{Kn: 5, DriftDeg: 15, DriftTauS: 900}},
		{Name: "gusty", About: "gusts of a quarter of the wind that turn it too", Wind: Wind{Kn: 11, Gust: 0.25, FlutterDeg: 5}},
		{Name: "lulls", About: "patches without wind", Wind: Wind{Gust: 0.35, GustTauS: 60}},
		{Name: "lee-of-a-point", About: "dead air on one side of the beat", Wind: Wind{Lees: []Lee{{EastM: -150, NorthM: -120, RadiusM: 110, Left: 0.15}}}},
		{Name: "tide-across", About: "half a knot of current across the wind", Water: Water{SetDeg: 315, DriftKn: 0.5}},
		{Name: "tide-along", About: "seven tenths of a knot with the wind", Water: Water{SetDeg: 45, DriftKn: 0.7}},
		{Name: "worn", About: "the phone is worn", Phone: Phone{Mount: boat.Worn}},
		{Name: "worn-shifty", About: "worn, and the wind swings", Phone: Phone{Mount: boat.Worn}, Wind: Wind{SwingDeg: 10, PeriodS: 300}},
		{Name: "course-only", About: "course and speed once a second, no more", Phone: Phone{NoCompass: true, EveryS: 1}},
		{Name: "course-every-five", About: "and every five seconds", Phone: Phone{NoCompass: true, EveryS: 5}},
		{Name: "course-only-shifty", About: "course alone in a wind that jumps and swings", Phone: Phone{NoCompass: true, EveryS: 1},
			Wind: Wind{Kn: 6, SwingDeg: 10, PeriodS: 400, DriftDeg: 10, Shifts: []Shift{{AtS: 700, Deg: 35, InS: 30}}}},
		{Name: "bad-compass", About: "ten degrees of compass error, and ten more by heading", Phone: Phone{CompassDeg: 10, HarmonicDeg: 10}},
		{Name: "crooked-mount", About: "the phone lies six degrees crooked", Phone: Phone{TiltDeg: 6}},
		{Name: "drops-out", About: "the phone falls silent now and then", Phone: Phone{DropsPerH: 30, DropS: 15}},
		{Name: "pincher", About: "sails seven degrees too high", Learner: Learner{BiasDeg: -7}},
		{Name: "footer", About: "sails twelve degrees too low", Learner: Learner{BiasDeg: 12}},
		{Name: "over-trimmer", About: "holds the sheet fifteen degrees too far in", Learner: Learner{InDeg: 15}},
		{Name: "lopsided", About: "six degrees higher on one tack than on the other", Learner: Learner{AsymDeg: 3}},
		{Name: "novice", About: "little skill in everything", Learner: Learner{Skill: 0.15, InDeg: 8, BiasDeg: 5}},
		{Name: "expert", About: "hardly an error", Learner: Learner{Skill: 0.95}},
		{Name: "slow-hull", About: "a hull with twice the drag", Boat: Boat{LengthM: 4.2, Jib: true, Drag: 2}},
		{Name: "small-boat", About: "a single-handed boat of three metres and a half", Boat: Boat{LengthM: 3.5}},
		{Name: "longer-boat", About: "a boat of five metres and a half", Boat: Boat{LengthM: 5.5, Jib: true}},
		{Name: "one-tack", About: "close-hauled on one tack and no other", Course: OneTack},
		{Name: "one-tack-worn", About: "the same, the phone worn", Course: OneTack, Phone: Phone{Mount: boat.Worn}},
		{Name: "to-and-fro", About: "across the wind and back", Course: Reaches},
		{Name: "under-engine", About: "under engine, into the wind and round about", Course: Motored},
		{Name: "made-fast", About: "made fast at the dock", Course: Docked},
	} {
		out = append(out, plain(c))
	}
	return out
}

// Further lists scenarios beside those of the evaluation: other courses and other
// faults of a phone.
func Further() []Conditions {
	var out []Conditions
	for _, c := range []Conditions{
		{Name: "heeled-compass", About: "a compass that is off when she heels, with soft iron near by", Phone: Phone{HeelErr: 0.6, QuadDeg: 4}},
		{Name: "late-receiver", About: "position and speed come three seconds late", Phone: Phone{LagS: 3}},
		{Name: "no-gyro", About: "a compass and no rate of turn", Phone: Phone{NoGyro: true}},
		{Name: "triangle", About: "to windward, by a mark on one side and back", Course: Triangle},
		{Name: "under-the-wood", About: "a long beat on the made-up lake, up to a wood that takes the wind",
			From: Place{EastM: -310, NorthM: -250}, BeatM: 720, Wind: Wind{SwingDeg: 4, PeriodS: 240, DriftDeg: 3,
				Rows: []Row{{EastM: -541, NorthM: -538, AlongDeg: 10, LengthM: 211, HeightM: 14, Density: 0.65},
					{EastM: -621, NorthM: -438, AlongDeg: 87, LengthM: 200, HeightM: 14, Density: 0.65}}},
			Learner: Learner{Skill: 0.45, Gybes: 0.3, FootDeg: 15, TrimDeg: 14, GuessesWind: true}},
		{Name: "home-to-the-ramp", About: "out across the wind and home on a held course", Course: Ramp},
	} {
		out = append(out, plain(c))
	}
	return out
}

// plain fills what a scenario leaves out with the plain beat.
func plain(c Conditions) Conditions {
	if c.Boat.LengthM == 0 {
		c.Boat = Boat{LengthM: 4.2, Jib: true}
	}
	c.Boat.Name = "Wren"
	c.Level = boat.Improver
	w := &c.Wind
	w.DirDeg, w.Kn, w.Gust = or(w.DirDeg, 225), or(w.Kn, 9), or(w.Gust, 0.08)
	if w.PeriodS == 0 {
		w.SwingDeg, w.PeriodS = or(w.SwingDeg, 2), 300
	}
	w.DriftDeg = or(w.DriftDeg, 2)
	l := &c.Learner
	l.Skill = or(l.Skill, 0.6)
	l.Keeps = or(l.Keeps, 0.15)
	return c
}
