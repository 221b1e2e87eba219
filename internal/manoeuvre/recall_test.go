package manoeuvre_test

import (
	"math"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/sim"
)

// tally is how what was told compares with what was true.
type tally struct {
	right, told, truth int
	eyeErr             []float64 // seconds
}

// add matches within ten seconds of the eye.
func (c *tally) add(t *testing.T, s session, told []boat.Manoeuvre, truth []event) {
	used := make([]bool, len(truth))
	for _, m := range told {
		ok := false
		for i, e := range truth {
			if !used[i] && e.kind == m.Kind && math.Abs(e.eye.Seconds(m.Eye)) < 10 {
				used[i], ok = true, true
				c.right++
				c.eyeErr = append(c.eyeErr, m.Eye.Seconds(e.eye))
				break
			}
		}
		if !ok {
			t.Logf("%s, %s, seed %d: wrongly told a %s at %.0f s", s.how.name, s.scene, s.seed, m.Kind, m.Eye.Seconds(begin))
		}
	}
	for i, e := range truth {
		if !used[i] {
			t.Logf("%s, %s, seed %d: missed the %s at %.0f s", s.how.name, s.scene, s.seed, e.kind, e.eye.Seconds(begin))
		}
	}
	c.told += len(told)
	c.truth += len(truth)
}

func rms(xs []float64) float64 {
	sum := 0.0
	for _, x := range xs {
		sum += x * x
	}
	return math.Sqrt(sum / float64(len(xs)))
}

// The bar is 95 % of both; a compass puts the eye within a second, a course alone
// within two, since its lag is not known better. A wind eight degrees off moves the eye by
// two seconds where she turns four degrees a second. In three knots she tacks at half a
// knot, where a course means nothing: a course alone is not asked there.
func TestPrecisionAndRecall(t *testing.T) {
	ways := []struct {
		how how
		eye float64
		bar float64
	}{
		{how{name: "10 Hz", hz: 10}, 1, 0.95},
		{how{name: "1 Hz", hz: 1}, 1, 0.95},
		{how{name: "wind 8° wrong, bow swinging", hz: 5, windErr: 8, jitter: 4}, 2, 0.95},
		{how{name: "course only", hz: 1, course: true}, 2, 0.95},
	}
	scenes := []string{"first-lesson", "shifty-morning", "fresh-afternoon", "light-air"}
	for _, way := range ways {
		t.Run(way.how.name, func(t *testing.T) {
			var c tally
			for _, scene := range scenes {
				if way.how.course && scene == "light-air" {
					continue
				}
				for seed := uint64(1); seed <= 2; seed++ {
					s := session{scene: scene, seed: seed, minutes: 30, how: way.how}
					told, truth := s.run(t)
					c.add(t, s, told, truth)
				}
			}
			if c.truth < 100 {
				t.Fatalf("only %d turns were sailed: the test proves nothing", c.truth)
			}
			if p := float64(c.right) / float64(c.told); p < way.bar {
				t.Errorf("precision %.3f, want %.2f", p, way.bar)
			}
			if r := float64(c.right) / float64(c.truth); r < way.bar {
				t.Errorf("recall %.3f, want %.2f", r, way.bar)
			}
			if e := rms(c.eyeErr); e > way.eye {
				t.Errorf("the eye is %.2f s off, want %.1f", e, way.eye)
			}
			t.Logf("%d right of %d told and %d sailed, eye %.2f s off", c.right, c.told, c.truth, rms(c.eyeErr))
		})
	}
}

// Under engine and at the dock nothing is a tack. Some minutes after she last headed
// into the wind a gybe under engine cannot be told from one under sail by these
// readings: two in forty minutes is what is known to slip through. The judgement of
// motoring, in its own package, looks at more.
func TestEngineAndDockMakeNoTacks(t *testing.T) {
	for _, scene := range []string{"motor-trip", "at-the-dock"} {
		for seed := uint64(1); seed <= 3; seed++ {
			told, _ := session{scene: scene, seed: seed, minutes: 40, how: how{hz: 5}}.run(t)
			gybes := 0
			for _, m := range told {
				if m.Kind == "tack" || scene == "at-the-dock" {
					t.Errorf("%s, seed %d: told a %s at %.0f s", scene, seed, m.Kind, m.Eye.Seconds(begin))
				}
				gybes++
			}
			if gybes > 2 {
				t.Errorf("%s, seed %d: told %d gybes", scene, seed, gybes)
			}
		}
	}
}

// Turning the whole world, or looking at it in a mirror, changes the names of the
// sides and nothing else.
func TestTurnedAndMirroredWorlds(t *testing.T) {
	base := session{scene: "shifty-morning", seed: 3, minutes: 30, how: how{hz: 5}}
	want, _ := base.run(t)
	if len(want) < 8 {
		t.Fatalf("only %d manoeuvres were told: the test proves nothing", len(want))
	}
	for _, h := range []how{{hz: 5, turnDeg: 37}, {hz: 5, turnDeg: 180}, {hz: 5, mirrored: true}, {hz: 5, mirrored: true, turnDeg: 37}} {
		other := base
		other.how = h
		got, _ := other.run(t)
		if len(got) != len(want) {
			t.Fatalf("%+v: %d manoeuvres, want %d", h, len(got), len(want))
		}
		for i, g := range got {
			w := want[i]
			if h.mirrored == (g.To == w.To) {
				t.Errorf("%+v: manoeuvre %d leads to %s, in the true world to %s", h, i, g.To, w.To)
			}
			close := func(a, b boat.Reading, within float64) bool {
				return a.OK == b.OK && math.Abs(a.Val-b.Val) <= within
			}
			same := g.Kind == w.Kind && math.Abs(g.Eye.Seconds(w.Eye)) < 0.02 && g.T == w.T &&
				close(g.TurnDeg, w.TurnDeg, 0.11) && close(g.LostM, w.LostM, 0.11) && close(g.EntryKn, w.EntryKn, 0.011)
			if !same {
				t.Errorf("%+v: manoeuvre %d is\n%+v, want\n%+v", h, i, g, w)
			}
		}
	}
}

// The turn must be seen coming early enough for a word in it, and its eye foreseen.
func TestTurnIsSeenComing(t *testing.T) {
	type seen struct {
		at   boat.Time
		turn boat.Turn
	}
	turns, coming, starts := 0, 0, 0
	var lead, off []float64
	for _, scene := range []string{"first-lesson", "fresh-afternoon"} {
		var all []seen
		s := session{scene: scene, seed: 5, minutes: 30, how: how{hz: 10}}
		s.each = func(now sim.Truth, turn boat.Turn) { all = append(all, seen{now.T, turn}) }
		_, truth := s.run(t)
		for i, x := range all {
			if x.turn.Phase == boat.Turning && (i == 0 || all[i-1].turn.Phase != boat.Turning) {
				starts++
			}
		}
		for _, e := range truth {
			turns++
			first := true
			for _, x := range all {
				d := e.eye.Seconds(x.at)
				if x.turn.Phase != boat.Turning || x.turn.Kind != e.kind || d < 0 || d > 15 {
					continue
				}
				if first {
					coming++
					lead = append(lead, d)
					first = false
				}
				if d > 1 && d < 2 && x.turn.ToEyeS.OK {
					off = append(off, x.turn.ToEyeS.Val-d)
				}
			}
		}
	}
	mean := 0.0
	for _, l := range lead {
		mean += l / float64(len(lead))
	}
	t.Logf("%d of %d turns seen coming, %.1f s ahead; their eye foreseen within %.2f s; %d starts", coming, turns, mean, rms(off), starts)
	if turns < 20 || float64(coming) < 0.95*float64(turns) || mean < 2 {
		t.Errorf("%d of %d turns seen coming, %.1f s ahead: want 95 %% and 2 s", coming, turns, mean)
	}
	if rms(off) > 1 {
		t.Errorf("a second or two ahead the eye is foreseen with an error of %.2f s, want 1", rms(off))
	}
	if float64(starts) > 1.4*float64(turns) {
		t.Errorf("%d turns were announced for %d sailed", starts, turns)
	}
}

// Irons are noticed while they last, and only then: lying within 22 degrees of the wind,
// hardly turning, with less than a fifth of the way on with which a tack is begun.
func TestIronsInTheSimulator(t *testing.T) {
	spells, noticed := 0, 0
	for _, scene := range []string{"light-air", "fresh-afternoon", "first-lesson"} {
		for seed := uint64(1); seed <= 4; seed++ {
			var since boat.Time
			var hit bool
			entry := 0.0
			s := session{scene: scene, seed: seed, minutes: 40, how: how{hz: 5}}
			s.each = func(now sim.Truth, turn boat.Turn) {
				if turn.StuckSince != 0 && now.Mode != boat.Irons && now.Mode != boat.Tacking {
					t.Errorf("%s, seed %d: irons told at %.0f s while %s", scene, seed, now.T.Seconds(begin), now.Mode)
				}
				if now.Mode == boat.CloseHauled {
					entry = now.STWKn
				}
				still := now.Mode == boat.Irons && math.Abs(now.TWADeg) < 22 && math.Abs(now.YawDps) < 2 && now.STWKn < 0.2*entry && now.T > begin+60_000
				if still && since == 0 {
					since, hit = now.T, false
				}
				hit = hit || turn.StuckSince != 0
				if !still && since != 0 {
					if now.T.Seconds(since) > 5 {
						spells++
						if hit {
							noticed++
						}
					}
					since = 0
				}
			}
			s.run(t)
		}
	}
	t.Logf("%d of %d spells in irons noticed", noticed, spells)
	if spells < 3 || float64(noticed) < 0.8*float64(spells) {
		t.Errorf("%d of %d spells in irons noticed, want most of at least three", noticed, spells)
	}
}
