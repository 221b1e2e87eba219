package force

import "math"

// Step moves her by dt seconds; 0.05 and less is stable.
func (b Boat) Step(s *State, c Controls, w Wind, dt float64) {
	awa, ms := b.apparent(*s, w)
	b.swing(s, c, awa, dt)
	f := b.forces(*s, c, awa, ms)
	b.move(s, f, dt)
}

// forces sums everything but inertia.
func (b Boat) forces(s State, c Controls, awa, ms float64) push {
	f := b.sailPush(s, awa, ms)
	f.add(b.backed(c, awa, ms))
	f.add(b.boardPush(s))
	f.add(b.rudderPush(s, c.Rudder))
	f.add(b.hullPush(s))
	f.heel -= b.righting(s.Heel)
	f.heel += b.CrewKg * gravity * (0.5*b.BeamM + 0.35) * c.Hike * math.Cos(s.Heel)
	return f
}

// Added masses, as shares of her own (common practice, no source).
const (
	addAhead = 0.08
	addSide  = 0.6
)

func (b Boat) move(s *State, f push, dt float64) {
	mx, my := b.MassKg*(1+addAhead), b.MassKg*(1+addSide)
	turn := b.MassKg * b.LengthM * b.LengthM * 0.09
	roll := b.MassKg*b.BeamM*b.BeamM*0.14 + 30
	damp := 2.2 * math.Sqrt(b.MassKg*gravity*b.GM*roll) * 0.35
	u := s.U + dt*(f.ahead/mx+s.R*s.V)
	v := s.V + dt*(f.starboard/my-s.R*s.U)
	s.R += dt * f.yaw / turn
	s.P += dt * (f.heel - damp*s.P) / roll
	s.U, s.V = u, v
	s.Heel = clamp(s.Heel+dt*s.P, -1.6, 1.6)
	if math.Abs(s.Heel) >= 1.6 {
		s.P = 0
	}
	s.Heading += dt * s.R
	sin, cos := math.Sin(s.Heading), math.Cos(s.Heading)
	s.EastM += dt * (s.U*sin + s.V*cos)
	s.NorthM += dt * (s.U*cos - s.V*sin)
}
