package exercise

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"helmcue/internal/boat"
)

// tacks sails short tacks, good or not, one after another.
func (b *sea) tacks(good ...bool) *sea {
	side := 44.0
	for _, ok := range good {
		m := quick()
		if !ok {
			m = slow()
		}
		b.hold(40, side, 0.95).turn("tack", -side, m)
		side = -side
	}
	return b
}

func (b *sea) phases() (out []string) {
	for _, o := range b.outs {
		if s := o.Name + " " + o.Phase; len(out) == 0 || out[len(out)-1] != s {
			out = append(out, s)
		}
	}
	return out
}

func TestThreeOfFourOpenTheNext(t *testing.T) {
	for _, c := range []struct {
		tries []bool
		open  bool
	}{
		{[]bool{true, true, true}, true},
		{[]bool{true, false, true, true}, true},
		{[]bool{true, false, true, false, true}, false},
		{[]bool{true, false, false, true, true, true}, true},
	} {
		b := newSea(t, single(ShortTacks), single(OnYourOwn)).tacks(c.tries...)
		if got := len(b.phase(Opened)) == 1; got != c.open {
			t.Errorf("%v: opened is %v, want %v: %s", c.tries, got, c.open, b.log())
		}
		if n := len(b.results()); n != len(c.tries) {
			t.Errorf("%v: %d results", c.tries, n)
		}
	}
}

func TestAPlanInItsOrder(t *testing.T) {
	b := newSea(t, boat.PlanStep{Exercise: ShortTacks, Good: 1, Of: 1}, boat.PlanStep{Exercise: OnYourOwn, Seconds: 60}).tacks(true).hold(100, -44, 0.9)
	want := []string{"tack_within waiting", "tack_within intro", "tack_within trying", "tack_within result", "tack_within opened",
		"on_your_own waiting", "on_your_own intro", "on_your_own trying", "on_your_own result", "on_your_own opened", "on_your_own over"}
	if got := b.phases(); !slices.Equal(got, want) {
		t.Errorf("went through %q, want %q", got, want)
	}
	last := b.outs[len(b.outs)-1]
	if last.Plan != "test" || last.Step != 2 || last.Steps != 2 {
		t.Errorf("ended with %+v", last)
	}
}

func TestKnocks(t *testing.T) {
	b := newSea(t, single(ShortTacks), single(SquareTacks)).tacks(true)
	b.hold(5, -44, 0.95)
	if !b.knock(2) || len(b.outs) == 0 {
		t.Error("two knocks after a result are not taken for next")
	}
	b.hold(10, -44, 0.95)
	if s := b.phase(Skipped); len(s) != 1 || s[0].Name != ShortTacks || !b.spoken(boat.Intro, SquareTacks) {
		t.Errorf("got %s", b.log())
	}
	if b.knock(2) { // repeats the introduction, which is the coach's
		t.Error("two knocks in the midst of an exercise were taken")
	}
	if b.knock(3) {
		t.Error("three knocks are everybody's")
	}
	asked := len(b.asked)
	b.hold(100, -44, 0.95)
	if len(b.asked) != asked || !strings.Contains(b.outs[len(b.outs)-1].Text, "quiet") {
		t.Errorf("asked in the quiet: %+v, %s", b.asked[asked:], b.log())
	}
}

func TestNoYesNoMark(t *testing.T) {
	b := newSea(t, single(LegToMark)).hold(80, 44, 1)
	if len(b.phase(Resting)) != 1 || b.spoken(boat.Bearing, "mark") {
		t.Errorf("without a yes: %s", b.log())
	}
	b.hold(260, 44, 1)
	if n := len(b.phase(Consent)); n != 2 {
		t.Errorf("asked %d times, want again after a rest: %s", n, b.log())
	}
}

func TestWhoSaysTheMomentOfATurn(t *testing.T) {
	plan := func(calls bool) *boat.Plan {
		return &boat.Plan{Name: "test", CallTurns: calls, Steps: []boat.PlanStep{single(ShortTacks)}}
	}
	for name, c := range map[string]struct {
		set  func(*sea)
		call bool
	}{
		"nobody knows the water": {func(b *sea) {}, false},
		"charted":                {func(b *sea) { b.s.Water.Charted = true }, true},
		"the plan says so":       {func(b *sea) { b.r.SetPlan(plan(true)) }, true},
		"an instructor":          {func(b *sea) { b.r.Act(t0, boat.Act{Act: "exercise", Text: "start"}) }, true},
	} {
		b := newSea(t, single(ShortTacks))
		b.r.SetPlan(plan(false))
		c.set(b)
		b.hold(40, 44, 0.95)
		if len(b.wants) != 1 || b.wants[0].Call != c.call {
			t.Errorf("%s: wants %+v, want call %v", name, b.wants, c.call)
		}
	}
}

func TestInstructor(t *testing.T) {
	b := newSea(t, single(ShortTacks)).hold(20, 44, 0.95)
	act := func(name, text string) string {
		return b.r.Act(b.s.Now, boat.Act{Act: "exercise", Phrase: name, Text: text})
	}
	if act("loop", "start") == "" || act("", "juggle") == "" {
		t.Error("nonsense was followed without a word")
	}
	if why := act(Closeness, "start"); why != "" {
		t.Error(why)
	}
	b.hold(20, 44, 0.95)
	if !b.spoken(boat.Intro, Closeness) {
		t.Errorf("asked %+v", b.asked)
	}
	act("", "skip")
	b.hold(20, 44, 0.95)
	if now := b.outs[len(b.outs)-1]; now.Name != ShortTacks || now.Phase != Trying {
		t.Errorf("the plan does not go on: %+v", now)
	}
	act("", "stop")
	outs := len(b.outs)
	if b.hold(20, 44, 0.95); len(b.outs) != outs {
		t.Errorf("goes on after stop: %s", b.log())
	}
	if act("", "start") == "" || act("", "skip") == "" {
		t.Error("no word that there is no plan")
	}
}

func TestLeftOut(t *testing.T) {
	b := newSea(t, single(LegToMark), single(LullAndGust), boat.PlanStep{Exercise: "loop"}, single(ShortTacks))
	b.s.Settings.Level, b.s.State.Mount = boat.Beginner, boat.Worn
	b.hold(20, 44, 0.95)
	if s := b.phase(Skipped); len(s) != 3 || !b.spoken(boat.Intro, ShortTacks) {
		t.Errorf("got %s", b.log())
	}
}

func TestChangedSettingsKeepThePlan(t *testing.T) {
	b := newSea(t, single(ShortTacks)).tacks(true)
	same := &boat.Plan{Name: "test", Steps: []boat.PlanStep{single(ShortTacks)}}
	b.r.SetPlan(same)
	b.hold(5, -44, 0.95)
	if now := b.outs[len(b.outs)-1]; now.Tries != 1 {
		t.Errorf("the plan began anew: %+v", now)
	}
}

// unready are states in which nothing may be asked of her.
func unready() map[string]func(*Sight) {
	return map[string]func(*Sight){
		"unknown wind":  func(s *Sight) { s.Wind.Known = false; s.TWADeg = boat.Reading{} },
		"doubtful side": func(s *Sight) { s.Wind.LoDeg, s.Wind.HiDeg = 260, 100 },
		"vague wind":    func(s *Sight) { s.Wind.LoDeg, s.Wind.HiDeg = 320, 40 },
		"motoring":      func(s *Sight) { s.Mode = boat.Motoring },
		"waiting":       func(s *Sight) { s.Mode = boat.Waiting },
		"stopped":       func(s *Sight) { s.Mode = boat.Stopped },
		"drifting":      func(s *Sight) { s.Mode = boat.Drifting },
		"capsized":      func(s *Sight) { s.Mode = boat.Capsized },
		"irons":         func(s *Sight) { s.Mode = boat.Irons },
		"deaf":          func(s *Sight) { s.Deaf = true },
		"near shore":    func(s *Sight) { s.Water = Water{Charted: true, Near: true} },
		"much wind":     func(s *Sight) { s.Wind.SpeedKn = boat.Some(19) },
		"much heel":     func(s *Sight) { s.State.HeelDeg = boat.Some(27) },
		"light air":     func(s *Sight) { s.Target.BeatKn, s.Target.HereKn = 0.9, 1 },
	}
}

// No exercise asks for anything while she is unready for it.
func TestNothingIsAskedOfAnUnreadyBoat(t *testing.T) {
	for name, spoil := range unready() {
		for _, e := range All() {
			b := newSea(t, single(e.Name))
			b.r.person = true
			for n := range 600 {
				b.put([]float64{44, 90, 135}[n/200], 0.95)
				spoil(&b.s)
				b.tick()
			}
			if len(b.asked)+len(b.wants) != 0 {
				t.Errorf("%s, %s: asked %+v, wanted %+v", name, e.Name, b.asked, b.wants)
			}
		}
	}
}

// Random sailing with random spoiling: an order or a turn is asked for only when she
// is fit for it, and the same session gives the same outputs.
func TestRandomSailing(t *testing.T) {
	names := Names()
	rapid.Check(t, func(rt *rapid.T) {
		type bout struct {
			off, share float64
			sec        int
			spoil      string
			knocks     int
		}
		var bouts []bout
		for range rapid.IntRange(3, 10).Draw(rt, "bouts") {
			bouts = append(bouts, bout{rapid.Float64Range(-170, 170).Draw(rt, "off"), rapid.Float64Range(0, 1.2).Draw(rt, "share"),
				rapid.IntRange(2, 30).Draw(rt, "sec"), rapid.SampledFrom([]string{"", "", "", "unknown wind", "near shore", "much heel", "irons", "deaf", "motoring"}).Draw(rt, "spoil"),
				rapid.SampledFrom([]int{0, 0, 2, 3}).Draw(rt, "knocks")})
		}
		steps := []boat.PlanStep{single(rapid.SampledFrom(names).Draw(rt, "a")), single(rapid.SampledFrom(names).Draw(rt, "b"))}
		sail := func() string {
			b := newSea(t, steps...)
			for _, x := range bouts {
				b.knock(x.knocks)
				heel := b.s.State.HeelDeg
				for range x.sec * 10 {
					b.put(x.off, x.share)
					clean := b.s
					if f := unready()[x.spoil]; f != nil {
						f(&b.s)
					}
					asked, wants := len(b.asked), len(b.wants)
					was := b.s
					b.tick()
					was.past = &b.r.past
					for _, p := range b.asked[asked:] {
						if p.Key != boat.Result && was.unfit() != "" {
							rt.Fatalf("%s asked while %s", p.Key, was.unfit())
						}
					}
					for _, w := range b.wants[wants:] {
						if was.unfit() != "" || w.Call && !b.r.yes && !was.Water.Charted {
							rt.Fatalf("wanted %+v while %q", w, was.unfit())
						}
					}
					pos, now := b.s.State.Pos, b.s.Now
					b.s = clean
					b.s.State.Pos, b.s.Now, b.s.State.HeelDeg = pos, now, heel
				}
			}
			return fmt.Sprint(b.outs, b.asked, b.wants)
		}
		if a, c := sail(), sail(); a != c {
			rt.Fatalf("two runs differ:\n%s\n%s", a, c)
		}
	})
}

// Mirrored, the same things happen at the same times.
func TestMirrored(t *testing.T) {
	for _, e := range All() {
		log := func(way float64) string {
			b := newSea(t, single(e.Name))
			b.r.person = true
			b.s.State.HeelDeg = boat.Some(-8 * way)
			b.hold(60, 90*way, 0.9).turn("tack", -90*way, quick()).hold(60, -90*way, 0.9)
			b.hold(60, -44*way, 0.95).turn("tack", 44*way, quick()).hold(60, 44*way, 0.95).hold(40, 135*way, 0.9)
			out := ""
			for _, o := range b.outs {
				out += fmt.Sprintln(o.T, o.Name, o.Phase, len(o.Score))
			}
			return out
		}
		if a, c := log(1), log(-1); a != c {
			t.Errorf("%s:\n%s\nmirrored:\n%s", e.Name, a, c)
		}
	}
}

func TestEveryExerciseIsWhole(t *testing.T) {
	for _, e := range All() {
		if e.Name == "" || e.Title == "" || e.About == "" || e.Good == "" || e.Score == "" || e.begin == nil || e.GoodN < 1 || e.OfN < e.GoodN || e.LimitS <= 0 {
			t.Errorf("%+v lacks something", e)
		}
		if f, ok := Find(e.Name); !ok || f.Title != e.Title {
			t.Errorf("%s is not found", e.Name)
		}
	}
	if _, ok := Find("loop"); ok {
		t.Error("found what there is not")
	}
}
