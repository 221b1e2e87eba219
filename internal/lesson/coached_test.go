package lesson

import (
	"context"
	"math"
	"os"
	"slices"
	"strconv"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/sim"
)

// The coach in the boat with a simulated learner who hears, forgets and answers
// late, judged by what was really so at each word. The bars are those of the
// design; what best means (angle, sheet) is the simulator's own, never the polar
// the engine believes in. HELMCUE_SEEDS=20 sails as many sessions of each scene.

const lessonMin = 20.0

func seeds() int {
	n, err := strconv.Atoi(os.Getenv("HELMCUE_SEEDS"))
	if err != nil || n < 1 {
		return 4
	}
	return n
}

func record(t *testing.T, scene string, seed uint64, level boat.Level) *Log {
	l, err := Record(Setup{
		Make:  func() (*sim.Sim, error) { return sim.New(scene, seed, start) },
		Level: level, Teacher: Ours, Minutes: lessonMin,
	})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// tally counts by name.
type tally map[string]Count

func (y tally) add(name string, right bool) {
	c := y[name]
	c.add(right)
	y[name] = c
}

func TestCoachedLessons(t *testing.T) {
	t.Parallel()
	pooled, said := tally{}, Said{}
	minutes := 0.0
	for seed := range seeds() {
		for _, sc := range sim.Scenes() {
			levels := []boat.Level{boat.Level(seed % 3)}
			if sc.Name == "first-lesson" {
				levels = boat.Levels()
			}
			for _, level := range levels {
				l := record(t, sc.Name, uint64(seed+1), level)
				judge(t, sc.Name, l, pooled)
				r := l.measure()
				said.merge(r.Said)
				minutes += lessonMin
			}
		}
	}
	t.Logf("%.0f minutes: %.2f cues a minute, %.1f %% of air time, %d contradictions, %d of %d praised rightly",
		minutes, float64(said.Cues)/minutes, said.AirS/minutes/0.6, said.Contradictions, said.Praise.Right, said.Praise.N)
	pooled.report(t)
	pooled.hold(t)
	if said.Contradictions > 0 {
		t.Errorf("%d contradictions", said.Contradictions)
	}
}

// judge holds a lesson to what no lesson may do, and counts the rest.
func judge(t *testing.T, scene string, l *Log, y tally) {
	l.staysQuietWhereNothingSails(t, scene)
	l.keepsTheBudget(t, scene)
	l.beginsInTime(y)
	l.staysSafe(t, scene)
	for i, c := range l.Cues {
		right, directed := l.Right(c)
		y.add(string(c.Key), right || !directed)
		if directed {
			y.add("all that has a direction", right)
		}
		if directed && !right {
			t.Logf("wrong: %s, %s, %6.1f s: %q (%s); truly %.0f° off the wind, sheet in too far by %.0f°, %.1f kn, %s",
				scene, l.Setup.Level, c.T.Seconds(l.Start), c.Words, c.Why, c.Now.TWADeg, c.Now.SheetErrDeg(), c.Now.STWKn, c.Now.Mode)
		}
		for _, d := range l.contradicts(i) {
			t.Logf("%s: %q at %.0f s and %q at %.0f s", scene, d.Words, d.T.Seconds(l.Start), c.Words, c.T.Seconds(l.Start))
		}
	}
}

// The angles that a word of the helm must leave clear, as things truly are: what the
// engine believes may be wrong, and has to stay clear of danger all the same.
const (
	ironsDeg = 26.0 // nearer the wind than this no boat is told to come up
	gybeDeg  = 155.0
)

// staysSafe: no word sends her into irons or towards a gybe as things truly are.
func (l *Log) staysSafe(t *testing.T, scene string) {
	for _, c := range l.Cues {
		off := math.Abs(c.Now.TWADeg)
		if c.Key == boat.HeadUp && off-c.Amount.Or(0) < ironsDeg || c.Key == boat.BearAway && off+c.Amount.Or(0) > gybeDeg {
			t.Errorf("%s, %.0f s: %q (%s) while she truly lies %.0f° off the wind", scene, c.T.Seconds(l.Start), c.Words, c.Why, off)
		}
	}
}

// hold: of words in irons and of danger none may be wrong; the rest mostly right,
// each kind by itself where there are enough of it to tell.
func (y tally) hold(t *testing.T) {
	if c := y["irons"]; c.Right < c.N {
		t.Errorf("irons was called %d times where she was not in irons", c.N-c.Right)
	}
	for name, c := range y {
		if bar := leastRight(name); c.N >= 20 && float64(c.Right) < bar*float64(c.N) {
			t.Errorf("%s: right %d times of %d, want %.0f %%", name, c.Right, c.N, 100*bar)
		}
	}
	if y["all that has a direction"].N < 150 {
		t.Errorf("hardly anything was said: %v", y)
	}
}

// leastRight is the bar for a kind of cue: nine in ten over all and for what steers;
// a shift or a wind believed wrongly spoils one kind in a short run more easily.
func leastRight(name string) float64 {
	switch name {
	case "all that has a direction", string(boat.HeadUp), string(boat.Straighten):
		return 0.9
	}
	return 0.8
}

func (y tally) report(t *testing.T) {
	var names []string
	for name := range y {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		t.Logf("%-26s %4d of %4d", name, y[name].Right, y[name].N)
	}
}

func (l *Log) staysQuietWhereNothingSails(t *testing.T, scene string) {
	if slices.ContainsFunc(l.Truths, func(x sim.Truth) bool { return x.Mode.Sailing() }) {
		return
	}
	for _, c := range l.Cues {
		if c.Key != boat.System {
			t.Errorf("%s: nobody sails, and %q is said (%s)", scene, c.Words, c.Why)
		}
	}
}

// beginsInTime: within a minute of getting under way she hears the coach; counted
// only where she sails. Who sails well from the start is rightly told nothing.
func (l *Log) beginsInTime(y tally) {
	under := slices.IndexFunc(l.Truths, func(x sim.Truth) bool { return x.Mode.Sailing() && x.STWKn > 1 })
	if under >= 0 {
		y.add("heard in the first minute", len(l.Cues) > 0 && l.Cues[0].T.Seconds(l.Truths[under].T) <= 60)
	}
}

func (l *Log) keepsTheBudget(t *testing.T, scene string) {
	minute, ten := 4, 20
	if l.Setup.Level == boat.Expert {
		minute, ten = 2, 10
	}
	for i, c := range l.Cues {
		inMinute, inTen := 0, 0
		for _, d := range l.Cues[:i+1] {
			if ago := c.T.Seconds(d.T); Correction(d.Cue) && ago < 600 {
				inTen++
				if ago < 60 {
					inMinute++
				}
			}
		}
		if inMinute > minute || inTen > ten {
			t.Errorf("%s, %.0f s: %d corrections in a minute, %d in ten", scene, c.T.Seconds(l.Start), inMinute, inTen)
		}
		if c.T > c.Expires {
			t.Errorf("%s, %.0f s: %q has expired before it is begun", scene, c.T.Seconds(l.Start), c.Words)
		}
	}
	for from := 0.0; from+600 <= lessonMin*60; from += 60 {
		if air := l.air(from, from+600); air > 0.08*600 {
			t.Errorf("%s: from %.0f s on %.1f s of ten minutes are talk outside turns", scene, from, air)
		}
	}
}

// air is the seconds of speech outside turns between two times.
func (l *Log) air(from, to float64) float64 {
	sum := 0.0
	for _, c := range l.Cues {
		if at := c.T.Seconds(l.Start); at >= from && at < to && !turnWord(c.Cue) {
			sum += c.Seconds
		}
	}
	return sum
}

// Who is taught must gain by it. The bar is low, since few sessions scatter by some
// percent: what the coaching is worth stands in testdata/eval/coach.txt.
func TestCoachingHelps(t *testing.T) {
	t.Parallel()
	classes, err := Classes()
	if err != nil {
		t.Fatal(err)
	}
	rows, err := Run(context.Background(), classes, Plan{Seeds: 1, Minutes: 20})
	if err != nil {
		t.Fatal(err)
	}
	var beginners []Row
	for i, c := range classes {
		if c.Level == boat.Beginner {
			beginners = append(beginners, rows[i])
		}
	}
	gain, _ := Pool(beginners).Gain(Ours)
	all, _ := Pool(rows).Gain(Ours)
	bound, _ := Pool(rows).Gain(Knowing)
	t.Logf("beginners gain %.1f %%, all %.1f %%, with the all-knowing coach %.1f %%", gain, all, bound)
	if !(gain >= 4) {
		t.Errorf("beginners gain %.1f %% to windward, want 4 at least", gain)
	}
	if !(all >= 2) {
		t.Errorf("all gain %.1f %% to windward, want 2 at least", all)
	}
	if !(bound > all-3) { // few sessions scatter
		t.Errorf("who knows all gains %.1f %%, our coach %.1f %%: the bound is none", bound, all)
	}
}
