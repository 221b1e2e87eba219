package force

import "math"

// Boat is what a boat is made of.
type Boat struct {
	LengthM   float64 // overall
	WaterM    float64 // at the waterline
	BeamM     float64
	MassKg    float64 // with the crew
	CrewKg    float64
	SailM2    float64 // with the jib
	JibM2     float64
	SailHighM float64 // centre of the sail over the centre of the board
	SailSpanM float64
	BoardM2   float64
	BoardM    float64 // depth
	RudderM2  float64
	RudderM   float64 // depth
	WettedM2  float64
	GM        float64 // form stiffness, metres
	Draggy    float64 // 1; more for a foul or heavy boat
}

// Of makes a two-handed training dinghy of a length, scaled from one of 4.2 m with 9
// square metres of mainsail and 3 of jib, 110 kg and a crew of 140 (common practice,
// no source). Areas grow with the square of the length, weights with its cube but for
// the crew.
func Of(lengthM float64, jib bool) Boat {
	k := lengthM / 4.2
	b := Boat{
		LengthM: lengthM, WaterM: 0.93 * lengthM, BeamM: 1.55 * math.Sqrt(k),
		CrewKg: 140, SailM2: 9 * k * k, SailHighM: 2.6 * k, SailSpanM: 5.4 * k,
		BoardM2: 0.34 * k * k, BoardM: 1.05 * k, RudderM2: 0.15 * k * k, RudderM: 0.6 * k,
		WettedM2: 3.6 * k * k, GM: 0.75 * math.Sqrt(k), Draggy: 1,
	}
	if lengthM < 4 {
		b.CrewKg = 80
		b.SailM2 = 7.8 * k * k
	}
	if jib {
		b.JibM2 = 3 * k * k
		b.SailM2 += b.JibM2
	}
	b.MassKg = 110*k*k*k + b.CrewKg
	return b
}

// State is how she moves: over the water, in her own axes.
type State struct {
	EastM, NorthM float64 // over the water
	Heading       float64 // true, radians
	U, V          float64 // ahead and to starboard, m/s
	R             float64 // yaw, clockwise, rad/s
	Heel          float64 // starboard side down positive
	P             float64 // roll, rad/s
	Boom          float64 // off the centre line, to port positive
}

// Controls are what hands and weight do.
type Controls struct {
	Sheet  float64 // how far the boom may go out, radians, 0 to pi/2
	Rudder float64 // radians, positive turns her clockwise when she goes ahead
	Hike   float64 // weight out to starboard, -1 to 1; 0 sits on the centre line
	Back   float64 // holds the boom out to windward so far, radians; 0: free
}

// Wind is the true wind over the water, from.
type Wind struct {
	From float64 // true, radians
	MS   float64
}
