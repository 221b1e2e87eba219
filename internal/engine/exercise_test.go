package engine

import (
	"encoding/json"
	"math"
	"slices"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/exercise"
	"helmcue/internal/phrase"
	"helmcue/internal/sim"
)

// Every introduction and result has words at the levels that have the exercise, and no
// text of an exercise is without a use.
func TestExercisesHaveWords(t *testing.T) {
	intros, results := exercise.Spoken()
	used := map[string]bool{}
	check := func(k boat.Key, v string, l boat.Level) {
		used[string(k)+" "+v] = true
		if e, ok := exercise.Find(v); ok && e.Needs.Numbers && l == boat.Beginner {
			return
		}
		if _, err := phrase.Find(boat.Cue{Key: k, Variant: v, Level: l}); err != nil {
			t.Error(err)
		}
	}
	for _, l := range boat.Levels() {
		for _, v := range intros {
			check(boat.Intro, v, l)
		}
		for _, v := range results {
			check(boat.Result, v, l)
		}
	}
	for _, e := range phrase.Exercises() {
		if !used[string(e.Key)+" "+e.Variant] {
			t.Errorf("nothing says %s %q", e.Key, e.Variant)
		}
	}
}

// drillSession sails a simulated learner, who hears the cues, through a plan. Where
// skipS is not 0, an instructor goes on to the next exercise so often.
func drillSession(t *testing.T, p boat.Plan, minutes, skipS int) (ins []boat.Input, outs []boat.Output) {
	t.Helper()
	s, err := sim.New("first-lesson", 5, scriptStart)
	if err != nil {
		t.Fatal(err)
	}
	set := s.Settings()
	set.Plan = &p
	eng := New()
	step := func(in boat.Input) {
		ins = append(ins, in)
		for _, o := range eng.Step(in) {
			if o.Cue != nil {
				s.Hear(*o.Cue)
			}
			outs = append(outs, o)
		}
	}
	step(boat.Input{T: s.Now(), Kind: boat.SettingsIn, Settings: &set})
	for n := range minutes * 600 {
		if skipS > 0 && n%(skipS*10) == skipS*10-1 {
			step(boat.Input{T: s.Now(), Kind: boat.ActIn, Source: "instructor", Act: &boat.Act{Act: "exercise", Text: "skip"}})
		}
		for _, in := range s.Step() {
			step(in)
		}
	}
	return ins, outs
}

// A simulated learner sails a plan: tacks are asked for, tried and scored, the steps
// open, and the words keep their share of the time (8 % in ten minutes, by the clips).
func TestALearnerSailsAPlan(t *testing.T) {
	p := boat.Plan{Name: "tacks", CallTurns: true, Steps: []boat.PlanStep{
		{Exercise: exercise.ShortTacks, Lengths: 8}, {Exercise: exercise.OnYourOwn, Seconds: 240}}}
	ins, outs := drillSession(t, p, 30, 0)
	clips := clipSeconds(t)
	count, asked := map[string]int{}, 0
	var spokenAt []boat.Time
	var seconds []float64
	for _, o := range outs {
		switch {
		case o.Exercise != nil:
			count[o.Exercise.Name+" "+o.Exercise.Phase]++
		case o.Cue != nil:
			spokenAt, seconds = append(spokenAt, o.Cue.T), append(seconds, aloud(t, clips, *o.Cue))
			if o.Cue.WhyCode == "exercise" && o.Cue.Key == boat.TurnNow {
				asked++
			}
		}
	}
	if asked == 0 || count["tack_within result"] < 3 || count["tack_within opened"] != 1 || count["on_your_own result"] == 0 {
		t.Errorf("%d tacks asked for, %v", asked, count)
	}
	for i, at := range spokenAt {
		sum := 0.0
		for j := i; j >= 0 && at.Seconds(spokenAt[j]) < 600; j-- {
			sum += seconds[j]
		}
		if sum > 48 {
			t.Errorf("%.0f s of words in the ten minutes to %.0f s", sum, at.Seconds(scriptStart))
		}
	}
	again := New()
	var replayed []boat.Output
	for _, in := range ins {
		replayed = append(replayed, again.Step(in)...)
	}
	a, _ := json.Marshal(outs)
	b, _ := json.Marshal(replayed)
	if !slices.Equal(a, b) {
		t.Error("a replay differs")
	}
}

// With every exercise in turn, no turn is called on her by itself, no gybe without a
// yes, and no order is given near the wind's eye by what the simulator knows.
func TestExercisesAskNothingUnsafe(t *testing.T) {
	var p boat.Plan
	p.Name = "all"
	for _, e := range exercise.All() {
		p.Steps = append(p.Steps, boat.PlanStep{Exercise: e.Name, Seconds: min(60, e.LimitS)})
	}
	_, outs := drillSession(t, p, 45, 200)
	met := map[string]bool{}
	var last boat.Status
	for _, o := range outs {
		switch {
		case o.Status != nil:
			last = *o.Status
		case o.Exercise != nil:
			met[o.Exercise.Name] = true
		case o.Cue != nil && o.Cue.WhyCode == "exercise":
			k := o.Cue.Key
			if k == boat.TurnNow || k == boat.PrepareGybe {
				t.Errorf("%s without a chart or a yes", k)
			}
			if !last.TWDKnown || k == boat.HeadUp && math.Abs(last.TWADeg.Val) < 45 || k == boat.BearAway && math.Abs(last.TWADeg.Val) > 150 {
				t.Errorf("%s at %v to the wind, known %v", k, last.TWADeg, last.TWDKnown)
			}
		}
	}
	if len(met) != len(p.Steps) {
		t.Errorf("%d of %d exercises were met: %v", len(met), len(p.Steps), met)
	}
}

// A simulated learner practises what is introduced until it is learned: the steps of
// a plan open one after the other.
func TestALearnerPractisesWhatIsIntroduced(t *testing.T) {
	for _, tc := range []struct {
		steps   []string
		minutes int
	}{
		{[]string{exercise.StopAndStart, exercise.ReachToAndFro}, 60},
		{[]string{exercise.Closeness, exercise.ShortTacks}, 40},
	} {
		p := boat.Plan{Name: "practice"}
		for _, name := range tc.steps {
			p.Steps = append(p.Steps, boat.PlanStep{Exercise: name, Lengths: 8})
		}
		_, outs := drillSession(t, p, tc.minutes, 0)
		var opened []string
		over := false
		for _, o := range outs {
			if o.Exercise != nil && o.Exercise.Phase == exercise.Opened {
				opened = append(opened, o.Exercise.Name)
			}
			over = over || o.Exercise != nil && o.Exercise.Phase == exercise.Over
		}
		if !slices.Equal(opened, tc.steps) || !over {
			t.Errorf("opened %v of %v, the plan done is %v", opened, tc.steps, over)
		}
	}
}
