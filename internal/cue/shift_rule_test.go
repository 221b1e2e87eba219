package cue

import (
	"slices"
	"testing"

	"helmcue/internal/boat"
)

// shifts gives her a shift called at the scene's present moment.
func (sc *scene) shifts(s boat.Shift) func(*Situation, float64) {
	s.CalledT, s.Since, s.Why = sc.s.Now, sc.s.Now, "as measured"
	return func(sit *Situation, _ float64) { sit.Shift = s }
}

func TestShift(t *testing.T) {
	for _, tc := range []struct {
		name  string
		level boat.Level
		shift boat.Shift
		mode  boat.Mode
		want  string
	}{
		{"lifted", boat.Improver, boat.Shift{Kind: boat.Persistent, ID: 1, LiftDeg: 9}, boat.CloseHauled, "lifted:10"},
		{"headed", boat.Expert, boat.Shift{Kind: boat.Persistent, ID: 1, LiftDeg: -11}, boat.CloseHauled, "headed:10"},
		{"far", boat.Improver, boat.Shift{Kind: boat.Persistent, ID: 1, LiftDeg: -31}, boat.CloseHauled, "headed:15"},
		{"beginner gets no number", boat.Beginner, boat.Shift{Kind: boat.Persistent, ID: 1, LiftDeg: 9}, boat.CloseHauled, ""},
		{"swings", boat.Improver, boat.Shift{Kind: boat.Oscillating, ID: 1, LiftDeg: 9}, boat.CloseHauled, ""},
		{"the helm", boat.Improver, boat.Shift{Helm: "pinch"}, boat.CloseHauled, ""},
		{"on a reach the sheet rule speaks", boat.Improver, boat.Shift{Kind: boat.Persistent, ID: 1, LiftDeg: 9}, boat.Reaching, ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			sc := newScene(t, tc.level)
			put := sc.shifts(tc.shift)
			sc.run(60, func(s *Situation, at float64) { s.Mode = tc.mode; put(s, at) })
			if tc.want == "" {
				sc.never(boat.Lifted, boat.Headed)
				return
			}
			sc.cues = slices.DeleteFunc(sc.cues, func(c boat.Cue) bool { return c.Key != boat.Lifted && c.Key != boat.Headed })
			if got := sc.keys(); len(got) != 1 || got[0] != tc.want {
				t.Fatalf("said %v, want %s once", got, tc.want)
			}
		})
	}
}

func TestOldShiftIsNoNews(t *testing.T) {
	sc := newScene(t, boat.Improver)
	put := sc.shifts(boat.Shift{Kind: boat.Persistent, ID: 1, LiftDeg: 9})
	sc.run(20, nil)
	sc.run(60, put).never(boat.Lifted, boat.Headed)
}

// How close will she go is asked once in ten minutes, and never where coming up
// is not safe.
func TestClosenessTest(t *testing.T) {
	doubt := func(change func(*Situation)) func(*Situation, float64) {
		return func(s *Situation, _ float64) {
			s.Shift = boat.Shift{Unclear: true}
			if change != nil {
				change(s)
			}
		}
	}
	sc := newScene(t, boat.Improver)
	sc.run(500, doubt(nil))
	n := 0
	for _, c := range sc.cues {
		if c.Key == boat.Intro && c.Variant == "closeness_test" {
			n++
		}
	}
	if n != 1 {
		t.Errorf("asked %d times in 500 s of doubt, want once; said %v", n, sc.keys())
	}
	for name, change := range map[string]func(*Situation){
		"slow":           func(s *Situation) { s.Share = boat.Some(0.5) },
		"close already":  func(s *Situation) { s.angle(35) },
		"reaching":       func(s *Situation) { s.Mode = boat.Reaching },
		"side not known": func(s *Situation) { s.Wind.Known = false },
		"exercise":       func(s *Situation) { s.Guide.Name = "square_tacks" },
		"beginner":       func(s *Situation) { s.Settings.Level = boat.Beginner },
		"much heel":      func(s *Situation) { s.State.HeelDeg = boat.Some(-28) },
	} {
		t.Run(name, func(t *testing.T) { newScene(t, boat.Improver).run(120, doubt(change)).never(boat.Intro) })
	}
}
