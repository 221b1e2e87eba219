package cue

import (
	"math"
	"math/rand/v2"
	"testing"

	"helmcue/internal/boat"
)

// trimmer is a sailor who does what the search asks, in a wind that makes her speed
// wander. Each hair nearer to where the sheet belongs brings gain, share of speed.
type trimmer struct {
	r        *rand.Rand
	gain     float64
	scatter  float64 // of her speed, share
	tauS     float64 // over which it wanders
	base     float64
	best     float64 // hairs out from the first sheet
	noise    float64
	at, goal float64 // hairs out: now (as her speed shows) and where the hand went
	said     int     // cues seen
	good     int
	back     int
	hold     int
}

func (tr *trimmer) sail(sc *scene) {
	sc.run(600, func(s *Situation, _ float64) {
		a := math.Exp(-0.1 / tr.tauS)
		tr.noise = a*tr.noise + tr.scatter*math.Sqrt(1-a*a)*tr.r.NormFloat64()
		for _, c := range sc.cues[tr.said:] {
			tr.hear(c)
		}
		tr.said = len(sc.cues)
		tr.at += (tr.goal - tr.at) * 0.1 / 5
		s.pace(tr.base * math.Exp(tr.noise-tr.gain*math.Abs(tr.best-tr.at)))
	})
}

func (tr *trimmer) hear(c boat.Cue) {
	switch {
	case c.Key == boat.Ease && c.Size == boat.Hair:
		tr.goal++
	case c.Key == boat.Trim && c.Size == boat.Hair:
		tr.goal--
	case c.Key == boat.Back:
		tr.goal, tr.back = 0, tr.back+1
	case c.Key == boat.Good && c.Variant == "once_more":
		tr.goal, tr.good = tr.goal+1, tr.good+1
	case c.Key == boat.Hold:
		tr.hold++
	}
}

// reacher is a boat held on a reach at an improver's level, a little slow.
func reacher(t *testing.T) *scene {
	sc := fresh(t, boat.Improver)
	sc.s.angle(85)
	sc.s.mode(boat.Reaching)
	sc.s.Target.HereKn = 4.2
	sc.s.pace(0.85)
	return sc
}

// search sails n sessions of ten minutes and returns how many heard that the first
// change was good, and how many were asked for one at all.
func searchMany(t *testing.T, n int, gain, scatter, tauS float64) (good, asked int) {
	for seed := range n {
		sc := reacher(t)
		tr := &trimmer{r: rand.New(rand.NewPCG(uint64(seed), 7)), gain: gain, scatter: scatter, tauS: tauS, base: 0.85, best: 3}
		if gain < 0 { // the sheet is right: any change costs
			tr.gain, tr.best = -gain, 0
		}
		tr.sail(sc)
		tried := false
		for _, c := range sc.cues {
			tried = tried || c.WhyCode == "trim_search"
		}
		if tried {
			asked++
		}
		if tr.good > 0 {
			good++
		}
	}
	return good, asked
}

// The bar: at most one search in twenty is praised for nothing. A session holds up
// to three searches, so a session's share may be as much as three times that.
func TestTrimSearchPraisesNoGust(t *testing.T) {
	const n = 40
	for _, w := range []struct{ scatter, tauS float64 }{{0.03, 10}, {0.05, 15}, {0.05, 40}, {0.08, 25}} {
		for _, gain := range []float64{0, -0.04} {
			good, asked := searchMany(t, n, gain, w.scatter, w.tauS)
			t.Logf("scatter %.2f over %.0f s, a hair changes %+.2f: praised in %d of %d sessions", w.scatter, w.tauS, gain, good, asked)
			if asked < n/2 {
				t.Errorf("only %d of %d sessions were searched", asked, n)
			}
			if good > n*10/100 {
				t.Errorf("scatter %.2f over %.0f s, gain %+.2f: praised in %d of %d sessions of up to three searches", w.scatter, w.tauS, gain, good, asked)
			}
		}
	}
}

func TestTrimSearchFindsTheSheet(t *testing.T) {
	const n = 40
	for _, w := range []struct{ gain, scatter, least float64 }{{0.06, 0.02, 0.8}, {0.06, 0.04, 0.4}, {0.1, 0.05, 0.4}} {
		good, _ := searchMany(t, n, w.gain, w.scatter, 15)
		t.Logf("a hair brings %.2f in a scatter of %.2f: found in %d of %d", w.gain, w.scatter, good, n)
		if float64(good) < w.least*n {
			t.Errorf("a hair brings %.2f in a scatter of %.2f: found in %d of %d, want %.0f %%", w.gain, w.scatter, good, n, 100*w.least)
		}
	}
}

func TestTrimSearchTakesBackWhatHarms(t *testing.T) {
	sc := reacher(t)
	tr := &trimmer{r: rand.New(rand.NewPCG(3, 3)), gain: 0.08, scatter: 0.01, tauS: 15, base: 0.85}
	tr.sail(sc)
	if tr.good != 0 || tr.back == 0 {
		t.Errorf("a hair out costs 8 %%: said %v, want it taken back and not praised", sc.keys())
	}
	if tr.back > 0 && math.Abs(tr.goal) > 1 {
		t.Errorf("the sheet ends %.0f hairs from where it was, want at most one", tr.goal)
	}
}

func TestTrimSearchKeepsOut(t *testing.T) {
	searches := func(change func(*scene)) bool {
		sc := reacher(t)
		change(sc)
		sc.run(400, nil)
		for _, c := range sc.cues {
			if c.WhyCode == "trim_search" {
				return true
			}
		}
		return false
	}
	if !searches(func(*scene) {}) {
		t.Fatal("nothing was searched on a held course a little slow")
	}
	for name, change := range map[string]func(*scene){
		"beginner":      func(sc *scene) { sc.s.Settings.Level = boat.Beginner },
		"full speed":    func(sc *scene) { sc.s.pace(1) },
		"light air":     func(sc *scene) { sc.s.Target.BeatKn, sc.s.Target.HereKn = 1.2, 1.3 },
		"wind unknown":  func(sc *scene) { sc.s.noWind() },
		"much heel":     func(sc *scene) { sc.s.State.HeelDeg = boat.Some(-24) },
		"running":       func(sc *scene) { sc.s.angle(165); sc.s.mode(boat.Running) },
		"phone is away": func(sc *scene) { sc.s.Deaf = true },
	} {
		if searches(change) {
			t.Errorf("%s: a hair was asked for, want none", name)
		}
	}
}
