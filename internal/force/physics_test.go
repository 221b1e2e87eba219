package force

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

const (
	knot = 0.514444
	deg  = math.Pi / 180
)

func dinghy() Boat { return Of(4.2, true) }

// steered holds a heading with a plain helm and a crew that minds the heel.
func steered(b Boat, s *State, w Wind, sheet, heading, hike, dt float64) float64 {
	rudder := clamp(2*wrap(heading-s.Heading)-1.2*s.R, -0.6, 0.6)
	lee := math.Copysign(1, wrap(w.From-s.Heading)) * -s.Heel
	hike = crew(hike, lee, dt)
	b.Step(s, Controls{Sheet: sheet, Rudder: rudder, Hike: math.Copysign(hike, wrap(w.From-s.Heading))}, w, dt)
	return hike
}

// energy is that of her motion, by the masses she moves with, and of her heel.
func (b Boat) energy(s State) float64 {
	e := 0.5*b.MassKg*(1+addAhead)*s.U*s.U + 0.5*b.MassKg*(1+addSide)*s.V*s.V
	e += 0.5 * b.MassKg * b.LengthM * b.LengthM * 0.09 * s.R * s.R
	e += 0.5 * (b.MassKg*b.BeamM*b.BeamM*0.14 + 30) * s.P * s.P
	for h := 0.0; h < math.Abs(s.Heel); h += 0.001 {
		e += 0.001 * b.righting(h)
	}
	return e
}

// Without wind nothing can be gained: however she is thrown into still water, she has
// less and less energy and comes to rest (conservation of energy).
func TestNoEnergyFromNowhere(t *testing.T) {
	b := dinghy()
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, most float64) float64 { return rapid.Float64Range(-most, most).Draw(t, name) }
		s := State{U: f("u", 3), V: f("v", 1), R: f("r", 1), Heel: f("heel", 0.6), P: f("p", 0.5), Boom: f("boom", 1)}
		c := Controls{Sheet: rapid.Float64Range(LeastSheet, 1.5).Draw(t, "sheet"), Rudder: f("rudder", 0.6)}
		first := b.energy(s)
		for range 1800 {
			b.Step(&s, c, Wind{}, 0.05)
			if e := b.energy(s); e > 1.02*first+0.1 || math.IsNaN(e) {
				t.Fatalf("energy grew from %.1f to %.1f J: %+v", first, e, s)
			}
		}
		if e := b.energy(s); e > 0.1*first+3 {
			t.Fatalf("after a minute and a half %.1f of %.1f J are left: %+v", e, first, s)
		}
	})
}

// The world has no left and right: seen in a mirror she sails the mirrored track.
func TestMirrored(t *testing.T) {
	b := dinghy()
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.Float64Range(-3, 3).Draw(t, "from")
		ms := rapid.Float64Range(0, 9).Draw(t, "ms")
		c := Controls{Sheet: rapid.Float64Range(LeastSheet, 1.5).Draw(t, "sheet"), Rudder: rapid.Float64Range(-0.6, 0.6).Draw(t, "rudder"),
			Hike: rapid.Float64Range(-1, 1).Draw(t, "hike"), Back: rapid.SampledFrom([]float64{0, 0.7}).Draw(t, "back")}
		s := State{U: rapid.Float64Range(-1, 3).Draw(t, "u")}
		m, mc := s, c
		mc.Rudder, mc.Hike = -c.Rudder, -c.Hike
		for range 200 {
			b.Step(&s, c, Wind{From: from, MS: ms}, 0.05)
			b.Step(&m, mc, Wind{From: -from, MS: ms}, 0.05)
		}
		off := math.Abs(s.EastM+m.EastM) + math.Abs(s.NorthM-m.NorthM) + math.Abs(s.Heel+m.Heel) + math.Abs(s.R+m.R)
		if off > 1e-6 {
			t.Fatalf("she sails %+v, in the mirror %+v", s, m)
		}
	})
}

// The result must be that of the physics and not of the step.
func TestSettlesAlikeWhateverTheStep(t *testing.T) {
	b := dinghy()
	sail := func(dt, twa, sheet float64) State {
		w := Wind{From: twa, MS: 9 * knot}
		s, hike := State{U: 1}, 0.0
		for range int(60 / dt) {
			hike = steered(b, &s, w, sheet, 0, hike, dt)
		}
		return s
	}
	for _, c := range []struct{ twa, sheet float64 }{{48 * deg, 0.2}, {90 * deg, 0.7}, {140 * deg, 1.2}} {
		coarse, fine := sail(0.05, c.twa, c.sheet), sail(0.005, c.twa, c.sheet)
		if r := coarse.U / fine.U; math.Abs(r-1) > 0.01 || math.Abs(coarse.Heel-fine.Heel) > 0.01 {
			t.Errorf("%.0f off the wind: %.3f m/s heel %.3f in steps of 50 ms, %.3f and %.3f in steps of 5 ms", c.twa/deg, coarse.U, coarse.Heel, fine.U, fine.Heel)
		}
	}
}

// What the search for a trim says must be what she does when she is sailed so.
func TestSailsWhatTheSearchSays(t *testing.T) {
	b := dinghy()
	for _, twa := range []float64{50 * deg, 90 * deg, 140 * deg} {
		sheet, at := b.Trim(twa, 9*knot, Settled{})
		s, hike := State{U: 0.5}, 0.0
		for range 1200 {
			hike = steered(b, &s, Wind{From: twa, MS: 9 * knot}, sheet, 0, hike, 0.05)
		}
		if r := math.Hypot(s.U, s.V) / at.MS; r < 0.95 || r > 1.03 {
			t.Errorf("%.0f° off the wind the search says %.2f m/s, sailed she makes %.2f", twa/deg, at.MS, math.Hypot(s.U, s.V))
		}
	}
}

// The shape of a dinghy's polar: close-hauled 40 to 50 degrees off the wind at about
// half her reaching speed made good, fastest between the beam and the quarter, near
// the speed at which she makes a wave of her own length: 1.34 knots times the root of
// the waterline in feet (rule of thumb; common practice, no source).
func TestPolarLikeADinghys(t *testing.T) {
	b := dinghy()
	k := b.Book()
	for _, kn := range []float64{7, 9, 12} {
		ms := kn * knot
		if a := k.BestBeat(ms) / deg; a < 40 || a > 50 {
			t.Errorf("in %.0f knots she beats best at %.0f°", kn, a)
		}
		beam, up := k.Speed(ms, 100*deg), k.Speed(ms, k.BestBeat(ms))
		if up > 0.95*beam || up < 0.55*beam || k.Speed(ms, 175*deg) > beam {
			t.Errorf("in %.0f knots: %.2f m/s close-hauled, %.2f across, %.2f running", kn, up, beam, k.Speed(ms, 175*deg))
		}
	}
	hull := 1.34 * math.Sqrt(b.WaterM/0.3048) * knot
	if r := k.Speed(10*knot, 100*deg) / hull; r < 0.8 || r > 1.25 {
		t.Errorf("across ten knots she makes %.2f of her hull speed", r)
	}
	for _, a := range []float64{60, 90, 120, 150} {
		last := 0.0
		for kn := 3.0; kn <= 18; kn += 3 {
			if v := k.Speed(kn*knot, a*deg); v < last {
				t.Errorf("%g° off the wind %g knots drive her less than three fewer", a, kn)
			} else {
				last = v
			}
		}
	}
}
