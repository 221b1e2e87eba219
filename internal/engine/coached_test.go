package engine

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/phrase"
	"helmcue/internal/sim"
)

// The coach in the boat with a simulated learner who hears, forgets and answers
// late, judged by what was really so at each word. The bars are those of the
// design; what best means (angle, sheet) is the simulator's own, never the polar
// the engine believes in. HELMCUE_SEEDS=20 sails as many sessions of each scene.

const lessonMin = 20

// spoken is a cue with how things really stood.
type spoken struct {
	boat.Cue
	seconds float64 // of its clips
	now     sim.Truth
}

// lesson is one coached session. Truths are a tenth of a second apart.
type lesson struct {
	name   string
	level  boat.Level
	truths []sim.Truth
	cues   []spoken
	modes  []boat.Mode // as the engine believes, every second
}

func sailLesson(t *testing.T, scene string, seed uint64, level boat.Level) *lesson {
	s, err := sim.New(scene, seed, scriptStart)
	if err != nil {
		t.Fatal(err)
	}
	l := &lesson{name: fmt.Sprintf("%s, seed %d, %s", scene, seed, level), level: level}
	set := s.Settings()
	set.Level = level
	eng, clips := New(), clipSeconds(t)
	eng.Step(boat.Input{T: s.Now(), Kind: boat.SettingsIn, Settings: &set})
	for range lessonMin * 600 {
		inputs := s.Step()
		l.truths = append(l.truths, s.Truth())
		for _, in := range inputs {
			for _, o := range eng.Step(in) {
				switch {
				case o.Cue != nil:
					s.Hear(*o.Cue)
					l.cues = append(l.cues, spoken{Cue: *o.Cue, seconds: aloud(t, clips, *o.Cue), now: s.Truth()})
				case o.Status != nil:
					l.modes = append(l.modes, o.Status.Mode)
				}
			}
		}
	}
	return l
}

// clipSeconds is how long each clip really lasts, by the manifest of a voice.
func clipSeconds(t *testing.T) map[string]float64 {
	text, err := os.ReadFile("../../voices/isla/manifest.json")
	if err != nil {
		t.Fatal(err)
	}
	var m struct {
		Clips map[string]struct {
			Seconds float64 `json:"seconds"`
		} `json:"clips"`
	}
	if err := json.Unmarshal(text, &m); err != nil {
		t.Fatal(err)
	}
	out := map[string]float64{}
	for name, c := range m.Clips {
		out[name] = c.Seconds
	}
	return out
}

func aloud(t *testing.T, clips map[string]float64, c boat.Cue) float64 {
	line, err := phrase.Find(c)
	if err != nil {
		t.Fatal(err)
	}
	s := 0.0
	for _, name := range line.Clips {
		if clips[name] == 0 {
			t.Fatalf("no clip %q", name)
		}
		s += clips[name]
	}
	return s
}

// over is the truths from a seconds to b seconds about the cue.
func (l *lesson) over(c boat.Cue, a, b float64) []sim.Truth {
	at := int(math.Round(10 * c.T.Seconds(scriptStart)))
	lo, hi := max(0, at+int(10*a)), min(len(l.truths), at+int(10*b))
	return l.truths[min(lo, hi):hi]
}

func meanOf(ts []sim.Truth, f func(sim.Truth) float64) float64 {
	sum := 0.0
	for _, x := range ts {
		sum += f(x)
	}
	return sum / float64(max(1, len(ts)))
}

// eye is how many seconds the bow or stern crosses the wind after the cue; ok is
// false where she does not cross it within ten seconds.
func (l *lesson) eye(c boat.Cue) (after float64, ok bool) {
	best := math.Inf(1)
	ts := l.over(c, -10, 10)
	for i := 1; i < len(ts); i++ {
		if ts[i-1].TWADeg*ts[i].TWADeg <= 0 {
			if d := ts[i].T.Seconds(c.T); math.Abs(d) < math.Abs(best) {
				best = d
			}
		}
	}
	return best, !math.IsInf(best, 1)
}

func seeds() int {
	n, err := strconv.Atoi(os.Getenv("HELMCUE_SEEDS"))
	if err != nil || n < 1 {
		return 4
	}
	return n
}

func lessons(t *testing.T) []*lesson {
	var out []*lesson
	for seed := range seeds() {
		for _, sc := range sim.Scenes() {
			levels := []boat.Level{boat.Level(seed % 3)}
			if sc.Name == "first-lesson" {
				levels = boat.Levels()
			}
			for _, level := range levels {
				out = append(out, sailLesson(t, sc.Name, uint64(seed+1), level))
			}
		}
	}
	return out
}

func TestCoachedLessons(t *testing.T) {
	pooled := tally{}
	minutes, airS, cues, contradictions := 0.0, 0.0, 0, 0
	for _, l := range lessons(t) {
		l.staysQuietWhereNothingSails(t)
		l.keepsTheBudget(t)
		l.beginsInTime(pooled)
		for _, c := range l.cues {
			l.judge(t, pooled, c)
		}
		minutes += lessonMin
		airS += l.air(0, math.Inf(1))
		cues += len(l.cues)
		contradictions += l.contradictions(t)
	}
	t.Logf("%.0f minutes: %.2f cues a minute, %.1f %% of air time, %d contradictions", minutes, float64(cues)/minutes, airS/minutes/0.6, contradictions)
	pooled.report(t)
	if contradictions > 0 {
		t.Errorf("%d contradictions", contradictions)
	}
	// Of words in irons and of danger none may be wrong; the rest mostly right, each
	// kind by itself where there are enough of it to tell.
	if c := pooled["irons"]; c.right < c.n {
		t.Errorf("irons was called %d times where she was not in irons", c.n-c.right)
	}
	for name, c := range pooled {
		if bar := leastRight(name); c.n >= 20 && float64(c.right) < bar*float64(c.n) {
			t.Errorf("%s: right %d times of %d, want %.0f %%", name, c.right, c.n, 100*bar)
		}
	}
	if pooled["all that has a direction"].n < 200 {
		t.Errorf("hardly anything was said: %v", pooled)
	}
}

// leastRight is the bar for a kind of cue: nine in ten over all and for what steers;
// a shift or a wind believed wrongly spoils one kind in a short run more easily, and a
// word before the eye comes to nothing where she does not get through it.
func leastRight(name string) float64 {
	switch name {
	case "all that has a direction", string(boat.HeadUp), string(boat.Straighten):
		return 0.9
	}
	return 0.8
}

// count is how often something was said and right.
type count struct{ n, right int }

type tally map[string]count

func (y tally) add(name string, right bool) {
	c := y[name]
	c.n++
	if right {
		c.right++
	}
	y[name] = c
}

func (y tally) report(t *testing.T) {
	var names []string
	for name := range y {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		t.Logf("%-26s %4d of %4d", name, y[name].right, y[name].n)
	}
}
