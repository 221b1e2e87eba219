package cue

import (
	"slices"
	"testing"

	"helmcue/internal/boat"
)

func TestThreeKnocksAreTwoMinutesOfQuiet(t *testing.T) {
	sc := newScene(t, boat.Improver)
	sc.c.Answer(sc.s.Now, boat.Answer{Knocks: 3})
	from := sc.s.Now
	sc.run(119, low(12, 0.96)).silent()
	sc.run(10, low(12, 0.96))
	if at := sc.first(boat.HeadUp).T.Seconds(from); at < 120 {
		t.Errorf("spoke after %.1f s", at)
	}
	notes := sc.c.Notes()
	for _, code := range []string{"quiet", "quiet_over"} {
		if !slices.ContainsFunc(notes, func(n boat.Note) bool { return n.Code == code }) {
			t.Errorf("no note %s in %v", code, notes)
		}
	}
}

func TestTwoKnocksRepeat(t *testing.T) {
	off := low(12, 0.96)
	asked := func(t *testing.T) *scene {
		sc := newScene(t, boat.Improver).run(8, off)
		sc.first(boat.HeadUp)
		sc.cues = nil
		return sc
	}
	t.Run("while the order still holds", func(t *testing.T) {
		sc := asked(t)
		sc.c.Answer(sc.s.Now, boat.Answer{Knocks: 2})
		sc.run(3, off).first(boat.HeadUp)
		if len(sc.cues) != 1 {
			t.Errorf("said %v, want it once more", sc.keys())
		}
	})
	t.Run("not when it is carried out", func(t *testing.T) {
		sc := asked(t)
		sc.run(4, low(1, 0.9))
		sc.c.Answer(sc.s.Now, boat.Answer{Knocks: 2})
		sc.run(6, low(1, 0.9)).never(boat.HeadUp)
	})
	t.Run("one knock is no answer", func(t *testing.T) {
		sc := asked(t)
		sc.c.Answer(sc.s.Now, boat.Answer{Knocks: 1})
		sc.run(3, off).silent()
	})
	t.Run("words that tell are told again", func(t *testing.T) {
		sc := newScene(t, boat.Improver)
		sc.c.Act(sc.s.Now, boat.Act{Act: "say", Phrase: "well_done"})
		sc.run(3, nil)
		sc.c.Answer(sc.s.Now, boat.Answer{Knocks: 2})
		sc.run(3, nil)
		if !slices.Equal(sc.keys(), []string{"say:well_done", "say:well_done"}) {
			t.Errorf("said %v", sc.keys())
		}
	})
	t.Run("nothing to repeat", func(t *testing.T) {
		sc := fresh(t, boat.Improver).run(30, nil)
		sc.c.Answer(sc.s.Now, boat.Answer{Knocks: 2})
		sc.run(6, nil).silent()
	})
}

func TestInstructorSays(t *testing.T) {
	for _, m := range boat.Modes() {
		sc := newScene(t, boat.Beginner)
		sc.run(1, func(s *Situation, _ float64) { s.mode(m); s.Deaf = true })
		sc.c.Answer(sc.s.Now, boat.Answer{Knocks: 3})
		sc.cues = nil
		sc.c.Act(sc.s.Now, boat.Act{Act: "say", Phrase: "follow_me"})
		if got := sc.run(5, nil).keys(); !slices.Equal(got, []string{"say:follow_me"}) {
			t.Errorf("%v: said %v", m, got)
		}
	}
}

func TestSayingsComeInOrderAndNeverLate(t *testing.T) {
	sc := newScene(t, boat.Beginner)
	for _, p := range []string{"a", "b", "c", "d", "e", "f", "g", "h", "i", "j", "k", "l", "m", "n"} {
		sc.c.Act(sc.s.Now, boat.Act{Act: "say", Phrase: p})
	}
	from := sc.s.Now
	sc.run(60, nil)
	if n := len(sc.cues); n < 6 || n > 10 {
		t.Fatalf("%d phrases, want as many as fit into 20 s", n)
	}
	for i, c := range sc.cues {
		if c.Variant != string(rune('a'+i)) {
			t.Errorf("said %s as number %d", c.Variant, i)
		}
		if c.T.Seconds(from) > 20.1 {
			t.Errorf("said %s %.1f s late", c.Variant, c.T.Seconds(from))
		}
	}
	if !noted(sc.c, "say_dropped") {
		t.Error("nobody is told what was not said")
	}
}

func TestInstructorQuietAndResume(t *testing.T) {
	sc := newScene(t, boat.Improver)
	sc.c.Act(sc.s.Now, boat.Act{Act: "quiet"})
	sc.run(20, low(12, 0.96)).silent()
	sc.c.Act(sc.s.Now, boat.Act{Act: "resume"})
	sc.run(5, low(12, 0.96)).first(boat.HeadUp)
}

func TestIDsCountUp(t *testing.T) {
	sc := fresh(t, boat.Beginner).run(400, low(14, 0.9))
	if len(sc.cues) < 3 {
		t.Fatalf("said only %v", sc.keys())
	}
	for i, c := range sc.cues {
		if c.ID != i+1 {
			t.Errorf("cue %d has id %d", i+1, c.ID)
		}
	}
}

func TestTheStartIsSilent(t *testing.T) {
	sc := fresh(t, boat.Beginner)
	sc.run(30, func(s *Situation, _ float64) { s.mode(boat.Waiting); s.pace(0) }).silent()
	from := sc.s.Now
	sc.run(40, func(s *Situation, at float64) { s.mode(boat.CloseHauled); low(14, 0.9)(s, at) })
	if at := sc.first(boat.HeadUp).T.Seconds(from); at < 20 {
		t.Errorf("spoke %.1f s after she got under way", at)
	}
}

func TestAllIsWellIsSilent(t *testing.T) {
	newScene(t, boat.Expert).run(150, nil).silent()
}

func TestAnEarlierSituationSaysNothing(t *testing.T) {
	sc := newScene(t, boat.Improver)
	s := sc.s
	s.Now -= 5000
	s.State.HeelDeg = boat.Some(-40)
	if got := sc.c.Decide(s); got != nil {
		t.Errorf("said %v about the past", got)
	}
}
