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
	area   float64 // square metres
	aspect float64 // effective
	stall  float64 // radians
	drag0  float64
	plate  float64 // drag across the flow
}

// upright is what is left of the foil at a heel.
func (f foil) upright(heel float64) foil {
	f.area *= math.Cos(heel)
	return f
}

// at returns the coefficients of lift and drag at an angle of attack of any size, lift
// with the angle's sign.
func (f foil) at(a float64) (lift, drag float64) {
	a = wrap(a)
	side := 1.0
	if a < 0 {
		side, a = -1, -a
	}
	if a > math.Pi/2 { // flow from behind
		side, a = -0.7*side, math.Pi-a
	}
	sin, cos := math.Sincos(a)
	slope := 2 * math.Pi / (1 + 2/f.aspect)
	cl := slope * sin * cos
	past := rise((a - f.stall) / stallWidth)
	lift = mix(cl, f.plate*sin*cos, past)
	drag = f.drag0 + mix(cl*cl/(math.Pi*f.aspect), f.plate*sin*sin, past)
	return side * lift, drag
}

const stallWidth = 0.12 // radians on either side, over which a foil stalls

// rise goes smoothly from 0 at -1 to 1 at 1.
func rise(x float64) float64 {
	x = clamp(0.5+x/2, 0, 1)
	return x * x * (3 - 2*x)
}

func mix(a, b, share float64) float64 { return a + (b-a)*share }

// wrap brings an angle to -pi..pi.
func wrap(a float64) float64 {
	if a >= -math.Pi && a <= math.Pi {
		return a
	}
	return math.Remainder(a, 2*math.Pi)
}

func clamp(x, lo, hi float64) float64 { return math.Min(hi, math.Max(lo, x)) }
