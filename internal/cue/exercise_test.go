package cue

import (
	"testing"

	"helmcue/internal/boat"
)

func prompt(id int, k boat.Key, variant string) *boat.Prompt {
	p := &boat.Prompt{ID: id, Key: k, Variant: variant, Since: t0, WhyCode: "exercise", Why: "the exercise"}
	if k == boat.HeadUp || k == boat.BearAway {
		p.Amount = boat.Some(10)
	}
	return p
}

func TestAPromptIsSpokenOnce(t *testing.T) {
	sc := newScene(t, boat.Improver)
	sc.s.Guide = boat.Guide{Name: "low_or_close", Prompt: prompt(1, boat.BearAway, "10")}
	sc.run(60, nil)
	if c := sc.first(boat.BearAway); c.Urgency != boat.Teach || c.WhyCode != "exercise" || c.Amount.Val != 10 {
		t.Errorf("got %+v", c)
	}
	n := 0
	for _, c := range sc.cues {
		if c.WhyCode == "exercise" {
			n++
		}
	}
	if n != 1 {
		t.Errorf("spoken %d times", n)
	}
}

func TestABearingIsNamedByTheCompass(t *testing.T) {
	sc := newScene(t, boat.Improver)
	sc.s.Guide.Prompt = prompt(1, boat.Bearing, "mark")
	sc.s.Guide.Prompt.TrueDeg = boat.Some(123)
	for range 100 { // sound knows the book's variants alone
		sc.s.Now += 100
		sc.s.State.T = sc.s.Now
		sc.cues = append(sc.cues, sc.c.Decide(sc.s)...)
	}
	if c := sc.first(boat.Bearing); c.Amount.Val != 120 || c.Ref != boat.Magnetic { // 4° east: 119, to 5°
		t.Errorf("got %v %s", c.Amount, c.Ref)
	}
}

// What an exercise asks for is held back where a rule of the coach could not ask for it.
func TestUnsafePromptsAreHeldBack(t *testing.T) {
	for _, c := range []struct {
		name string
		key  boat.Key
		each func(*Situation, float64)
	}{
		{"up on a doubtful wind", boat.HeadUp, func(s *Situation, _ float64) { s.Wind.LoDeg, s.Wind.HiDeg = 345, 15 }},
		{"up while slow", boat.HeadUp, func(s *Situation, _ float64) { s.angle(60); s.pace(0.5) }},
		{"up near the dead sector", boat.HeadUp, func(s *Situation, _ float64) { s.angle(46) }},
		{"away on a run", boat.BearAway, func(s *Situation, _ float64) { s.mode(boat.Running); s.angle(148) }},
		{"away on an unknown wind", boat.BearAway, func(s *Situation, _ float64) { s.noWind() }},
		{"away with much heel", boat.BearAway, func(s *Situation, _ float64) { s.State.HeelDeg = boat.Some(-27) }},
		{"away over the limit", boat.BearAway, func(s *Situation, _ float64) { s.Wind.SpeedKn = boat.Some(17) }},
		{"away while deaf", boat.BearAway, func(s *Situation, _ float64) { s.Deaf = true }},
		{"away while motoring", boat.BearAway, func(s *Situation, _ float64) { s.mode(boat.Motoring) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			sc := newScene(t, boat.Improver)
			sc.run(5, c.each)
			sc.cues = nil
			sc.s.Guide.Prompt = prompt(1, c.key, "10")
			sc.run(20, c.each)
			for _, k := range sc.cues {
				if k.WhyCode == "exercise" {
					t.Errorf("said %s", k.Key)
				}
			}
		})
	}
	sc := newScene(t, boat.Improver)
	sc.run(30, func(s *Situation, _ float64) { s.angle(58); s.pace(1) })
	sc.cues = nil
	sc.s.Guide.Prompt = prompt(1, boat.HeadUp, "10")
	sc.run(10, nil)
	sc.first(boat.HeadUp) // and where it is safe, it is said
}

func TestATurnIsPreparedAndItsMomentLeft(t *testing.T) {
	for _, call := range []bool{false, true} {
		sc := newScene(t, boat.Improver)
		sc.s.Guide.Turn = boat.TurnWish{ID: 1, Kind: "tack", Call: call, Why: "the exercise"}
		sc.run(30, nil)
		if c := sc.first(boat.PrepareTack); c.WhyCode != "exercise" {
			t.Errorf("prepared by %s", c.WhyCode)
		}
		if got := contains(sc.keys(), "turn_now"); got != call {
			t.Errorf("call %v: said %v", call, sc.keys())
		}
		if sc.c.Planning() {
			t.Error("the turn is still planned")
		}
	}
}

func TestNoTurnForAnExerciseThatIsNotSafe(t *testing.T) {
	for name, each := range map[string]func(*Situation, float64){
		"unknown wind": func(s *Situation, _ float64) { s.noWind() },
		"over limit":   func(s *Situation, _ float64) { s.mode(boat.Running); s.angle(150); s.Wind.SpeedKn = boat.Some(17) },
		"waiting":      func(s *Situation, _ float64) { s.mode(boat.Waiting) },
	} {
		sc := newScene(t, boat.Improver)
		sc.run(3, each)
		sc.s.Guide.Turn = boat.TurnWish{ID: 1, Kind: "gybe", Call: true, Why: "the exercise"}
		sc.run(20, each)
		sc.never(boat.PrepareGybe, boat.TurnNow)
		if !noted(sc.c, "turn_dropped") {
			t.Errorf("%s: nobody is told why", name)
		}
	}
}

func TestMuted(t *testing.T) {
	pinch := func(s *Situation, _ float64) { s.angle(31); s.pace(0.7) }
	for _, c := range []struct {
		mute boat.Mute
		says bool
	}{{boat.Mute{}, true}, {boat.Mute{Sheet: true}, true}, {boat.Mute{Helm: true}, false}, {boat.Mute{All: true}, false}} {
		sc := newScene(t, boat.Improver)
		sc.s.Guide.Mute = c.mute
		sc.run(40, pinch)
		if got := len(sc.cues) > 0 && sc.cues[0].Key == boat.BearAway; got != c.says {
			t.Errorf("%+v: said %v", c.mute, sc.keys())
		}
	}
}

// Danger, the limit and irons are said whatever an exercise mutes.
func TestDangerIsNeverMuted(t *testing.T) {
	for key, each := range map[boat.Key]func(*Situation, float64){
		boat.LetGo:     func(s *Situation, _ float64) { s.State.HeelDeg = boat.Some(-36) },
		boat.OverLimit: func(s *Situation, _ float64) { s.Wind.SpeedKn = boat.Some(18) },
		boat.InIrons:   func(s *Situation, _ float64) { s.mode(boat.Irons); s.angle(5); s.pace(0.05) },
		boat.MindBoom: func(s *Situation, at float64) {
			s.mode(boat.Running)
			s.angle(176 + at)
			s.State.YawDps = boat.Some(-3)
		},
	} {
		sc := newScene(t, boat.Improver)
		sc.s.Guide.Mute = boat.Mute{All: true, Helm: true, Sheet: true}
		sc.run(15, each)
		said := false
		for _, c := range sc.cues {
			said = said || c.Key == key
		}
		if !said {
			t.Errorf("%s: said only %v", key, sc.keys())
		}
	}
}
