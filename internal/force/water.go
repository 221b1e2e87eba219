package force

import "math"

func (b Boat) board() foil {
	return foil{area: b.BoardM2, aspect: 1.7 * b.BoardM * b.BoardM / b.BoardM2, stall: 0.36, drag0: 0.012, plate: 1.2}
}

func (b Boat) rudder() foil {
	return foil{area: b.RudderM2, aspect: 1.6 * b.RudderM * b.RudderM / b.RudderM2, stall: 0.38, drag0: 0.012, plate: 1.2}
}

// lifts is the force of a foil under water, turned by an angle off her centre line,
// that goes ahead by u and to starboard by v.
func (f foil) lifts(turned, u, v float64) (ahead, starboard float64) {
	speed := math.Hypot(u, v)
	if speed < 1e-6 {
		return 0, 0
	}
	cl, cd := f.at(math.Atan2(v, u) - turned) // where she goes, to starboard positive
	q := 0.5 * waterDensity * speed * f.area  // times the speed once more, below
	lift, drag := q*cl, q*cd
	// Drag against the way she goes; lift across it, against the slip.
	return -drag*u + lift*v, -drag*v - lift*u
}

// boardPush resists leeway.
func (b Boat) boardPush(s State) push {
	x, y := b.board().upright(s.Heel).lifts(0, s.U, s.V)
	return push{ahead: x, starboard: y, heel: y * 0.3 * b.BoardM}
}

// rudderPush turns her. The rudder hangs at the stern, where turning moves the water
// across it.
func (b Boat) rudderPush(s State, angle float64) push {
	arm := 0.5 * b.LengthM
	x, y := b.rudder().upright(s.Heel).lifts(-angle, s.U, s.V-s.R*arm)
	return push{ahead: x, starboard: y, yaw: -y * arm}
}

// hullPush is friction, waves and what the hull does sideways and turning.
func (b Boat) hullPush(s State) push {
	p := push{ahead: -b.resistance(s.U, s.Heel)}
	lateral := 0.12 * b.LengthM * b.BeamM
	p.starboard = -0.5 * waterDensity * lateral * 0.9 * s.V * math.Abs(s.V)
	arm := 0.5 * b.LengthM
	p.yaw = -waterDensity * lateral * arm * arm * s.R * (0.025*arm*math.Abs(s.R) + 0.015*math.Abs(s.U))
	return p
}

// resistance is the drag of the hull at a speed ahead, newtons. Friction is the ITTC
// 1957 line. Waves are a share of her weight by Froude number: the shape of a light
// hull, from memory after the Delft series, less steep past the hump, as dinghies plane.
func (b Boat) resistance(u, heel float64) float64 {
	speed := math.Abs(u)
	if speed < 1e-4 {
		return 0
	}
	re := math.Max(1e4, speed*b.WaterM*0.7/viscosity)
	lg := math.Log10(re) - 2
	friction := 0.5 * waterDensity * speed * speed * b.WettedM2 * 1.15 * 0.075 / (lg * lg)
	fn := speed / math.Sqrt(gravity*b.WaterM)
	waves := b.MassKg * gravity * waveShare(fn)
	heeled := 1 + 1.2*heel*heel
	if u < 0 { // a transom first
		friction *= 3
	}
	return math.Copysign((friction+waves)*heeled*b.Draggy, u)
}

// waveShare is the resistance of waves over weight.
func waveShare(fn float64) float64 {
	at := []float64{0, 0.15, 0.20, 0.25, 0.30, 0.35, 0.40, 0.45, 0.50, 0.60, 0.75, 1.0}
	is := []float64{0, 0.0003, 0.0012, 0.0030, 0.0065, 0.0130, 0.026, 0.045, 0.066, 0.092, 0.115, 0.15}
	for i := 1; i < len(at); i++ {
		if fn <= at[i] {
			return mix(is[i-1], is[i], (fn-at[i-1])/(at[i]-at[i-1]))
		}
	}
	return is[len(is)-1]
}

// righting is the moment by which her form brings her upright, newton metres. It
// gives out past some 50 degrees.
func (b Boat) righting(heel float64) float64 {
	return b.MassKg * gravity * b.GM * math.Sin(heel) * math.Max(-0.3, 1-math.Abs(heel*heel*heel)/0.86)
}
