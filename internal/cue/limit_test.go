package cue

import (
	"testing"

	"helmcue/internal/boat"
)

func TestOverTheLimit(t *testing.T) {
	wind := func(kn float64, by string, age float64) func(*Situation, float64) {
		return func(s *Situation, _ float64) {
			s.Wind.SpeedKn, s.Wind.By, s.Wind.AgeS = boat.Some(kn), by, age
		}
	}
	for _, tc := range []struct {
		name string
		each func(*Situation, float64)
		want string
	}{
		{"a word about the wind", wind(17, "fix", 100), "wind"},
		{"an instrument", wind(17, "instrument", 0), "wind"},
		{"her motion alone", wind(17, "motion", 0), ""},
		{"a word two hours old", wind(17, "fix", 7200), ""},
		{"under it", wind(14, "instrument", 0), ""},
		{"one gust", func(s *Situation, at float64) {
			wind(12, "instrument", 0)(s, at)
			if at > 100 && at < 105 {
				s.Wind.SpeedKn = boat.Some(19)
			}
		}, ""},
		{"knocked down again and again", func(s *Situation, at float64) {
			s.State.HeelDeg = boat.Some(-15)
			if int(at)%10 < 4 {
				s.State.HeelDeg = boat.Some(-27)
			}
		}, "heel"},
		{"motoring", func(s *Situation, at float64) { s.mode(boat.Motoring); wind(17, "instrument", 0)(s, at) }, ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			sc := newScene(t, boat.Beginner).run(240, tc.each)
			if tc.want == "" {
				sc.never(boat.OverLimit)
				return
			}
			for _, c := range sc.cues {
				if c.Key == boat.OverLimit {
					if c.WhyCode != tc.want || c.Urgency != boat.Warning {
						t.Errorf("cue %+v", c)
					}
					return
				}
			}
			t.Errorf("said %v, want over_limit", sc.keys())
		})
	}
}
