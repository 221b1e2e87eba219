package polar

import (
	"math"

	"helmcue/internal/boat"
)

// The generic hull as measured off a dinghy of DefaultLengthM; other lengths
// follow by Froude's law. All of it is common practice, no source.
const (
	genericWaterline = 0.92 // waterline over length overall
	genericSaturate  = 2.5  // how sharply the wave she makes holds her at hull speed
	genericLightAir  = 0.6  // speed over wind on a beam reach in light air
	genericDeadDeg   = 33.0 // she does not sail below this in a moderate breeze
	genericOpenDeg   = 4.5  // how far beyond it the sails are full
	shortestM        = 2.0
	longestM         = 12.0
)

// Generic returns a made-up but plausible table for a light sheet-and-tiller
// dinghy, lengthM overall (held to 2..12 m), with or without a jib. It is a
// closed form, not measured:
//
//   - In light air speed is a fixed share of the wind, by angle; with more wind it
//     is held at hull speed, 1.34 sqrt(waterline in feet) knots, softly; beyond
//     some 14 kn she planes a little off the wind. Near a dead run she loses a
//     tenth, so that the best angle to leeward is about 145 to 157 degrees.
//   - To windward speed falls to nothing over the last degrees above a dead sector
//     of 33 degrees, wider in light air and in a strong breeze. That puts the best
//     angle near 45 degrees at 6 to 12 kn; without a jib all of it lies three
//     degrees wider and she is a little slower.
//   - Other lengths follow by Froude's law: speeds and winds scale by the square
//     root of the length.
//
// All these figures are common practice, no source. The table is for winds of 2
// to 25 knots.
func Generic(lengthM float64, jib bool) boat.PolarTable {
	if !(lengthM >= shortestM) {
		lengthM = shortestM
	}
	lengthM = math.Min(longestM, lengthM)
	name := "generic dinghy without jib"
	if jib {
		name = "generic dinghy with jib"
	}
	t := boat.PolarTable{Name: name, TWSKn: []float64{2, 3, 4, 5, 6, 7, 8, 10, 12, 14, 16, 18, 20, 22, 25}}
	t.TWADeg = append(t.TWADeg, 0, 25)
	for a := 30.0; a < 60; a += 2.5 {
		t.TWADeg = append(t.TWADeg, a)
	}
	for a := 60.0; a <= 180; a += 5 {
		t.TWADeg = append(t.TWADeg, a)
	}
	scale := math.Sqrt(lengthM / boat.DefaultLengthM)
	for _, w := range t.TWSKn {
		row := make([]float64, 0, len(t.TWADeg))
		for _, a := range t.TWADeg {
			v := scale * hull{jib: jib, windKn: w / scale}.speed(a)
			row = append(row, math.Round(v*1000)/1000)
		}
		t.SpeedKn = append(t.SpeedKn, row)
	}
	return t
}

// hull is the dinghy of DefaultLengthM in one wind.
type hull struct {
	jib    bool
	windKn float64
}

func (h hull) speed(a float64) float64 {
	const feet = 1 / 0.3048
	most := 1.34 * math.Sqrt(float64(boat.DefaultLengthM*genericWaterline*feet))
	x := genericLightAir * h.windKn * h.drive(a) / most
	wave := most * x / math.Pow(1+math.Pow(x, genericSaturate), 1/genericSaturate)
	return (wave + h.planing(a)) * h.open(a) * roll(a)
}

// roll is the share that is left near a dead run, where she rolls, the main
// blankets the jib and nobody trims: a little higher is always faster, and safer
// than a run that ends by the lee.
func roll(a float64) float64 { return 1 - float64(0.12*square(math.Max(0, a-140)/40)) }

// drive is the push of the sails by angle, 1 on a reach.
func (h hull) drive(a float64) float64 {
	v := 0.60 + float64(0.40*square(math.Cos(math.Pi/2*(a-100)/80)))
	if a < 100 {
		v = 0.74 + float64(0.26*square(math.Sin(math.Pi/2*math.Max(0, a-30)/70)))
	}
	if !h.jib && a < 140 {
		v *= 1 - float64(0.06*square(math.Cos(math.Pi/2*a/140)))
	}
	return v
}

// open is the share of the sails that is full near the dead sector.
func (h hull) open(a float64) float64 {
	dead := genericDeadDeg + float64(5*math.Exp(-h.windKn/4)) + 1.5/(1+math.Exp((18-h.windKn)/2))
	if !h.jib {
		dead += 3
	}
	if a <= dead {
		return 0
	}
	return 1 - math.Exp((dead-a)/genericOpenDeg)
}

// planing is what she gains over hull speed off the wind in a breeze, knots.
func (h hull) planing(a float64) float64 {
	gain := 0.3 * 2 * math.Log1p(math.Exp((h.windKn-14)/2))
	return gain * math.Exp(-square((a-120)/30)/2)
}

func square(v float64) float64 { return v * v }
