package exercise

import (
	"math"
	"strings"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

func TestStopAndStart(t *testing.T) {
	b := newSea(t, single(StopAndStart)).hold(30, 90, 0.9)
	// From 3.6 kn: under 0.7 of it after 3 s, under a fifth 5 s later.
	b.ease(10, 90, 0).hold(6, 90, 0).ease(12, 90, 0.9).hold(5, 90, 0.9)
	b.expect(true, map[string][2]float64{"stop_s": {5, 1}, "start_s": {6, 2}})
	if !b.spoken(boat.Intro, StopAndStart) || !b.spoken(boat.Result, "counts") {
		t.Errorf("asked %+v", b.asked)
	}
}

func TestStopTooSlowly(t *testing.T) {
	b := newSea(t, single(StopAndStart)).hold(30, 90, 0.9)
	b.ease(60, 90, 0).hold(6, 90, 0).ease(12, 90, 0.9)
	b.expect(false, map[string][2]float64{"stop_s": {27, 4}})
}

func TestSlowingDownIsNoStop(t *testing.T) {
	b := newSea(t, single(StopAndStart)).hold(30, 90, 0.9).ease(5, 90, 0.5).hold(5, 90, 0.5).ease(5, 90, 0.95).hold(20, 90, 0.95)
	if len(b.results()) != 0 {
		t.Errorf("a lull counted as a try: %s", b.log())
	}
}

func TestReachToAndFro(t *testing.T) {
	b := newSea(t, single(ReachToAndFro)).hold(45, 90, 0.9).turn("tack", -90, boat.Manoeuvre{}).hold(45, -90, 0.9)
	b.expect(true, map[string][2]float64{"steady_deg": {0, 1}, "share": {0.9, 0.02}})
}

func TestWanderingReach(t *testing.T) {
	b := newSea(t, single(ReachToAndFro))
	b.wig = func(sec float64) (float64, float64, float64) { return 15 * math.Sin(sec/3), -8, 0 }
	b.hold(60, 90, 0.9).turn("tack", -90, boat.Manoeuvre{}).hold(60, -90, 0.9)
	b.expect(false, map[string][2]float64{"steady_deg": {15 / math.Sqrt2, 1.5}}) // the SD of a sine
}

func TestReachGybedIsVoid(t *testing.T) {
	b := newSea(t, single(ReachToAndFro)).hold(45, 90, 0.9).turn("gybe", -90, boat.Manoeuvre{}).hold(40, -90, 0.9)
	if len(b.results()) != 0 || len(b.phase(Void)) != 1 {
		t.Errorf("got %s", b.log())
	}
}

func quick() boat.Manoeuvre {
	return boat.Manoeuvre{EntryKn: boat.Some(3.6), LeastKn: boat.Some(2.2), RecoveredS: boat.Some(11), LostLen: boat.Some(2.2), LostM: boat.Some(9.2), TurnDeg: boat.Some(95)}
}

func slow() boat.Manoeuvre {
	return boat.Manoeuvre{EntryKn: boat.Some(3.6), LeastKn: boat.Some(0.9), RecoveredS: boat.Some(40), LostLen: boat.Some(7.6), TurnDeg: boat.Some(130)}
}

func TestTackFromReach(t *testing.T) {
	newSea(t, single(TackFromReach)).hold(45, 80, 0.9).turn("tack", -70, quick()).hold(5, -70, 0.9).
		expect(true, map[string][2]float64{"least_share": {0.61, 0.01}, "lost_lengths": {2.2, 0}})
	newSea(t, single(TackFromReach)).hold(45, 80, 0.9).turn("tack", -70, slow()).hold(5, -70, 0.9).
		expect(false, map[string][2]float64{"least_share": {0.25, 0.01}})
}

func TestTackFromABeatIsNoTackFromAReach(t *testing.T) {
	b := newSea(t, single(TackFromReach)).hold(45, 44, 0.9).turn("tack", -44, quick()).hold(5, -44, 0.9)
	if len(b.results()) != 0 {
		t.Errorf("got %s", b.log())
	}
}

func TestStuckInTheTack(t *testing.T) {
	b := newSea(t, single(TackFromReach)).hold(45, 80, 0.9).ease(4, 10, 0.2)
	for range 50 {
		b.put(5, 0.05)
		b.s.Mode = boat.Irons
		b.tick()
	}
	if r := b.one(); r.Score["good"] != 0 || !b.spoken(boat.Result, "stuck") {
		t.Errorf("got %+v, %s", r, b.log())
	}
}

func TestTackWithinLengths(t *testing.T) {
	for _, c := range []struct {
		most float64
		m    boat.Manoeuvre
		good bool
		said string
	}{{0, quick(), true, "lost_2"}, {2, quick(), false, "lost_2"}, {3, quick(), true, "lost_2"}, {0, slow(), false, "lost_more"}} {
		b := newSea(t, boat.PlanStep{Exercise: ShortTacks, Lengths: c.most}).hold(40, 44, 0.95).turn("tack", -44, c.m).hold(5, -44, 0.9)
		b.expect(c.good, nil)
		if !b.spoken(boat.Result, c.said) {
			t.Errorf("within %g: asked %+v, want %s", c.most, b.asked, c.said)
		}
	}
}

func TestSquareTacks(t *testing.T) {
	// On starboard tack with wind from 000 her new heading is 044. She comes out at 050: low.
	b := newSea(t, single(SquareTacks)).hold(40, 44, 0.95).turn("tack", -50, quick()).hold(16, -50, 0.95)
	b.expect(true, map[string][2]float64{"off_deg": {6, 0.5}})
	b = newSea(t, single(SquareTacks)).hold(40, -44, 0.95).turn("tack", 36, quick()).hold(16, 36, 0.95)
	b.expect(true, map[string][2]float64{"off_deg": {-8, 0.5}})
	b = newSea(t, single(SquareTacks)).hold(40, 44, 0.95).turn("tack", -65, quick()).hold(16, -65, 0.95)
	b.expect(false, map[string][2]float64{"off_deg": {21, 0.5}})
}

func TestCloseness(t *testing.T) {
	b := newSea(t, single(Closeness)).hold(35, 46, 1).ease(12, 38, 0.92).ease(6, 45, 1).hold(5, 45, 1)
	b.expect(true, map[string][2]float64{"closest_deg": {38, 1.5}, "gained_deg": {8, 1.5}})
	if !b.spoken(boat.Result, "closer") || !b.spoken(boat.Look, "luff") {
		t.Errorf("asked %+v", b.asked)
	}
}

func TestTooCloseIsNotGood(t *testing.T) {
	b := newSea(t, single(Closeness)).hold(35, 46, 1).ease(10, 34, 0.4).hold(5, 34, 0.4)
	b.expect(false, nil)
}

func TestHoldACourse(t *testing.T) {
	b := newSea(t, boat.PlanStep{Exercise: HoldCourse, Good: 1, Of: 1}).hold(20, 90, 0.8).ease(60, 90, 0.95).hold(75, 90, 0.95)
	b.expect(true, map[string][2]float64{"share": {0.95, 0.02}, "steady_deg": {0, 1}})
	if b.mute.Helm { // the exercise is over
		t.Error("the helm is still muted")
	}
	b = newSea(t, single(HoldCourse))
	b.wig = func(sec float64) (float64, float64, float64) {
		if sec < 25 {
			return 0, -8, 0
		}
		return 14 * math.Sin(sec/4), -8, 0
	}
	b.hold(160, 90, 0.95).expect(false, nil)
}

func TestHoldACourseToTheRamp(t *testing.T) {
	b := newSea(t, single(HoldCourse))
	b.s.Water = Water{Charted: true, RampOK: true}
	b.s.Water.Ramp = b.s.State.Pos
	b.hold(400, -90, 0.95) // sails away from it, eastwards: the ramp bears west
	if !b.spoken(boat.Bearing, "ramp") {
		t.Fatalf("asked %+v", b.asked)
	}
	r := b.results()
	if len(r) == 0 || r[len(r)-1].Score["good"] != 0 || !strings.Contains(r[len(r)-1].Text, "the ramp lay") {
		t.Errorf("sailing away from the ramp: %s", b.log())
	}
}

func TestGusts(t *testing.T) {
	// A gust each 30 s: heel rises by 9° and is brought back within hold seconds.
	for hold, good := range map[float64]bool{2: true, 7: false} {
		b := newSea(t, single(LullAndGust))
		b.wig = func(sec float64) (float64, float64, float64) {
			if in := math.Mod(sec, 30); sec > 40 && in < hold {
				return 0, -17, 0
			}
			return 0, -8, 0
		}
		b.hold(230, 80, 0.95)
		b.expect(good, map[string][2]float64{"gusts": {6, 1}})
	}
}

func TestFigureOfEight(t *testing.T) {
	b := newSea(t, single(FigureOfEight)).hold(10, 90, 0.9)
	if !b.knock(2) { // is there room: yes
		t.Fatalf("the knocks were not for the exercise: %s", b.log())
	}
	b.hold(60, 90, 0.9).turn("tack", -90, quick()).hold(60, -90, 0.9)
	b.expect(true, map[string][2]float64{"miss_m": {8, 8}})
	if !b.spoken(boat.Bearing, "mark") {
		t.Errorf("asked %+v", b.asked)
	}
	if len(b.wants) != 1 || b.wants[0].Kind != "tack" {
		t.Errorf("wanted %+v, want one tack past the mark", b.wants)
	}
}

func TestLegToMark(t *testing.T) {
	b := newSea(t, boat.PlanStep{Exercise: LegToMark, Lengths: 50}).hold(10, 44, 1)
	b.knock(2)
	b.hold(12, 44, 1) // the mark lies 210 m upwind when it is set
	for side := 44.0; len(b.results()) == 0 && b.s.Now.Seconds(t0) < 600; side = -side {
		asked := len(b.wants)
		for len(b.results()) == 0 && len(b.wants) == asked && b.s.Now.Seconds(t0) < 600 {
			b.hold(1, side, 1)
		}
		if len(b.results()) == 0 {
			b.turn("tack", -side, quick())
		}
	}
	r := b.one()
	// 210 m at 2.88 kn made good take 142 s.
	if math.Abs(r.Score["best_s"]-142) > 1 || r.Score["good"] != 1 || r.Score["tacks"] < 1 || r.Score["seconds"] < 120 {
		t.Errorf("got %+v", r)
	}
}

func TestGybe(t *testing.T) {
	b := newSea(t, single(GybeWell)).hold(30, 135, 0.9)
	if len(b.wants) != 0 {
		t.Fatalf("a gybe before a yes: %+v", b.wants)
	}
	b.knock(2)
	b.hold(20, 135, 0.9)
	if len(b.wants) != 1 || b.wants[0].Kind != "gybe" || !b.wants[0].Call {
		t.Fatalf("wanted %+v", b.wants)
	}
	m := quick()
	m.TurnDeg = boat.Some(85)
	b.turn("gybe", -140, m).hold(5, -140, 0.9)
	b.expect(true, map[string][2]float64{"turn_deg": {85, 0}, "most_heel_deg": {8, 0}})
}

func TestNoGybeInMuchWind(t *testing.T) {
	for name, change := range map[string]func(*Sight){
		"near the limit": func(s *Sight) { s.Wind.SpeedKn = boat.Some(13) },
		"over the limit": func(s *Sight) { s.Wind.SpeedKn = boat.Some(17) },
		"reckoned":       func(s *Sight) { s.Wind.Reckoned = true },
		"not told":       func(s *Sight) { s.Wind.SpeedKn = boat.Reading{} },
	} {
		b := newSea(t, single(GybeWell))
		change(&b.s)
		b.hold(30, 135, 0.9)
		b.knock(2)
		b.hold(30, 135, 0.9)
		if len(b.wants) != 0 || b.spoken(boat.Intro, GybeWell) {
			t.Errorf("%s: wanted %+v, asked %+v", name, b.wants, b.asked)
		}
	}
}

func TestOnYourOwn(t *testing.T) {
	b := newSea(t, boat.PlanStep{Exercise: OnYourOwn, Seconds: 200})
	b.r.SetPlan(nil)
	b.hold(250, 44, 1)
	b.r.SetPlan(&boat.Plan{Name: "end", Steps: []boat.PlanStep{{Exercise: OnYourOwn, Seconds: 200}}})
	b.hold(60, 44, 0.9)
	if !b.mute.All {
		t.Error("the voice is not quiet")
	}
	b.turn("tack", -44, quick()).hold(160, -44, 0.9)
	b.expect(true, map[string][2]float64{"share": {0.9, 0.02}, "kept_share": {0.9, 0.03}, "tacks": {1, 0}, "lost_lengths": {2.2, 0}})
	if b.mute.All || len(b.phase(Over)) != 1 {
		t.Errorf("the plan is not over: %s", b.log())
	}
}

// Marks of the chart are taken where they take a beat; none is set where the chart
// shows no clear water.
func TestMarksAndTheChart(t *testing.T) {
	leg := func(set func(*sea)) *sea {
		b := newSea(t, boat.PlanStep{Exercise: LegToMark, Lengths: 50})
		b.r.person = true
		set(b)
		return b.hold(30, 44, 1)
	}
	b := leg(func(b *sea) {
		b.s.Water.Marks = []geo.Position{geo.Destination(b.s.State.Pos, 90, 300), geo.Destination(b.s.State.Pos, 10, 300)}
	})
	p := b.asked[len(b.asked)-1]
	// Set after some 7 s at 2.06 m/s towards 316: from 10 m west and 10 north of the
	// start, a mark 52 m east and 295 north bears atan(62/285), 12 degrees.
	if p.Key != boat.Bearing || math.Abs(geo.Diff(p.TrueDeg.Val, 12)) > 2 {
		t.Errorf("asked %+v, want the mark of the chart", p)
	}
	for clear, set := range map[float64]bool{200: true, 30: false, 0: false} {
		b := leg(func(b *sea) { b.s.Water.ClearM = func(geo.Position) float64 { return clear } })
		if b.spoken(boat.Bearing, "mark") != set {
			t.Errorf("%g m of clear water: asked %+v", clear, b.asked)
		}
	}
}
