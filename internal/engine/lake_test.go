package engine_test

import (
	"math"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/engine"
	"helmcue/internal/geo"
	"helmcue/internal/lake"
	"helmcue/internal/sim"
	"helmcue/internal/water"
)

// landS is how many seconds ahead land lies on her true course, looked for in small
// steps and not by the chart's own ray; +Inf beyond 100 s.
func landS(c *water.Chart, now sim.Truth) float64 {
	for s := 0.0; s < 100; s++ {
		if !c.Afloat(geo.Destination(now.Pos, now.COGDeg, now.SOGKn*geo.KnotMS*s)) {
			return s
		}
	}
	return math.Inf(1)
}

// seen is what a session on the lake came to.
type seen struct {
	shore, wrong int // words about it, and those with no land there
	lee          int
	near, silent int // tenths of a second with land close ahead, and of those without a word before
}

func (n *seen) cue(t *testing.T, chart *water.Chart, c boat.Cue, now sim.Truth) {
	switch c.WhyCode {
	case "shore", "shore_close":
		n.shore++
		s := landS(chart, now)
		for _, deg := range []float64{-10, 10} { // the course wanders
			off := now
			off.COGDeg += deg
			s = math.Min(s, landS(chart, off))
		}
		if s > 75 {
			n.wrong++
			t.Logf("%s, while land lies %.0f s ahead", c.Why, s)
		}
	case "lee":
		n.lee++
	}
}

// sailing is a scene on a chart for so many minutes.
type sailing struct {
	scene   string
	seed    uint64
	on      boat.Water
	minutes int
}

func (k sailing) sail(t *testing.T) (n seen) {
	t.Helper()
	chart, err := water.New(k.on, 8.4)
	if err != nil {
		t.Fatal(err)
	}
	s, err := sim.New(k.scene, k.seed, 1_900_000_000_000)
	if err != nil {
		t.Fatal(err)
	}
	set, e, last := s.Settings(), engine.New(), boat.Time(0)
	set.Water = &k.on
	steady := 0 // tenths of a second on a course to near land
	e.Step(boat.Input{T: s.Now(), Kind: boat.SettingsIn, Settings: &set})
	for range k.minutes * 600 {
		for _, in := range s.Step() {
			for _, o := range e.Step(in) {
				if o.Cue == nil {
					continue
				}
				s.Hear(*o.Cue)
				n.cue(t, chart, *o.Cue, s.Truth())
				if o.Cue.Key == boat.Shore {
					last = o.Cue.T
				}
			}
		}
		now := s.Truth()
		if left := landS(chart, now); !now.Mode.Sailing() || left > 20 || math.Abs(now.YawDps) > 5 {
			steady = 0
		} else if steady++; steady > 40 && left > 3 && left < 12 {
			n.near++
			if last == 0 || now.T.Seconds(last) > 20 {
				n.silent++
			}
		}
	}
	return n
}

// The learners of the scenes stay in the open part of the built-in lake.
func TestInOpenWaterNothingIsSaidOfShoreAndLee(t *testing.T) {
	for _, scene := range []string{"first-lesson", "shifty-morning"} {
		if n := (sailing{scene, 1, lake.Demo(), 10}).sail(t); n != (seen{}) {
			t.Errorf("%s: %+v", scene, n)
		}
	}
}

// An island lies across the way to windward. The learner steers by the wind and sees
// no land.
func TestTheShoreIsToldToALearnerWhoSailsTowardsIt(t *testing.T) {
	on := lake.Demo()
	s, err := sim.New("first-lesson", 1, 1_900_000_000_000)
	if err != nil {
		t.Fatal(err)
	}
	var ring []boat.LonLat
	at := func(upM, acrossM float64) {
		p := geo.Destination(geo.Destination(s.Truth().Pos, 225, upM), 315, acrossM)
		ring = append(ring, boat.LonLat{p.LonDeg, p.LatDeg})
	}
	at(260, -400)
	at(260, 400)
	at(330, 400)
	at(330, -400)
	on.Areas = append(on.Areas, boat.Area{Kind: boat.Land, HeightM: boat.Some(0.3), Rings: [][]boat.LonLat{append(ring, ring[0])}})
	var n seen
	for seed := range uint64(4) {
		one := sailing{"first-lesson", seed + 1, on, 12}.sail(t)
		n.shore, n.wrong, n.near, n.silent = n.shore+one.shore, n.wrong+one.wrong, n.near+one.near, n.silent+one.silent
	}
	t.Logf("%+v", n)
	if n.shore < 8 || n.near < 100 || n.wrong > 0 || 20*n.silent > n.near {
		t.Errorf("%+v: want the shore told, and told in time", n)
	}
}

// The demonstration sails up to a wood that the chart shows and the simulator's wind
// feels: it is told in time, and nothing is told that is not there.
func TestTheDemonstrationIsToldOfTheWood(t *testing.T) {
	n := (sailing{"under-the-wood", 1, lake.Demo(), 9}).sail(t)
	if n.lee == 0 || n.wrong > 0 || 10*n.silent > n.near {
		t.Errorf("%+v: want dead air told, and no word of land that is not there", n)
	}
}
