package compass

import (
	"math"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Drives with twelve tacks and a receiver that is late by a known time: after them
// the lag is known to a few tenths, and not better than it is stated.
func TestLagIsFoundInTurns(t *testing.T) {
	inside, n := 0, 0
	for _, late := range []float64{0.6, 1, 1.4, 1.8, 2.4} {
		for seed := range uint64(6) {
			w := newWorld(seed + 1)
			w.lagS = late
			e := New()
			w.sail(e, beat(12, 40), nil)
			s, sd := e.LagS()
			n++
			if math.Abs(s-late) < 1.645*sd {
				inside++
			}
			if math.Abs(s-late) > 0.5 {
				t.Errorf("late by %.1f s, seed %d: found %.2f ± %.2f s", late, seed, s, sd)
			}
			if sd > 0.2 {
				t.Errorf("after eleven turns the lag is doubtful by %.2f s", sd)
			}
		}
	}
	if inside < n*7/10 {
		t.Errorf("the lag lies in its 90 %% interval %d times of %d", inside, n)
	}
}

func TestSmallTurnsShowNoLag(t *testing.T) {
	w := newWorld(5)
	w.lagS = 2.6
	e := New()
	var legs []legOf
	for i := range 12 {
		legs = append(legs, legOf{headingDeg: 80 + 30*float64(i%2), kn: 4, s: 40, twaDeg: -90})
	}
	w.sail(e, legs, nil)
	if s, sd := e.LagS(); s != priorLagS || sd != priorLagSD {
		t.Errorf("turns of 30 degrees made it %.2f ± %.2f s", s, sd)
	}
}

// A bow that swings without the course following, as at a mooring, shows none.
func TestSwingingShowsNoLag(t *testing.T) {
	e := New()
	for i := range 4000 {
		now := begin + boat.Time(i*200)
		e.Bow(now, geo.Wrap360(50*math.Sin(float64(i)/40)))
		if i%5 == 0 {
			e.Course(Course{T: now, COGDeg: geo.Wrap360(90 + 20*math.Cos(float64(i))), SOGKn: 1.5})
		}
	}
	if s, sd := e.LagS(); math.Abs(s-priorLagS) > 0.3 || sd < 0.3 {
		t.Errorf("swinging made it %.2f ± %.2f s", s, sd)
	}
}

func TestTrailRunsThroughNorth(t *testing.T) {
	var p trail
	if _, ok := p.at(begin); ok {
		t.Error("an empty trail shows a heading")
	}
	for i := range 300 { // more than it holds, 10 degrees a second
		p.add(begin+boat.Time(i*100), geo.Wrap360(355+float64(i)))
	}
	last := begin + 29900
	for _, back := range []float64{0, 0.05, 0.1, 1.33, 12} {
		deg, ok := p.at(last.After(-back))
		if want := 355 + 299 - 10*back; !ok || math.Abs(geo.Diff(deg, want)) > 1e-6 {
			t.Errorf("%v s ago: got %v %v, expected %v", back, geo.Wrap360(deg), ok, geo.Wrap360(want))
		}
	}
	if _, ok := p.at(begin); ok {
		t.Error("what was overwritten is still shown")
	}
	if _, ok := p.at(last.After(1.5)); ok {
		t.Error("the future is shown")
	}
	p.add(last.After(20), 90)
	if _, ok := p.at(last.After(10)); ok {
		t.Error("a silence of 20 s is filled in")
	}
}
