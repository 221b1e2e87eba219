package wind

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// stretch is some seconds of sailing, reached by an even turn.
type stretch struct{ turnS, forS, hdg, kn, heel float64 }

// world turns and mirrors what the boat does.
type world struct {
	turnDeg float64
	mirror  bool
}

func (w world) dir(deg float64) float64 {
	if w.mirror {
		deg = -deg
	}
	return geo.Wrap360(deg + w.turnDeg)
}

// closedForm is a plain polar: nothing within 32 degrees of the wind.
func closedForm(kn, a float64) float64 {
	return math.Min(6, 0.5*kn) * math.Max(0, math.Min(1, (a-32)/16))
}

// sailStretches sails and asks once a second.
func sailStretches(e *Estimator, legs []stretch, w world, each func(boat.Wind)) {
	now := start
	for i, l := range legs {
		from := l
		if i > 0 {
			from = legs[i-1]
		}
		for s := 0.0; s < l.turnS+l.forS; s++ {
			part := 1.0
			if s < l.turnS {
				part = (s + 1) / l.turnS
			}
			kn := l.kn
			if s < l.turnS {
				kn = 0.5 * math.Min(from.kn, l.kn)
			}
			heel := from.heel + part*(l.heel-from.heel)
			if w.mirror {
				heel = -heel
			}
			hdg := from.hdg + part*geo.Diff(from.hdg, l.hdg)
			now = now.After(1)
			e.Motion(Sight{State: boat.State{T: now, HeadingDeg: boat.Some(w.dir(hdg)), HeadingBy: "compass", SpeedKn: boat.Some(kn),
				COGDeg: boat.Some(w.dir(hdg)), HeelDeg: boat.Some(heel)}, Polar: closedForm})
			each(e.At(now))
		}
	}
}

// beatTo is a beat with the wind from dir, n legs of a minute and a half.
func beatTo(dir float64, n int) []stretch {
	var out []stretch
	side := 1.0
	for range n {
		out = append(out, stretch{turnS: 8, forS: 90, hdg: geo.Wrap360(dir - side*46), kn: 3, heel: -side * 9})
		side = -side
	}
	return out
}

// Two tacks tell where the wind is; one leg tells two places and claims neither.
func TestTacksTellTheWind(t *testing.T) {
	e := New()
	var last boat.Wind
	sailStretches(e, beatTo(230, 1), world{}, func(w boat.Wind) {
		last = w
		if w.Known {
			t.Fatalf("on the first leg the side is claimed: %+v", w)
		}
	})
	e = New()
	sailStretches(e, beatTo(230, 3), world{}, func(w boat.Wind) { last = w })
	if !last.Known || math.Abs(geo.Diff(last.DirDeg.Val, 230)) > 4 || last.By != "motion" {
		t.Errorf("after two tacks expected about 230 by motion, got %+v", last)
	}
}

// On one leg without heel both sides stand, whatever the mount.
func TestOneTackWithoutHeelHasTwoSides(t *testing.T) {
	e := New()
	legs := []stretch{{forS: 1200, hdg: 90, kn: 3}}
	sailStretches(e, legs, world{}, func(w boat.Wind) {
		if w.Known {
			t.Fatalf("claims %+v", w)
		}
	})
	weight := e.dir.windows()
	left, right, flat := weight[44/2], weight[136/2], float64(2*windowBins+1)/bins
	if math.Abs(left-right) > 0.01*left || left < 1.3*flat { // the bow itself lies in a bin of one side
		t.Errorf("expected the same weight, well above %.3f, on both sides of the bow, got %.3f and %.3f", flat, left, right)
	}
}

// A gybe keeps her speed: it is not taken for a tack and nothing upwind of her is
// claimed.
func TestGybesAreNoTacks(t *testing.T) {
	e := New()
	now := start
	hdg := 70.0 // the wind from 240, running
	for s := range 900 {
		if goal := 70 - 40*float64((s/120)%2); hdg != goal {
			hdg += math.Copysign(5, goal-hdg)
		}
		now = now.After(1)
		e.Motion(Sight{State: boat.State{T: now, HeadingDeg: boat.Some(hdg), HeadingBy: "compass", SpeedKn: boat.Some(3.5),
			HeelDeg: boat.Some(0)}, Polar: closedForm})
		if w := e.At(now); w.Known {
			t.Fatalf("at %d s claims %+v", s, w)
		}
	}
}

// Headings that were asked for make no wind surer: one told ten degrees wrong is not
// confirmed by a boat that is led by it. They may be hers all the same: ten minutes at
// 60 degrees off a wind that was told move it, by less than it was doubted.
func TestAskedHeadingsMakeNothingSurer(t *testing.T) {
	e := New()
	e.Fix(start, boat.WindFix{DirDeg: boat.Some(240), Method: "hand"}, boat.State{T: start})
	before := e.At(start)
	now := start
	for range 600 {
		now = now.After(1)
		e.Motion(Sight{State: boat.State{T: now, HeadingDeg: boat.Some(180), HeadingBy: "compass", SpeedKn: boat.Some(3)},
			Coached: true, Polar: closedForm})
	}
	after := e.At(now)
	if d := math.Abs(geo.Diff(before.DirDeg.Val, after.DirDeg.Val)); d > before.SDDeg || after.SDDeg < before.SDDeg {
		t.Errorf("moved by %.1f°, from %+v to %+v", d, before, after)
	}
}

// What motors, waits, lies or drifts tells nothing of the wind.
func TestNoFactsWithoutSailing(t *testing.T) {
	for _, m := range []boat.Mode{boat.Motoring, boat.Drifting, boat.Waiting, boat.Capsized, boat.Irons} {
		e := New()
		now := start
		for range 600 {
			now = now.After(1)
			e.Motion(Sight{State: boat.State{T: now, HeadingDeg: boat.Some(180), HeadingBy: "compass", SpeedKn: boat.Some(4)},
				Mode: m, Polar: closedForm})
		}
		if w := e.At(now); w.DirDeg.OK || w.Known {
			t.Errorf("%v: claims %+v", m, w)
		}
	}
}

func drawLegs(t *rapid.T) []stretch {
	dir := float64(rapid.IntRange(0, 359).Draw(t, "wind"))
	side := 1.0
	var out []stretch
	for range rapid.IntRange(2, 4).Draw(t, "legs") {
		a := rapid.Float64Range(40, 70).Draw(t, "angle")
		out = append(out, stretch{
			turnS: float64(rapid.IntRange(3, 25).Draw(t, "turn")), forS: float64(rapid.IntRange(10, 100).Draw(t, "for")),
			hdg: geo.Wrap360(dir - side*a), kn: rapid.Float64Range(0.5, 6).Draw(t, "kn"),
			heel: -side * rapid.Float64Range(0, 20).Draw(t, "heel"),
		})
		side = -side
	}
	return out
}

// The estimate turns with the world and mirrors with it. The grid has bins of two
// degrees, so the worlds are turned by whole bins.
func TestMotionTurnsAndMirrors(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		legs := drawLegs(t)
		w := world{turnDeg: 2 * float64(rapid.IntRange(0, 179).Draw(t, "turned")), mirror: rapid.Bool().Draw(t, "mirror")}
		var plain []boat.Wind
		sailStretches(New(), legs, world{}, func(b boat.Wind) { plain = append(plain, b) })
		i := 0
		sailStretches(New(), legs, w, func(b boat.Wind) {
			p := plain[i]
			i++
			if p.Known != b.Known {
				t.Fatalf("after %d s known %v became %v", i, p.Known, b.Known)
			}
			if p.Known && math.Abs(geo.Diff(w.dir(p.DirDeg.Val), b.DirDeg.Val)) > 0.3 {
				t.Fatalf("after %d s %v became %v, expected %v", i, p.DirDeg.Val, b.DirDeg.Val, w.dir(p.DirDeg.Val))
			}
		})
	})
}

// Any finite state gives a finite belief, and the same one twice.
func TestMotionIsFiniteAndRepeats(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reading := func(name string, lo, hi float64) boat.Reading {
			if rapid.Bool().Draw(t, name+" there") {
				return boat.Some(rapid.Float64Range(lo, hi).Draw(t, name))
			}
			return boat.Reading{}
		}
		a, b := New(), New()
		now := start
		for range rapid.IntRange(1, 120).Draw(t, "n") {
			now = now.After(rapid.Float64Range(-2, 40).Draw(t, "dt"))
			in := Sight{
				State: boat.State{T: now, HeadingDeg: reading("hdg", 0, 359.9), HeadingBy: rapid.SampledFrom([]string{"compass", "course", ""}).Draw(t, "by"),
					SpeedKn: reading("kn", 0, 60), COGDeg: reading("cog", 0, 359.9), HeelDeg: reading("heel", -180, 180)},
				Mode: rapid.SampledFrom(boat.Modes()).Draw(t, "mode"), Coached: rapid.Bool().Draw(t, "coached"),
				Polar: closedForm,
			}
			a.Motion(in)
			b.Motion(in)
			x, y := a.At(now), b.At(now)
			if x != y {
				t.Fatalf("%+v and %+v", x, y)
			}
			for _, v := range []float64{x.DirDeg.Val, x.SDDeg, x.LoDeg, x.HiDeg, x.OtherDeg.Val} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("%+v", x)
				}
			}
		}
	})
}

// Motion at ten a second, against the same floor as the instruments: one pass over
// the grid a second.
func BenchmarkMotionTenHertz(b *testing.B) {
	b.Run("estimator", func(b *testing.B) {
		e := New()
		now := start
		n := 0
		for b.Loop() {
			n++
			now += 100
			hdg := 200 + 90*float64(n/600%2)
			e.Motion(Sight{State: boat.State{T: now, HeadingDeg: boat.Some(hdg), HeadingBy: "compass", SpeedKn: boat.Some(3),
				HeelDeg: boat.Some(8)}, Polar: closedForm})
			e.At(now)
		}
	})
	b.Run("floor", floorTenHertz)
}
