package force

import "math"

const (
	airDensity   = 1.225  // kg/m3 at 15 degrees Celsius, sea level (ISO 2533, from memory)
	waterDensity = 1000.0 // fresh
	viscosity    = 1.14e-6
	gravity      = 9.81
)

// foil is a lifting surface: thin foil theory with a finite span up to the stall,
// a flat plate past it.
type foil struct {
	aspect float64 // effective
	stall  float64 // radians
	drag0  float64
	plate  float64 // drag across the flow
}

// lift and drag are the coefficients at an angle of attack of any size, lift with
// the angle's sign.
func (f foil) lift(a float64) float64 {
	a = wrap(a)
	side := 1.0
	if a < 0 {
		side, a = -1, -a
	}
	back := 1.0
	if a > math.Pi/2 { // flow from behind
		a, back = math.Pi-a, -0.7
	}
	slope := 2 * math.Pi / (1 + 2/f.aspect)
	attached := slope * math.Sin(a) * math.Cos(a)
	plate := f.plate * math.Sin(a) * math.Cos(a)
	return side * back * mix(attached, plate, f.stalled(a))
}

func (f foil) drag(a float64) float64 {
	a = math.Abs(wrap(a))
	if a > math.Pi/2 {
		a = math.Pi - a
	}
	cl := 2 * math.Pi / (1 + 2/f.aspect) * math.Sin(a) * math.Cos(a)
	attached := f.drag0 + cl*cl/(math.Pi*f.aspect)
	plate := f.drag0 + f.plate*math.Sin(a)*math.Sin(a)
	return mix(attached, plate, f.stalled(a))
}

// stalled goes from 0 to 1 over some degrees round the stall.
func (f foil) stalled(a float64) float64 {
	const width = 0.12
	return 0.5 * (1 + math.Tanh((a-f.stall)/width))
}

func mix(a, b, share float64) float64 { return a + (b-a)*share }

// wrap brings an angle to -pi..pi.
func wrap(a float64) float64 {
	a = math.Mod(a+math.Pi, 2*math.Pi)
	if a < 0 {
		a += 2 * math.Pi
	}
	return a - math.Pi
}

func clamp(x, lo, hi float64) float64 { return math.Min(hi, math.Max(lo, x)) }
