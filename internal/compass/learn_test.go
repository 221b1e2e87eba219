package compass

import (
	"math"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// figures are taken in the last two legs, over many worlds.
type figures struct {
	n                 int
	before, after, sd float64 // squares, degrees
	inside            int     // heading within its 90 %
	current, leeway   int     // worlds in which they are within theirs
	worlds            int
}

func over(seeds int, legs []legOf, change func(*world)) figures {
	var f figures
	for seed := range seeds {
		w := newWorld(uint64(seed) + 1)
		if change != nil {
			change(w)
		}
		e := New()
		w.sail(e, legs[:len(legs)-2], nil)
		w.sail(e, legs[len(legs)-2:], func(trueDeg, shownDeg float64) {
			d := geo.Diff(trueDeg, shownDeg)
			a := geo.Diff(trueDeg, shownDeg+e.Deviation().At(shownDeg))
			sd := e.SD(shownDeg)
			f.n++
			f.before += d * d
			f.after += a * a
			f.sd += sd * sd
			if math.Abs(a) < 1.645*sd {
				f.inside++
			}
		})
		f.worlds++
		c := e.Learner().Current()
		if math.Abs(c.EastKn-w.east) < 1.645*c.SDKn && math.Abs(c.NorthKn-w.north) < 1.645*c.SDKn {
			f.current++
		}
		if lee, sd := e.Learner().Leeway(); math.Abs(lee-w.leeway) < 1.645*sd {
			f.leeway++
		}
	}
	return f
}

func (f figures) rms(sum float64) float64 { return math.Sqrt(sum / float64(f.n)) }

func (f figures) log(t *testing.T, name string) {
	t.Helper()
	t.Logf("%-26s off by %5.2f° as shown, %5.2f° mended, %5.2f° stated; inside 90 %%: heading %3.0f %%, current %3.0f %%, leeway %3.0f %%", name,
		f.rms(f.before), f.rms(f.after), f.rms(f.sd), 100*float64(f.inside)/float64(f.n),
		100*float64(f.current)/float64(f.worlds), 100*float64(f.leeway)/float64(f.worlds))
}

// share is how much of the compass error is left.
func (f figures) share() float64 { return f.rms(f.after) / f.rms(f.before) }

// Errors drawn wider than a good compass's prior and narrower than a bad one's, and
// a current likewise: what is stated must hold, and headings all round must help.
func TestWhatIsStatedHolds(t *testing.T) {
	rounds := append(round(90), round(90)...)
	for _, c := range []struct {
		name   string
		legs   []legOf
		change func(*world)
		most   float64 // share of the error left
	}{
		{"one round", round(90), nil, 0.75},
		{"two rounds", rounds, nil, 0.62},
		{"eight tacks", beat(8, 90), nil, 0.7},
		{"one round, side unknown", round(90), func(w *world) { w.blind = true }, 0.9},
		{"one round with a log", round(90), func(w *world) { w.log = true }, 0.45},
		{"two rounds, bad compass", rounds, func(w *world) { w.dev = times(w.dev, 2) }, 0.5},
		{"two rounds, good compass", rounds, func(w *world) { w.dev = times(w.dev, 0.3) }, 1},
	} {
		f := over(40, c.legs, c.change)
		f.log(t, c.name)
		if f.share() > c.most {
			t.Errorf("%s: %.2f of the error is left, at most %.2f is meant", c.name, f.share(), c.most)
		}
		if in := float64(f.inside) / float64(f.n); in < 0.8 {
			t.Errorf("%s: inside the 90 %% interval only %.0f %% of the time", c.name, 100*in)
		}
		if r := f.rms(f.sd) / f.rms(f.after); r < 0.75 {
			t.Errorf("%s: it is off by %.1f° and states %.1f°", c.name, f.rms(f.after), f.rms(f.sd))
		}
		if f.current < f.worlds*6/10 || f.leeway < f.worlds*6/10 {
			t.Errorf("%s: current inside in %d, leeway in %d of %d worlds", c.name, f.current, f.leeway, f.worlds)
		}
	}
}

// On one tack nothing tells compass, leeway and current apart.
func TestOneTackMendsNothing(t *testing.T) {
	legs := []legOf{{315, 3.6, 300, 45}, {315, 3.6, 300, 45}, {315, 3.6, 300, 45}}
	f := over(40, legs, nil)
	f.log(t, "one tack")
	if f.share() != 1 {
		t.Errorf("the heading was changed: %.2f° became %.2f°", f.rms(f.before), f.rms(f.after))
	}
	if f.rms(f.sd) < 4.5 {
		t.Errorf("the heading is claimed to %.1f° though nothing can be known", f.rms(f.sd))
	}
	if in := float64(f.inside) / float64(f.n); in < 0.8 {
		t.Errorf("inside the 90 %% interval only %.0f %% of the time", 100*in)
	}
}

// A tide that nobody told of must not spoil a good compass, nor leave a bad one
// claimed for good.
func TestTideSpoilsNoCompass(t *testing.T) {
	fro := []legOf{}
	for range 4 {
		fro = append(fro, legOf{90, 5.5, 120, -90}, legOf{270, 5.5, 120, 90})
	}
	one := []legOf{{90, 5.5, 300, -90}, {90, 5.5, 200, -90}, {90, 5.5, 200, -90}}
	for _, tide := range [][2]float64{{1.3, 0}, {0, 1.3}, {0.7, 0.7}} {
		for _, c := range []struct {
			name string
			legs []legOf
		}{{"to and fro", fro}, {"one reach", one}, {"two rounds", append(round(90), round(90)...)}} {
			for _, k := range []float64{0.2, 1} {
				f := over(15, c.legs, func(w *world) {
					w.dev = times(w.dev, k)
					w.east, w.north = tide[0], tide[1]
				})
				f.log(t, c.name)
				if f.rms(f.after) > f.rms(f.before)+0.4 {
					t.Errorf("%s, tide %v: %.2f° became %.2f°", c.name, tide, f.rms(f.before), f.rms(f.after))
				}
				if in := float64(f.inside) / float64(f.n); in < 0.7 {
					t.Errorf("%s, tide %v: inside the 90 %% interval only %.0f %% of the time", c.name, tide, 100*in)
				}
			}
		}
	}
}

// A magnet laid beside the phone halfway round.
func TestMagnetIsUnlearned(t *testing.T) {
	legs := append(round(90), round(90)...)
	f := over(30, legs, func(w *world) { w.jumpAt, w.jump = 600, boat.Deviation{ADeg: 20, BDeg: -5} })
	f.log(t, "magnet")
	if f.share() > 0.25 {
		t.Errorf("%.2f of the error is left a round later", f.share())
	}
	worst := 0.0
	w := newWorld(3)
	w.jumpAt, w.jump = 600, boat.Deviation{ADeg: -25}
	e := New()
	w.sail(e, legs, func(trueDeg, shownDeg float64) {
		if w.t > 600+20+8 { // one fact is enough to doubt
			off := math.Abs(geo.Diff(trueDeg, shownDeg+e.Deviation().At(shownDeg)))
			worst = math.Max(worst, off/e.SD(shownDeg))
		}
	})
	if worst > 3 {
		t.Errorf("after the magnet the heading was off by %.1f times what was stated", worst)
	}
}

// A phone laid across the boat or the wrong way round: on one heading it may be the
// stream, on several it is the phone. Until then the doubt is as large as the angle.
func TestPhoneLaidAskewIsFound(t *testing.T) {
	for _, by := range []float64{-90, 75, 180} {
		for seed := range uint64(5) {
			w := newWorld(seed + 1)
			w.dev.ADeg += by
			e := New()
			w.sail(e, beat(1, 90), nil)
			if e.Deviation() != (boat.Deviation{}) || e.SD(10) < 50 {
				t.Errorf("by %v: on one tack already %+v ± %.0f", by, e.Deviation(), e.SD(10))
			}
			w.sail(e, beat(7, 90), nil)
			n, sum := 0, 0.0
			w.sail(e, beat(2, 90), func(trueDeg, shownDeg float64) {
				d := geo.Diff(trueDeg, shownDeg+e.Deviation().At(shownDeg))
				n, sum = n+1, sum+d*d
			})
			if off := math.Sqrt(sum / float64(n)); off > 15 {
				t.Errorf("by %v, seed %d: off by %.1f degrees after ten tacks", by, seed, off)
			}
		}
	}
}

func times(d boat.Deviation, k float64) boat.Deviation {
	return boat.Deviation{ADeg: d.ADeg * k, BDeg: d.BDeg * k, CDeg: d.CDeg * k}
}
