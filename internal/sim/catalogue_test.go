package sim_test

import (
	"math"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/sim"
)

// Every scenario is one of its own, can be sailed, and shows the phone it promises.
func TestCatalogueCanBeSailed(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range sim.Catalogue() {
		if seen[c.Name] || c.Name == "" || c.About == "" {
			t.Errorf("%q, %q: a name twice, or nothing said", c.Name, c.About)
		}
		seen[c.Name] = true
		s, err := sim.Make(c, 5, begin)
		if err != nil {
			t.Errorf("%s: %v", c.Name, err)
			continue
		}
		samples, headings := 0, 0
		for range 240 * 10 {
			for _, in := range s.Step() {
				if in.Sample == nil {
					continue
				}
				samples++
				if in.Sample.HeadingDeg.OK {
					headings++
				}
				if math.IsNaN(in.Sample.SOGKn.Val) || math.IsNaN(in.Sample.HeelDeg.Val) {
					t.Fatalf("%s: a reading that is no number: %+v", c.Name, in.Sample)
				}
			}
		}
		if c.Phone.NoCompass != (headings == 0) || samples < 40 {
			t.Errorf("%s: %d samples, %d with a heading", c.Name, samples, headings)
		}
		if s.Settings().Mount == boat.Worn != (c.Phone.Mount == boat.Worn) {
			t.Errorf("%s: mounted %s", c.Name, s.Settings().Mount)
		}
	}
	if len(seen) < 30 {
		t.Errorf("%d scenarios", len(seen))
	}
}

func TestConditionsOutOfReason(t *testing.T) {
	for _, c := range []sim.Conditions{
		{}, {Boat: sim.Boat{LengthM: 4, Jib: true}, Wind: sim.Wind{Kn: -1}},
		{Boat: sim.Boat{LengthM: math.NaN()}, Wind: sim.Wind{Kn: 8}}, {Boat: sim.Boat{LengthM: 40}, Wind: sim.Wind{Kn: 8}},
	} {
		if _, err := sim.Make(c, 1, begin); err == nil {
			t.Errorf("%+v is sailed", c)
		}
	}
}

// What the learner hears changes what they do, and neither the weather nor the phone:
// the wind is the same all along, and the compass is as wrong as before.
func TestACueChangesNoWeather(t *testing.T) {
	p := prepared(t, "first-lesson")
	a, b := p.Make(3, begin), p.Make(3, begin)
	apart := false
	for i := range 600 * 10 {
		x, y := a.Step()[0].Sample, b.Step()[0].Sample
		if i%300 == 299 {
			b.Hear(boat.Cue{Key: boat.BearAway, Amount: boat.Some(10)})
		}
		at, bt := a.Truth(), b.Truth()
		if at.TWDDeg != bt.TWDDeg || at.TWSKn != bt.TWSKn {
			t.Fatalf("after %d steps the wind is %.1f° %.1f kn for one and %.1f° %.1f kn for the other", i, at.TWDDeg, at.TWSKn, bt.TWDDeg, bt.TWSKn)
		}
		apart = apart || math.Abs(geo.Diff(at.HeadingDeg, bt.HeadingDeg)) > 5
		ex, ey := geo.Diff(at.HeadingDeg, x.HeadingDeg.Val), geo.Diff(bt.HeadingDeg, y.HeadingDeg.Val)
		if math.Abs(geo.Diff(ex, ey)) > 7 { // the first harmonic differs with the heading, by at most twice 3 degrees
			t.Fatalf("after %d steps one compass is %.1f° off and the other %.1f°", i, ex, ey)
		}
	}
	if !apart {
		t.Error("twenty cues changed nothing")
	}
}

// Current carries her over the ground and not through the water: made good and course
// differ by what was asked for.
func TestCurrentCarriesHer(t *testing.T) {
	c, err := sim.Named("steady-beat")
	if err != nil {
		t.Fatal(err)
	}
	still := sail(t, c)
	c.Water = sim.Water{SetDeg: 90, DriftKn: 1}
	carried := sail(t, c)
	const metres = 600 * geo.KnotMS
	if d := geo.Distance(still.Pos, carried.Pos); math.Abs(d-metres) > 0.25*metres {
		t.Errorf("a knot of current carries her %.0f m in ten minutes, want %.0f", d, metres)
	}
	if still.TWDDeg != carried.TWDDeg {
		t.Error("the current changed the wind")
	}
}

func sail(t *testing.T, c sim.Conditions) sim.Truth {
	t.Helper()
	c.Course = sim.OneTack
	s, err := sim.Make(c, 2, begin)
	if err != nil {
		t.Fatal(err)
	}
	steps(s, 600)
	return s.Truth()
}

// The three coaches' questions have answers in the truth: easing towards the best sheet
// is what the error says, and the best angle makes more to windward than others.
func TestTheTruthKnowsBest(t *testing.T) {
	s := prepared(t, "first-lesson").Make(1, begin)
	table := s.Polar()
	for range 300 * 10 {
		s.Step()
		now := s.Truth()
		if math.Abs(now.SheetErrDeg()-(now.BestDeg-now.SheetDeg)) > 1e-9 || now.BeatDeg < 38 || now.BeatDeg > 55 || now.RunDeg < 120 {
			t.Fatalf("%+v", now)
		}
		if now.BestKn > 0.5+fastest(table) {
			t.Fatalf("best %.1f kn is more than her table has", now.BestKn)
		}
	}
}

func fastest(p boat.PolarTable) float64 {
	best := 0.0
	for _, row := range p.SpeedKn {
		for _, v := range row {
			best = math.Max(best, v)
		}
	}
	return best
}
