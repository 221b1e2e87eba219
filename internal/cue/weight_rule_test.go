package cue

import (
	"testing"

	"helmcue/internal/boat"
)

func TestWeight(t *testing.T) {
	for _, tc := range []struct {
		name string
		each func(*Situation, float64)
		want boat.Key
	}{
		{"heeled to leeward", func(s *Situation, _ float64) { s.State.HeelDeg = boat.Some(-21) }, boat.SitOut},
		{"on port tack", func(s *Situation, _ float64) { s.angle(-44); s.State.HeelDeg = boat.Some(21) }, boat.SitOut},
		{"heeled and gaining", func(s *Situation, at float64) {
			s.State.HeelDeg = boat.Some(-21)
			s.State.SpeedKn = boat.Some(3.8 + 0.15*at)
		}, ""},
		{"heeled to windward", func(s *Situation, _ float64) { s.State.HeelDeg = boat.Some(12) }, boat.SitIn},
		{"flat and slow in a light wind", func(s *Situation, _ float64) {
			s.State.HeelDeg, s.Wind.SpeedKn = boat.Some(0), boat.Some(4)
			s.pace(0.7)
		}, boat.SitIn},
		{"flat and slow in wind enough", func(s *Situation, _ float64) { s.State.HeelDeg = boat.Some(0); s.pace(0.7) }, ""},
		{"worn", func(s *Situation, _ float64) { s.State.HeelDeg, s.State.Mount = boat.Some(-25), boat.Worn }, ""},
		{"heeled on an unknown wind", func(s *Situation, _ float64) {
			s.noWind()
			s.State.SpeedKn, s.State.HeelDeg = boat.Some(3), boat.Some(21)
		}, boat.SitOut},
		{"upright", func(s *Situation, _ float64) {}, ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			sc := newScene(t, boat.Beginner).run(14, tc.each)
			if tc.want == "" {
				sc.never(boat.SitOut, boat.SitIn)
				return
			}
			sc.first(tc.want)
		})
	}
}
