package water

import (
	"math"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// slow answers by looking at every edge: the second implementation.
type slow struct{ *Chart }

func (s slow) clear(p point) float64 {
	best := math.Inf(1)
	for i := range s.edges {
		best = math.Min(best, s.edges[i].away(p))
	}
	return best
}

func (s slow) hit(p point, deg float64) float64 {
	best := math.Inf(1)
	sin, cos := math.Sincos(geo.Rad(deg))
	for i := range s.edges {
		if d, ok := s.edges[i].cut(p, point{sin, cos}); ok {
			best = math.Min(best, d)
		}
	}
	return best
}

func (s slow) afloat(p point) bool {
	open, ground := false, false
	for i, a := range s.areas {
		odd := false
		for _, e := range s.edges {
			if int(e.area) == i && (e.ay > p.y) != (e.by > p.y) && e.ax+(e.bx-e.ax)*(p.y-e.ay)/(e.by-e.ay) > p.x {
				odd = !odd
			}
		}
		open = open || odd && a.kind == boat.Open
		ground = ground || odd && a.kind != boat.Open
	}
	return !ground && (open || !s.open)
}

func (s slow) upwind(p point, deg float64) met {
	m := met{noHeightM: math.Inf(1)}
	sin, cos := math.Sincos(geo.Rad(deg))
	for i := range s.edges {
		if d, ok := s.edges[i].cut(p, point{sin, cos}); ok {
			m.take(s.Chart, s.edges[i].area, d)
		}
	}
	return m
}

func (s slow) lee(p point, w Wind) Lee {
	var sum gathered
	var out Lee
	for i, from := range w.spread() {
		m := s.upwind(p, from)
		sum.add(m, s.Chart)
		if i == 0 {
			out.Band, out.Heights = m.band(s.Chart)
		}
	}
	sum.into(&out)
	return out
}

func TestTheIndexAnswersAsLookingAtEveryEdgeDoes(t *testing.T) {
	for seed := range uint64(6) {
		r := rng(seed)
		c := made(t, roundLake(r, 900, 60+int(seed)*150)...)
		for range 300 {
			p := point{2200 * (r.Float64() - 0.5), 2200 * (r.Float64() - 0.5)}
			deg := 360 * r.Float64()
			if got, want := c.grid.nearest(p, 5000), (slow{c}).clear(p); got != want {
				t.Fatalf("seed %d at %v: nearest %g, want %g", seed, p, got, want)
			}
			if got, want := c.firstHit(p, deg, 1e5), (slow{c}).hit(p, deg); got != want {
				t.Fatalf("seed %d at %v on %g: shore %g, want %g", seed, p, deg, got, want)
			}
			if got, want := c.afloat(p), (slow{c}).afloat(p); got != want {
				t.Fatalf("seed %d at %v: afloat %v, want %v", seed, p, got, want)
			}
			w := Wind{deg, 20 * r.Float64()}
			got, want := c.lee(p, w), (slow{c}).lee(p, w)
			if math.Abs(got.Dead-want.Dead) > 1e-12 || got.Band != want.Band || got.Heights != want.Heights || math.Abs(got.Open-want.Open) > 1e-12 {
				t.Fatalf("seed %d at %v: %+v, want %+v", seed, p, got, want)
			}
		}
	}
}

// A wall 10 m high from west to east, the wind from the north: the distances are
// arithmetic.
func TestBehindAWall(t *testing.T) {
	c := made(t, land(10, box(-2000, 0, 2000, 200)...), land(0, box(-2000, -2000, 2000, -1990)...))
	for _, k := range []struct {
		southM float64
		band   Band
	}{{30, Doubtful}, {70, Dead}, {99, Dead}, {150, Disturbed}, {250, Slight}, {310, Clear}} {
		got := c.Lee(place(0, -k.southM), Wind{0, 3})
		if got.Band != k.band || math.Abs(got.Heights-k.southM/10) > 0.01 {
			t.Errorf("%g m behind: %s at %.2f heights, want %s", k.southM, got.Band, got.Heights, k.band)
		}
	}
	near, mid, far := c.Lee(place(0, -60), Wind{0, 3}), c.Lee(place(0, -105), Wind{0, 3}), c.Lee(place(0, -220), Wind{0, 3})
	if near.Dead < 0.95 || far.Dead > 0.01 || mid.Dead < 0.25 || mid.Dead > 0.6 {
		t.Errorf("dead air %.2f at 6 heights, %.2f at 10.5, %.2f at 22", near.Dead, mid.Dead, far.Dead)
	}
	if l := c.Lee(place(0, -60), Wind{180, 3}); l.Band != Clear || l.Dead != 0 || l.Open != 1 {
		t.Errorf("with the wall to leeward: %+v", l)
	}
	if l := c.Lee(place(0, 100), Wind{0, 3}); l.Band != Ashore {
		t.Errorf("on the wall: %s", l.Band)
	}
	if l := c.Lee(place(0, 5000), Wind{0, 3}); l.Band != OffChart {
		t.Errorf("beyond the chart: %s", l.Band)
	}
}

func TestLowLandTakesNoWindAndUnknownHeightSaysSo(t *testing.T) {
	low := made(t, land(0, box(-500, 0, 500, 200)...), land(0, box(-500, -900, 500, -890)...))
	if l := low.Lee(place(0, -20), Wind{0, 3}); l.Band != Clear || l.Dead != 0 || l.NoHeight != 0 {
		t.Errorf("behind flat land: %+v", l)
	}
	bare := land(0, box(-500, 0, 500, 200)...)
	bare.HeightM = boat.Reading{}
	c := made(t, bare, land(0, box(-500, -900, 500, -890)...))
	if l := c.Lee(place(0, -20), Wind{0, 3}); l.Band != NoHeight || l.Dead != 0 || l.NoHeight != 1 {
		t.Errorf("behind land of unknown height: %+v", l)
	}
}

// A wind that is less sure spreads the lee: behind a narrow tower it grows less
// certain, beside it more possible.
func TestADoubtfulWindMakesTheLeeDoubtful(t *testing.T) {
	c := made(t, land(12, box(-10, 0, 10, 20)...), land(0, box(-900, -900, 900, -890)...))
	sure, unsure := c.Lee(place(0, -80), Wind{0, 1}), c.Lee(place(0, -80), Wind{0, 25})
	if !(sure.Dead > unsure.Dead+0.2) {
		t.Errorf("behind: %.2f sure, %.2f unsure", sure.Dead, unsure.Dead)
	}
	sure, unsure = c.Lee(place(45, -80), Wind{0, 1}), c.Lee(place(45, -80), Wind{0, 25})
	if !(sure.Dead == 0 && unsure.Dead > 0) {
		t.Errorf("beside: %.2f sure, %.2f unsure", sure.Dead, unsure.Dead)
	}
}

func TestTurningTheWorldTurnsTheAnswer(t *testing.T) {
	for seed := range uint64(5) {
		r := rng(100 + seed)
		shape, at := box(-300, 100, 250, 260), point{400 * (r.Float64() - 0.5), -150 * r.Float64()}
		shape[1].y -= 60
		frame := box(-900, -900, 900, 900)
		from, sd, turn := 60*(r.Float64()-0.5), 4+8*r.Float64(), 360*r.Float64()
		sin, cos := math.Sincos(geo.Rad(turn))
		rot := func(p point) point { return point{p.x*cos + p.y*sin, p.y*cos - p.x*sin} }
		mir := func(p point) point { return point{-p.x, p.y} }
		ask := func(f func(point) point, deg float64) Lee {
			var s, o []point
			for i := range shape {
				s, o = append(s, f(shape[i])), append(o, f(frame[i]))
			}
			c := made(t, land(11, s...), boat.Area{Kind: boat.Open, HeightM: boat.Some(0), Rings: [][]boat.LonLat{ring(here(), o...)}})
			p := f(at)
			return c.Lee(place(p.x, p.y), Wind{deg, sd})
		}
		plain := ask(func(p point) point { return p }, from)
		for name, other := range map[string]Lee{"turned": ask(rot, from+turn), "mirrored": ask(mir, -from)} {
			if math.Abs(other.Dead-plain.Dead) > 0.02 || other.Band != plain.Band && math.Abs(plain.Heights-other.Heights) > 0.02 {
				t.Errorf("seed %d %s: %+v, plain %+v", seed, name, other, plain)
			}
		}
	}
}

func TestSeveralObstaclesAddUp(t *testing.T) {
	one := made(t, land(10, box(-900, 0, 900, 10)...), land(0, box(-900, -900, 900, -890)...))
	two := made(t, land(10, box(-900, 0, 900, 10)...), land(14, box(-900, 30, 900, 40)...), land(0, box(-900, -900, 900, -890)...))
	a, b := one.Lee(place(0, -95), Wind{0, 3}), two.Lee(place(0, -95), Wind{0, 3})
	if !(b.Dead > a.Dead && b.Open < a.Open) {
		t.Errorf("one wall %+v, two %+v", a, b)
	}
}

func TestShoreOnACourse(t *testing.T) {
	c := made(t, land(3, box(-2000, 0, 2000, 200)...), land(3, box(-2000, -1000, 2000, -990)...))
	if got := c.ShoreM(place(0, -300), 0, 1000); math.Abs(got-300) > 1 {
		t.Errorf("square to the shore: %g m, want 300", got)
	}
	// At 60 degrees off the nearer edge of the fan counts: 300 / cos 56.
	if got, want := c.ShoreM(place(0, -300), 60, 1000), 300/math.Cos(geo.Rad(60-fanDeg)); math.Abs(got-want) > 1 {
		t.Errorf("at sixty degrees: %g m, want %g", got, want)
	}
	if got := c.ShoreM(place(0, -300), 90, 1000); !math.IsInf(got, 1) {
		t.Errorf("along the shore: %g m", got)
	}
	r := c.Ahead(Course{From: place(0, -300), Deg: 0, Kn: 3, AccM: 5, Wind: Wind{180, 5}, S: 240})
	if want := 295 / (3 * geo.KnotMS); math.Abs(r.ShoreS.Val-want) > 1 || r.EntryS.OK {
		t.Errorf("ahead: %+v, want the shore in %.0f s", r, want)
	}
}

func TestDeadAirAheadIsFoundBeforeItIsReached(t *testing.T) {
	c := made(t, land(10, box(-2000, 0, 2000, 200)...), land(0, box(-2000, -2000, 2000, -1990)...))
	k := Course{From: place(0, -300), Deg: 0, Kn: 3.5, Wind: Wind{0, 4}, S: 120}
	r := c.Ahead(k)
	// The border of ten heights lies at 100 m: 200 m on, at 1.8 m/s.
	if want := 200 / (3.5 * geo.KnotMS); !r.EntryS.OK || math.Abs(r.EntryS.Val-want) > 6 || r.Deep < 0.9 {
		t.Errorf("%+v, want the entry in %.0f s", r, want)
	}
	k.Deg = 100
	if !c.Free(k) || c.Free(Course{From: k.From, Deg: 0, Kn: 3.5, Wind: k.Wind, S: 120}) {
		t.Error("the course away from the wall is free, the one towards it is not")
	}
	k.Deg, k.S = 90, 3600
	if c.Free(k) {
		t.Error("a course out of the chart is called free")
	}
}

func TestBridgesStandInTheWayOfTallMasts(t *testing.T) {
	w := boat.Water{
		Areas:   []boat.Area{{Kind: boat.Open, Rings: [][]boat.LonLat{ring(here(), box(-500, -500, 500, 500)...)}}},
		Bridges: []boat.Bridge{{ClearM: boat.Some(6), Line: ring(here(), point{-500, 100}, point{500, 100})[:2]}},
	}
	low, err := New(w, 5)
	if err != nil {
		t.Fatal(err)
	}
	high, err := New(w, 7)
	if err != nil {
		t.Fatal(err)
	}
	if d := low.ShoreM(place(0, 0), 0, 300); !math.IsInf(d, 1) {
		t.Errorf("a mast of 5 m is stopped at %g m by a bridge of 6", d)
	}
	if d := high.ShoreM(place(0, 0), 0, 300); math.Abs(d-100) > 1 {
		t.Errorf("a mast of 7 m: %g m to the bridge, want 100", d)
	}
}

func TestAChartAcrossTheDateLine(t *testing.T) {
	edge := geo.Position{LatDeg: -17, LonDeg: 179.999}
	c, err := New(boat.Water{Areas: []boat.Area{{Kind: boat.Open, Rings: [][]boat.LonLat{ring(edge, box(-800, -400, 800, 400)...)}}}}, 7)
	if err != nil {
		t.Fatal(err)
	}
	f := geo.NewFrame(edge)
	for _, x := range []float64{-700, 0, 700} {
		p := f.From(x, 0)
		if !c.Afloat(p) || math.Abs(c.ShoreM(p, 90, 3000)-(800-x)) > 2 {
			t.Errorf("%g m east of the line's neighbour: afloat %v, %g m to the shore", x, c.Afloat(p), c.ShoreM(p, 90, 3000))
		}
	}
}

func TestChartsThatCannotBeAreRefused(t *testing.T) {
	huge := []boat.LonLat{{0, 0}, {5, 0}, {5, 5}, {0, 0}}
	for name, w := range map[string]boat.Water{
		"nothing":  {},
		"no shore": {Areas: []boat.Area{{Kind: boat.Land}}},
		"a point":  {Areas: []boat.Area{{Kind: boat.Land, Rings: [][]boat.LonLat{{{1, 1}, {1, 1}}}}}},
		"too wide": {Areas: []boat.Area{{Kind: boat.Land, Rings: [][]boat.LonLat{huge}}}},
		"no place": {Areas: []boat.Area{{Kind: boat.Land, Rings: [][]boat.LonLat{{{1, math.NaN()}, {1, 1}}}}}},
		"polar":    {Areas: []boat.Area{{Kind: boat.Land, Rings: [][]boat.LonLat{{{1, 89.5}, {1.1, 89.5}, {1, 89.6}}}}}},
	} {
		if _, err := New(w, 7); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
}
