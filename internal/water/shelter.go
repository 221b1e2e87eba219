package water

import "math"

// The published model of the wind behind an obstacle, and the bands that it and the
// tables of windbreaks agree on.
const (
	vonKarman = 0.4
	power     = 0.14   // exponent of the power law of the wind's profile
	roughM    = 0.0002 // roughness length of open water
	sailM     = 3.0    // height at which a small boat's sail is met
)

// Deficit returns what share of the wind at the obstacle's height is missing behind
// a long obstacle square to the wind: heightM and zM above the water, xM downwind
// of it, all in metres and above 0; porosity is 0..1.
//
// Source: Perera 1981, J. Wind Eng. Ind. Aerodyn. 8, 93-104, as used in Troen and
// Petersen 1989, European Wind Atlas, chapter 8. Limits: nothing is certain nearer
// than five heights, nor where the obstacle is higher than half the height looked
// at, as a line of trees is for any small boat; hills, islands, ends of a row, gaps
// and oblique wind are outside it. Tables of windbreaks differ from it by a factor
// of two. So it orders places; its number is not for the ear.
func Deficit(heightM, porosity, xM, zM float64) float64 {
	return deficit(heightM, porosity, xM, layer{zM, roughM})
}

// layer is where in the wind over which ground one looks.
type layer struct{ zM, roughM float64 }

func deficit(h, porosity, x float64, at layer) float64 {
	k := 2 * vonKarman * vonKarman / math.Log(h/at.roughM)
	eta := at.zM / h * math.Pow(k*x/h, -1/(power+2))
	return 9.75 * (1 - porosity) * h / x * eta * math.Exp(-0.67*math.Pow(eta, 1.5))
}

// Band is how much wind is left, as far as one can say it.
type Band int

// The bands, from open water to the worst.
const (
	Clear     Band = iota // beyond thirty heights of any obstacle
	Slight                // to thirty: hardly to be felt
	Disturbed             // to twenty
	Dead                  // within about ten
	Doubtful              // within five heights of a solid wall: nothing certain is known
	NoHeight              // land is near upwind, and how high it stands is not known
	Ashore                // no water
	OffChart              // nothing is known here
)

func (b Band) String() string {
	names := []string{"clear", "slight", "disturbed", "dead", "doubtful", "height not known", "ashore", "off the chart"}
	if b < 0 || int(b) >= len(names) {
		return "unknown band"
	}
	return names[b]
}

// The borders of the bands, in heights of the obstacle. Sources: Perera's model;
// Brandle and Finch, How Windbreaks Work, EC 1763, whose text says thirty heights.
const (
	doubtH     = 5.0
	deepH      = 8.0
	deadH      = 10.0
	outerH     = 12.5 // behind dense trees half the wind is back here only, by the tables
	disturbedH = 20.0
	slightH    = 30.0
)

const (
	leastHeightM = 0.5  // lower is reeds: it takes no wind from a sail
	heightSD     = 0.2  // of the logarithm of a height: charts tell heights by eye
	solid        = 0.5  // up to this porosity a row is dead behind as a wall is
	airy         = 0.8  // from here on nothing is dead behind it
	wall         = 0.2  // up to this porosity the near side is in doubt
	perHeight    = 4    // steps of the tables, a height
	farH         = 60.0 // end of the tables
	noHeightM    = 300.0
)

// BandAt returns the band x heights behind an obstacle.
func BandAt(heights, porosity float64) Band {
	switch {
	case heights < doubtH && porosity <= wall:
		return Doubtful
	case heights < deadH && porosity < airy:
		return Dead
	case heights < disturbedH:
		return Disturbed
	case heights < slightH:
		return Slight
	}
	return Clear
}

// obstacle is one kind of thing at a shore, with what it does by distance, a value
// for each step of a height.
type obstacle struct {
	heightM, porosity float64
	dead              []float32 // probability of dead air, over the height's own doubt
	deep              []float32 // of being within eight heights
	outer             []float32 // of being within twelve and a half
	disturbed         []float32
	open              []float32 // share of the open wind left at the sail
}

func newObstacle(h, porosity float64) obstacle {
	n := int(farH*perHeight) + 1
	o := obstacle{heightM: h, porosity: porosity, dead: make([]float32, n), deep: make([]float32, n), outer: make([]float32, n),
		disturbed: make([]float32, n), open: make([]float32, n)}
	dense := math.Min(1, math.Max(0, (airy-porosity)/(airy-solid)))
	toSail := math.Log(h/roughM) / math.Log(sailM/roughM)
	for i := range n {
		x := (float64(i) + 0.5) / perHeight
		o.dead[i] = float32(dense * within(x, deadH))
		o.deep[i] = float32(dense * within(x, deepH))
		o.outer[i] = float32(dense * within(x, outerH))
		o.disturbed[i] = float32(within(x, disturbedH))
		o.open[i] = float32(1 - math.Min(1, Deficit(h, porosity, math.Max(x, doubtH)*h, sailM)*toSail))
	}
	return o
}

// within is the probability that a place x heights off by the chart is within so
// many true heights, the height being log-normal.
func within(x, heights float64) float64 {
	return 0.5 * math.Erfc(math.Log(x/heights)/heightSD/math.Sqrt2)
}

// step returns the index in the tables for a distance, or -1 beyond them.
func (o *obstacle) step(distM float64) int {
	i := int(distM / o.heightM * perHeight)
	if i >= len(o.dead) {
		return -1
	}
	return i
}

func (o *obstacle) reachM() float64 { return farH * o.heightM }
