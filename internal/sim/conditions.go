package sim

import "helmcue/internal/boat"

// Conditions are everything that sets one session apart from another. The zero value
// of a part is a part without faults: no gusts, a perfect compass, a learner of no
// skill.
type Conditions struct {
	Name    string
	About   string // one sentence
	Level   boat.Level
	Wind    Wind
	Water   Water
	Boat    Boat
	Phone   Phone
	Learner Learner
	Course  Course
	BeatM   float64 // how far to windward of the ramp the round goes; 0: 380
	From    Place   // where she begins
}

// Place is metres east and north of the ramp.
type Place struct{ EastM, NorthM float64 }

// Wind is the true wind over the water.
type Wind struct {
	DirDeg     float64 // mean, from, true
	Kn         float64 // mean
	SwingDeg   float64 // amplitude of the oscillation
	PeriodS    float64 // of it
	DriftDeg   float64 // sd of the slow drift
	DriftTauS  float64 // over which it forgets itself; 0: 1500
	FlutterDeg float64 // sd of what changes within seconds; 0: 2
	Gust       float64 // sd of gusts, share of the mean
	GustTauS   float64 // how long they last; 0: 25
	Shifts     []Shift
	Lees       []Lee
	Rows       []Row
}

// Shift is a lasting change of direction.
type Shift struct {
	AtS float64 // seconds after the start
	Deg float64 // veering positive
	InS float64 // over which it comes
}

// Lee is a round patch of dead air.
type Lee struct {
	EastM, NorthM float64 // of its middle, from the ramp
	RadiusM       float64
	Left          float64 // share of the wind that is left in the middle
}

// Row is a straight row of trees, which takes the wind on its other side, wherever
// that is as the wind moves.
type Row struct {
	EastM, NorthM float64 // of its middle, from the ramp
	AlongDeg      float64 // which way it runs, true
	LengthM       float64
	HeightM       float64
	Density       float64 // 0.3..0.7; 0 is taken for 0.6
}

// Water is what the boat floats in.
type Water struct {
	SetDeg  float64 // where the current goes, true
	DriftKn float64 // how fast
	Rough   float64 // 1: waves as the wind makes on a small lake; 0 is taken for 1
}

// Boat is what is sailed.
type Boat struct {
	Name    string
	LengthM float64
	Jib     bool
	Drag    float64 // of her hull, over a clean one; 0 is taken for 1
}

// Phone is what hears her.
type Phone struct {
	Mount       boat.Mount // empty: fixed
	NoCompass   bool       // sends course and speed alone, no heel
	EveryS      float64    // between its samples; 0: 0.1
	CompassDeg  float64    // its constant error is drawn up to this on either side; 0: 3
	HarmonicDeg float64    // and its first harmonic up to this; 0: 3
	TiltDeg     float64    // of the mount, up to this on either side; 0: 2
	QuadDeg     float64    // and its second, of soft iron, is of this size; 0: none
	HeelErr     float64    // degrees of compass error a degree of heel, when she heads north, less towards east and west
	NoGyro      bool       // tells no rate of turn
	LagS        float64    // how late the receiver is, up to 3; 0: drawn from 1 to 1.8
	DropsPerH   float64    // times an hour in which it falls silent
	DropS       float64    // for so long
}

// Learner is who sails.
type Learner struct {
	Skill       float64 // 0..1: 1 makes no errors of helm or sheet
	BiasDeg     float64 // steers so far too low always, too high negative
	AsymDeg     float64 // and so much lower on starboard tack, higher on port
	InDeg       float64 // holds the sheet so far in too far always, out negative
	FootDeg     float64 // how far too low the first beat begins
	TrimDeg     float64 // how far the sheet is in too far at first, out negative
	Gybes       float64 // chance of a gybe on a run
	ForgetS     float64 // a correction fades over so long; 0: 65
	Keeps       float64 // share of a correction that is learned for good
	Misses      float64 // chance that a cue is not heard, beside that by skill
	MixesUp     float64 // chance that it is taken for its opposite
	SlowS       float64 // slower to answer by so many seconds
	NoFix       bool    // tells no wind at the start
	FixOffDeg   float64 // tells one that is so far off
	GuessesWind bool    // tells the wind's strength by eye, too
}

// Course is what is sailed.
type Course int

// The courses.
const (
	Laps     Course = iota // to windward in tacks, across and back, downwind
	OneTack                // close-hauled on one tack for ever
	Reaches                // to and fro across the wind
	Triangle               // to windward in tacks, then by a mark on one side back to the ramp
	Ramp                   // out across the wind and home to the ramp on a held course
	Motored
	Docked
)

func (c Conditions) forgetS() float64 { return or(c.Learner.ForgetS, 65) }

func or(v, instead float64) float64 {
	if v == 0 {
		return instead
	}
	return v
}
