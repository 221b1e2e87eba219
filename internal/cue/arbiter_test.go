package cue

import (
	"testing"

	"helmcue/internal/boat"
)

func one(key boat.Key, c class, since boat.Time) candidate {
	return candidate{cue: boat.Cue{Key: key}, class: c, since: since, life: 2, wait: 5, again: 5}
}

func quietView() *view {
	s := wellSailed(boat.Improver)
	m := &memory{first: t0 - 1e6, now: t0, started: t0 - 1e6, mode: s.Mode}
	return &view{Situation: s, mem: m, past: &trace{}}
}

func TestOrderOfCandidates(t *testing.T) {
	all := []candidate{
		one(boat.Good, praising, t0-90), one(boat.Look, teaching, t0-80), one(boat.HeadUp, steering, t0-70),
		one(boat.WindLost, warning, t0-60), one(boat.Good, confirming, t0-50), one(boat.LetRun, turning, t0-40), one(boat.LetGo, danger, t0-30),
	}
	for n := len(all); n > 0; n-- {
		k, ok := arbitrate(quietView(), append([]candidate(nil), all[:n]...))
		if !ok || k.class != all[n-1].class {
			t.Errorf("of %d candidates %s was chosen, want %s", n, k.cue.Key, all[n-1].cue.Key)
		}
	}
	older := []candidate{one(boat.SitOut, steering, t0-10), one(boat.HeadUp, steering, t0-20)}
	if k, _ := arbitrate(quietView(), older); k.cue.Key != boat.HeadUp {
		t.Errorf("chose %s, want the one that has held longer", k.cue.Key)
	}
	equal := []candidate{one(boat.SitOut, steering, t0-20), one(boat.HeadUp, steering, t0-20)}
	if k, _ := arbitrate(quietView(), equal); k.cue.Key != boat.SitOut {
		t.Errorf("chose %s, want the one that stands first", k.cue.Key)
	}
}

// Each gate, by one thing that it alone objects to.
func TestGates(t *testing.T) {
	said := func(key boat.Key, ago float64, n int) func(*view) {
		return func(v *view) {
			for range n {
				v.mem.said = append(v.mem.said, said{cue: boat.Cue{Key: key, T: v.Now.After(-ago)}, seconds: 1, correction: true})
			}
		}
	}
	for _, tc := range []struct {
		name string
		with func(*view)
		k    candidate
		want string
	}{
		{"nothing against it", func(*view) {}, one(boat.HeadUp, steering, t0), ""},
		{"deaf", func(v *view) { v.Deaf = true }, one(boat.LetGo, danger, t0), "deaf"},
		{"motoring", func(v *view) { v.Mode = boat.Motoring }, one(boat.HeadUp, steering, t0), "mode"},
		{"motoring, health", func(v *view) { v.Mode = boat.Motoring }, one(boat.System, warning, t0), ""},
		{"a beginner and a heading", func(v *view) { v.Settings.Level = boat.Beginner }, one(boat.SteerTo, steering, t0), "level"},
		{"speaking", func(v *view) { v.mem.busyTill = v.Now + 1 }, one(boat.LetRun, turning, t0), "speaking"},
		{"speaking, danger", func(v *view) { v.mem.busyTill = v.Now + 1 }, one(boat.LetGo, danger, t0), ""},
		{"quiet", func(v *view) { v.mem.quietTill = v.Now + 1 }, one(boat.OverLimit, warning, t0), "quiet"},
		{"quiet, the instructor", func(v *view) { v.mem.quietTill = v.Now + 1 }, one(boat.Say, turning, t0), ""},
		{"after a fright", func(v *view) { v.mem.shockTill = v.Now + 1 }, one(boat.Look, teaching, t0), "after a fright"},
		{"just started", func(v *view) { v.mem.started = v.Now - 19000 }, one(boat.Look, teaching, t0), "just started"},
		{"in a turn", func(v *view) { v.Turn.Phase = boat.Turning }, one(boat.HeadUp, steering, t0), "turn"},
		{"a turn ahead", func(v *view) { v.mem.plan.kind = "tack" }, one(boat.HeadUp, steering, t0), "turn ahead"},
		{"wait", func(v *view) { v.mem.waitTill = v.Now + 1 }, one(boat.HeadUp, steering, t0), "wait"},
		{"wait, confirmation", func(v *view) { v.mem.waitTill = v.Now + 1 }, one(boat.Good, confirming, t0), ""},
		{"spacing", said(boat.HeadUp, 4, 1), one(boat.HeadUp, steering, t0), "spacing"},
		{"opposite at once", said(boat.BearAway, 15, 1), one(boat.HeadUp, steering, t0), "opposite"},
		{"opposite, weakly", said(boat.BearAway, 60, 1), candidate{cue: boat.Cue{Key: boat.HeadUp}, class: steering, over: 1.5}, "opposite"},
		{"opposite, strongly", said(boat.BearAway, 60, 1), candidate{cue: boat.Cue{Key: boat.HeadUp}, class: steering, over: 2.5}, ""},
		{"let go, then trim", said(boat.LetGo, 15, 1), one(boat.Trim, steering, t0), "opposite"},
		{"trim, then let go", said(boat.Trim, 5, 1), one(boat.LetGo, danger, t0), ""},
		{"a heading after a change", said(boat.HeadUp, 15, 1), one(boat.SteerTo, steering, t0), "opposite"},
		{"focus on the helm", func(v *view) { v.mem.focus, v.mem.focusFrom = helm, v.Now-19000 }, one(boat.Ease, steering, t0), "focus"},
		{"focus, weight", func(v *view) { v.mem.focus, v.mem.focusFrom = helm, v.Now-19000 }, one(boat.SitOut, steering, t0), ""},
		{"focus over", func(v *view) { v.mem.focus, v.mem.focusFrom = helm, v.Now-21000 }, one(boat.Ease, steering, t0), ""},
		{"a beginner's focus", func(v *view) {
			v.Settings.Level, v.mem.focus, v.mem.focusFrom = boat.Beginner, helm, v.Now-44000
		}, one(boat.Ease, steering, t0), "focus"},
		{"light air", func(v *view) { v.light = true }, one(boat.Ease, steering, t0), "light air"},
		{"heavy air, helm", func(v *view) { v.heavy = true }, one(boat.HeadUp, steering, t0), "heavy air"},
		{"heavy air, weight", func(v *view) { v.heavy = true }, one(boat.SitOut, steering, t0), ""},
		{"four in a minute", said(boat.SitOut, 30, 4), one(boat.HeadUp, steering, t0), "budget"},
		{"two for an expert", func(v *view) { said(boat.SitOut, 30, 2)(v); v.Settings.Level = boat.Expert }, one(boat.HeadUp, steering, t0), "budget"},
		{"twenty in ten minutes", said(boat.SitOut, 300, 20), one(boat.HeadUp, steering, t0), "budget"},
		{"budget spent, turn", said(boat.SitOut, 30, 4), one(boat.LetRun, turning, t0), ""},
		{"air time", func(v *view) {
			v.mem.said = []said2{{cue: boat.Cue{Key: boat.Say, T: v.Now - 60000}, seconds: 45}}
		}, one(boat.HeadUp, steering, t0), "air time"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			v := quietView()
			tc.with(v)
			if got := held(v, tc.k); got != tc.want {
				t.Errorf("held by %q, want %q", got, tc.want)
			}
		})
	}
}

// said2 is said where a test's own name hides it.
type said2 = said

func TestClassesHaveUrgencies(t *testing.T) {
	last := boat.Praise
	for c := praising; c <= danger; c++ {
		u := c.urgency()
		if c != confirming && u < last {
			t.Errorf("class %d has urgency %v, below the class under it", c, u)
		}
		if c != confirming {
			last = u
		}
	}
	if confirming.urgency() != boat.Praise || danger.urgency() != boat.Danger || turning.urgency() != boat.InTurn {
		t.Error("a class has the wrong urgency")
	}
}
