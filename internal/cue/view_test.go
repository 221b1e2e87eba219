package cue

import (
	"testing"

	"helmcue/internal/boat"
)

// The bounds of the helm's orders: within 5° of the dead sector (33° here) or
// under 60 % of speed nothing is headed up; past 150°, or where the wind's
// interval passes 160°, nothing is borne away.
func TestBoundsOfHelmOrders(t *testing.T) {
	for _, tc := range []struct {
		name     string
		twa      float64
		half     float64
		share    float64
		up, away bool // by five degrees
	}{
		{"footing", 56, 5, 1, true, true},
		{"near end 37", 42, 5, 1, false, true},
		{"near end 38", 43, 5, 1, true, true},
		{"doubtful wind", 50, 15, 1, false, true},
		{"slow", 56, 5, 0.59, false, true},
		{"reaching", 100, 5, 1, true, true},
		{"far end 155", 150, 5, 1, true, true},
		{"past 150", 151, 2, 1, true, false},
		{"interval passes 160", 140, 18, 1, true, false},
		{"on port tack", -42, 5, 1, false, true},
	} {
		t.Run(tc.name, func(t *testing.T) {
			v := quietView()
			v.angle(tc.twa)
			v.twa = v.TWADeg
			v.Wind.LoDeg, v.Wind.HiDeg = 360-tc.half, tc.half
			v.Share = boat.Some(tc.share)
			if up, away := v.mayHeadUp(5), v.mayBearAway(5); up != tc.up || away != tc.away {
				t.Errorf("head up %v, bear away %v, want %v, %v", up, away, tc.up, tc.away)
			}
			v.Wind.Known = false
			if v.mayHeadUp(5) || v.mayBearAway(5) {
				t.Error("an order on an unknown wind")
			}
		})
	}
}

// A helm that swings from too low to too high must not be chased.
func TestASwingingHelmIsNotChased(t *testing.T) {
	for _, period := range []int{30, 45, 60, 90} {
		sc := newScene(t, boat.Improver).run(900, func(s *Situation, at float64) {
			s.angle(58)
			s.pace(0.9)
			if int(at)%period < period/2 {
				s.angle(34)
				s.pace(0.7)
			}
		})
		if len(sc.cues) == 0 {
			t.Errorf("period %d s: nothing said at all", period)
		}
		for i, c := range sc.cues {
			for _, p := range sc.cues[:i] {
				if opposite(p, c) && c.T.Seconds(p.T) < 20 {
					t.Errorf("period %d s: %s %.0f s after %s", period, c.Key, c.T.Seconds(p.T), p.Key)
				}
			}
		}
	}
}
