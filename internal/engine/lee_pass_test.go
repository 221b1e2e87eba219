package engine_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/engine"
	"helmcue/internal/geo"
	"helmcue/internal/sim"
)

// woodPass is a simulated learner on a beat towards the lee of a wood, or past it, with
// a chart whose height is not quite right. What the wood does to the wind is the
// simulator's: a table of windbreaks (sim.Row), by which half the wind is back between
// ten and twelve and a half heights, in a wind that swings, drifts and gusts. The
// engine knows of that wind what the learner told at the start and what her motion
// shows. She hears nothing, so that what was foretold can be seen.
type woodPass struct {
	seed    uint64
	under   sim.Conditions
	row     sim.Row
	chartM  float64 // the wood's height by the chart
	passing float64 // seconds after the start, when she would be at the wood's lee
}

const woodStart = boat.Time(1_900_000_000_000)

func simFrame() geo.Frame { return geo.NewFrame(geo.Position{LatDeg: 47.05, LonDeg: -30.4}) }

// newWoodPass lets her sail once without the wood, and puts it near where she came to.
func newWoodPass(t testing.TB, p *sim.Prepared, base sim.Conditions, seed uint64) woodPass {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 4711))
	w := woodPass{seed: seed, under: base, passing: 170 + 130*r.Float64()}
	c := &w.under
	c.Wind.SwingDeg, c.Wind.PeriodS = 10*r.Float64(), 150+250*r.Float64()
	c.Wind.Kn, c.Wind.Gust = 6+6*r.Float64(), 0.05+0.13*r.Float64()
	c.Learner.Skill = 0.3 + 0.6*r.Float64()
	s := w.made(t, p)
	for s.Now().Seconds(woodStart) < w.passing {
		s.Step()
	}
	at := s.Truth()
	x, y := simFrame().To(at.Pos)
	w.row = sim.Row{HeightM: 7 + 9*r.Float64(), LengthM: 60 + 190*r.Float64(), Density: 0.5 + 0.2*r.Float64(),
		AlongDeg: geo.Wrap360(at.TWDDeg + 90 + 25*(2*r.Float64()-1))}
	far, off := w.row.HeightM*(3+17*r.Float64()), w.row.LengthM*(2*r.Float64()-1)*0.8
	us, uc := math.Sincos(geo.Rad(at.TWDDeg))
	as, ac := math.Sincos(geo.Rad(w.row.AlongDeg))
	w.row.EastM, w.row.NorthM = x+far*us+off*as, y+far*uc+off*ac
	c.Wind.Rows = []sim.Row{w.row}
	w.chartM = math.Round(w.row.HeightM * math.Exp(0.12*r.NormFloat64()))
	return w
}

func (w *woodPass) made(t testing.TB, p *sim.Prepared) *sim.Sim {
	t.Helper()
	q, err := p.Under(w.under)
	if err != nil {
		t.Fatal(err)
	}
	return q.Make(w.seed, woodStart)
}

// at returns the place so far along the row and behind it, metres.
func (w *woodPass) at(along, behind float64) [2]float64 {
	as, ac := math.Sincos(geo.Rad(w.row.AlongDeg))
	return [2]float64{w.row.EastM + along*as - behind*ac, w.row.NorthM + along*ac + behind*as}
}

// chart draws the wood: the row is its shore, and it is 50 m deep.
func (w *woodPass) chart() *boat.Water {
	ring := func(corners ...[2]float64) [][]boat.LonLat {
		var out []boat.LonLat
		for _, c := range append(corners, corners[0]) {
			p := simFrame().From(c[0], c[1])
			out = append(out, boat.LonLat{p.LonDeg, p.LatDeg})
		}
		return [][]boat.LonLat{out}
	}
	half := w.row.LengthM / 2
	return &boat.Water{Areas: []boat.Area{
		{Kind: boat.Open, HeightM: boat.Some(0), Rings: ring([2]float64{-3000, -3000}, [2]float64{3000, -3000}, [2]float64{3000, 3000}, [2]float64{-3000, 3000})},
		{Kind: boat.Land, HeightM: boat.Some(w.chartM), Porosity: 1 - w.row.Density, Rings: ring(w.at(-half, 0), w.at(half, 0), w.at(half, 50), w.at(-half, 50))},
	}}
}

// ashore says whether she is in the wood or right before it.
func (w *woodPass) ashore(at geo.Position) bool {
	x, y := simFrame().To(at)
	as, ac := math.Sincos(geo.Rad(w.row.AlongDeg))
	dx, dy := x-w.row.EastM, y-w.row.NorthM
	along, behind := dx*as+dy*ac, dy*as-dx*ac
	return behind > -12 && behind < 62 && math.Abs(along) < w.row.LengthM/2+12
}

// woodSeen is what came of a pass, seconds after its start; NaN for never.
type woodSeen struct{ told, entry, deadS float64 }

func (w *woodPass) sail(t testing.TB, p *sim.Prepared) woodSeen {
	t.Helper()
	s, e := w.made(t, p), engine.New()
	set := s.Settings()
	set.Water = w.chart()
	e.Step(boat.Input{T: s.Now(), Kind: boat.SettingsIn, Settings: &set})
	out := woodSeen{told: math.NaN(), entry: math.NaN()}
	for s.Now().Seconds(woodStart) < w.passing+150 && !w.ashore(s.Truth().Pos) {
		for _, in := range s.Step() {
			for _, o := range e.Step(in) {
				if c := o.Cue; c != nil && (c.WhyCode == "lee" || c.WhyCode == "flat_water") && math.IsNaN(out.told) {
					out.told = c.T.Seconds(woodStart)
				}
			}
		}
		if !s.Truth().Lee {
			continue
		}
		if out.deadS += 0.1; math.IsNaN(out.entry) {
			out.entry = s.Now().Seconds(woodStart)
		}
	}
	return out
}

// woodCount counts what came of the passes. A lee is brushed where she is in it for
// less than twelve seconds. A call is late that leaves no time for a tack of nine
// seconds and ten more; it is false where no lee comes within 100 s.
type woodCount struct{ entered, missed, brushed, late, called, wrong int }

func (n *woodCount) count(w *woodPass, got woodSeen) (what string) {
	told, entered := !math.IsNaN(got.told), !math.IsNaN(got.entry)
	if entered {
		n.entered++
	}
	if told {
		n.called++
	}
	switch lead := got.entry - got.told; {
	case told && (!entered || lead > 100):
		n.wrong++
		what = "false"
	case !entered:
	case (!told || lead <= 0) && got.deadS < 12:
		n.brushed++
		what = "brushed"
	case !told || lead <= 0:
		n.missed++
		what = "missed"
	case lead < 19:
		n.late++
		what = "late"
	}
	if what != "" {
		what = fmt.Sprintf("seed %d: %s: told at %.0f s, in dead air from %.0f s for %.0f s; wood %.1f m high, by the chart %.0f, %.0f m long, dense to %.2f, wind of %.1f knots swinging by %.0f",
			w.seed, what, got.told, got.entry, got.deadS, w.row.HeightM, w.chartM, w.row.LengthM, w.row.Density, w.under.Wind.Kn, w.under.Wind.SwingDeg)
	}
	return what
}

// Of the design: at most one call in twenty false, and time left to tack. What it does
// not name is held to: one lee in four missed, one call in six late. So few passes
// scatter, so one false call more is let pass; HELMCUE_SEEDS=400 sails enough, and
// DEVELOPERS.md has what came of that.
func TestWoodsInAMovingWind(t *testing.T) {
	base, err := sim.Named("one-tack")
	if err != nil {
		t.Fatal(err)
	}
	base.Learner.GuessesWind = true
	p, err := sim.Prepare(base)
	if err != nil {
		t.Fatal(err)
	}
	seeds := 20
	if n, err := strconv.Atoi(os.Getenv("HELMCUE_SEEDS")); err == nil && n > seeds {
		seeds = n
	}
	var n woodCount
	for seed := range uint64(seeds) {
		w := newWoodPass(t, p, base, seed)
		if what := n.count(&w, w.sail(t, p)); what != "" {
			t.Log(what)
		}
	}
	t.Logf("%+v", n)
	if 2*n.entered < seeds || 3*n.called < seeds {
		t.Fatalf("%+v: the passes test nothing", n)
	}
	if 20*(n.wrong-1) > n.called || 4*n.missed > n.entered || 6*n.late > n.called {
		t.Errorf("%+v: too many false, missed or late", n)
	}
}
