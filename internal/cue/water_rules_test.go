package cue

import (
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// The times and distances are common practice of instructors, no source.

func point1() geo.Position { return geo.Position{LatDeg: 12, LonDeg: -40} }

// open is charted water with no shore near and the other tack free.
func open(s *Situation) {
	s.Water = Water{Charted: true, TackS: 9, TackFree: true, ShoreS: func(float64) boat.Reading { return boat.Reading{} }}
}

// leeAhead lets dead air come nearer: so many seconds off at first.
func leeAhead(from float64) func(*Situation, float64) {
	return func(s *Situation, t float64) {
		open(s)
		s.Water.LeeS, s.Water.LeeP, s.Water.LeeDeep, s.Water.LeeBy = boat.Some(from-t), 0.95, 0.9, point1()
		s.Water.EdgeS, s.Water.LeeOuter = s.Water.LeeS, 0.98
		if from-t < 0 {
			s.Water.LeeS, s.Water.EdgeS = boat.Reading{}, boat.Reading{}
		}
	}
}

func (sc *scene) all(key boat.Key) []boat.Cue {
	var out []boat.Cue
	for _, c := range sc.cues {
		if c.Key == key {
			out = append(out, c)
		}
	}
	return out
}

func TestDeadAirIsToldInTimeToTack(t *testing.T) {
	sc := newScene(t, boat.Improver).run(58, leeAhead(60))
	said := sc.all(boat.DeadAir)
	if len(said) != 1 {
		t.Fatalf("said %v, want dead air once", sc.keys())
	}
	left := 60 - said[0].T.Seconds(t0.After(70))
	if left < 9+leadMoreS || left > 9+leadMoreS+leadSlackS {
		t.Errorf("told %.1f s before dead air, a tack takes 9 s", left)
	}
	if said[0].Urgency != boat.Warning {
		t.Errorf("urgency %s", said[0].Urgency)
	}
	// The same point within ten minutes: once. Another point: told.
	sc.cues = nil
	sc.run(100, leeAhead(60))
	sc.never(boat.DeadAir)
	sc.run(58, func(s *Situation, t float64) {
		leeAhead(60)(s, t)
		s.Water.LeeBy = geo.Destination(point1(), 90, 600)
	})
	if len(sc.all(boat.DeadAir)) != 1 {
		t.Errorf("another point: said %v", sc.keys())
	}
	sc.cues = nil
	sc.run(600, func(s *Situation, _ float64) { open(s) }).run(58, leeAhead(60))
	if len(sc.all(boat.DeadAir)) != 1 {
		t.Errorf("ten minutes later: said %v", sc.keys())
	}
}

func TestNoTackIsAskedForThatIsNotFree(t *testing.T) {
	for name, change := range map[string]func(*Situation){
		"other tack not free": func(s *Situation) { s.Water.TackFree = false },
		"reaching":            func(s *Situation) { s.mode(boat.Reaching) },
		"too slow":            func(s *Situation) { s.pace(0.5) },
	} {
		sc := newScene(t, boat.Improver).run(58, func(s *Situation, t float64) { leeAhead(60)(s, t); change(s) })
		sc.never(boat.DeadAir)
		if sc.all(boat.Look) == nil && name != "too slow" {
			t.Errorf("%s: said %v, want a look for flat water", name, sc.keys())
		}
	}
}

func TestDoubtfulDeadAirNeedsASecondSign(t *testing.T) {
	weak := func(s *Situation, t float64) {
		leeAhead(45)(s, t)
		s.Water.LeeP, s.Water.LeeDeep, s.Water.LeeOuter = 0.6, 0.2, 0.85
	}
	sc := newScene(t, boat.Improver).run(43, weak)
	sc.never(boat.DeadAir, boat.Look)
	sc = newScene(t, boat.Improver).run(43, func(s *Situation, t float64) {
		weak(s, t)
		if t > 15 { // the wind goes: speed and heel fall together
			s.pace(0.7)
			s.State.HeelDeg = boat.Some(-2)
		}
	})
	if len(sc.all(boat.DeadAir)) != 1 {
		t.Errorf("with a second sign: said %v", sc.keys())
	}
	// Slower because she went closer to the wind: no sign of a lee.
	heading := wellSailed(boat.Improver).State.HeadingDeg.Val
	sc = newScene(t, boat.Improver).run(43, func(s *Situation, t float64) {
		weak(s, t)
		if t > 15 {
			s.pace(0.7)
			s.State.HeelDeg = boat.Some(-2)
			s.State.HeadingDeg = boat.Some(heading + 14)
		}
	})
	sc.never(boat.DeadAir)
	// Slowly, over a minute: a sign as well.
	sc = newScene(t, boat.Improver).run(70, func(s *Situation, t float64) {
		weak(s, t)
		s.Water.LeeS, s.Water.EdgeS = boat.Some(90-t), boat.Some(80-t)
		s.pace(1 - 0.35*t/70)
		s.State.HeelDeg = boat.Some(-9 + 6*t/70)
	})
	if len(sc.all(boat.DeadAir)) != 1 {
		t.Errorf("with way lost slowly: said %v", sc.keys())
	}
}

func TestTheChartAloneIsEnoughWhereItIsSure(t *testing.T) {
	for _, k := range []struct {
		dead, deep float64
		told       bool
	}{{0.9, 0.3, true}, {0.75, 0.6, true}, {0.75, 0.4, false}} {
		sc := newScene(t, boat.Improver).run(43, func(s *Situation, t float64) {
			leeAhead(45)(s, t)
			s.Water.LeeP, s.Water.LeeDeep = k.dead, k.deep
		})
		if got := len(sc.all(boat.DeadAir)) == 1; got != k.told {
			t.Errorf("within ten heights to %.2f, within eight to %.2f: told %v", k.dead, k.deep, got)
		}
	}
}

func TestSailingThroughWithoutLossLowersTheBelief(t *testing.T) {
	through := func(share float64) *scene {
		sc := newScene(t, boat.Improver).run(20, func(s *Situation, _ float64) {
			open(s)
			s.Water.LeeHere, s.Water.HereBy = 0.95, point1()
			s.pace(share)
		})
		sc.run(60, func(s *Situation, _ float64) { open(s); s.pace(1) })
		sc.cues = nil
		return sc.run(58, leeAhead(60))
	}
	if sc := through(0.98); len(sc.all(boat.DeadAir)) != 0 {
		t.Errorf("after a pass without loss: said %v", sc.keys())
	}
	if sc := through(0.5); len(sc.all(boat.DeadAir)) != 1 {
		t.Errorf("after a pass with loss: said %v", sc.keys())
	}
}

// shoreAhead lets the shore come nearer on every course.
func shoreAhead(from float64) func(*Situation, float64) {
	return func(s *Situation, t float64) {
		open(s)
		left := boat.Some(max(0, from-t))
		s.Water.AheadS = left
		s.Water.ShoreS = func(float64) boat.Reading { return left }
	}
}

func TestShoreIsAWarningAndThenADanger(t *testing.T) {
	sc := newScene(t, boat.Improver).run(78, shoreAhead(80))
	said := sc.all(boat.Shore)
	if len(said) < 2 {
		t.Fatalf("said %v", sc.keys())
	}
	first, second := 80-said[0].T.Seconds(t0.After(70)), 80-said[1].T.Seconds(t0.After(70))
	if said[0].Urgency != boat.Warning || first > 60 || first < 55 {
		t.Errorf("first %s at %.0f s", said[0].Urgency, first)
	}
	if said[1].Urgency != boat.Danger || second > 20 || second < 17 {
		t.Errorf("second %s at %.0f s", said[1].Urgency, second)
	}
	for i := 1; i < len(said); i++ {
		if gap := said[i].T.Seconds(said[i-1].T); gap < shoreAgainS {
			t.Errorf("again after %.1f s", gap)
		}
	}
}

func TestNoShoreWhereSheIsNotSailing(t *testing.T) {
	for _, m := range []boat.Mode{boat.Motoring, boat.Stopped, boat.Drifting} {
		sc := newScene(t, boat.Improver).run(78, func(s *Situation, t float64) { shoreAhead(80)(s, t); s.mode(m) })
		sc.never(boat.Shore, boat.DeadAir)
	}
}

func TestNothingAsksForACourseToTheShore(t *testing.T) {
	low := func(s *Situation, _ float64) { open(s); s.angle(60) }
	if sc := newScene(t, boat.Improver).run(30, low); sc.all(boat.HeadUp) == nil {
		t.Fatalf("in open water: said %v, want head up", sc.keys())
	}
	sc := newScene(t, boat.Improver).run(30, func(s *Situation, t float64) {
		low(s, t)
		now := s.State.HeadingDeg.Val
		s.Water.ShoreS = func(deg float64) boat.Reading { // land up to windward of her
			if geo.Diff(now, deg) > 2 {
				return boat.Some(40)
			}
			return boat.Reading{}
		}
	})
	sc.never(boat.HeadUp)
}

func TestATackThatWasAskedForIsNotCalledToTheShore(t *testing.T) {
	ask := func(new boat.Reading) *scene {
		sc := newScene(t, boat.Improver)
		sc.run(1, func(s *Situation, _ float64) { open(s) })
		sc.c.Act(sc.s.Now, boat.Act{Act: "tack", From: "instructor"})
		return sc.run(25, func(s *Situation, _ float64) {
			open(s)
			s.Water.ShoreS = func(deg float64) boat.Reading {
				if geo.Diff(44, deg) < 20 && geo.Diff(44, deg) > -20 { // the new tack
					return new
				}
				return boat.Reading{}
			}
		})
	}
	if sc := ask(boat.Reading{}); sc.all(boat.PrepareTack) == nil {
		t.Fatalf("in open water: said %v", sc.keys())
	}
	ask(boat.Some(30)).never(boat.PrepareTack, boat.TurnNow)
}

func TestTheCoachHandsOverNearTheRamp(t *testing.T) {
	sc := newScene(t, boat.Improver).run(70, func(s *Situation, t float64) {
		shoreAhead(80)(s, t)
		s.Water.Ramp, s.Water.RampM = s.State.COGDeg, 140-t
		s.angle(60)
	})
	sc.silent()
	notes := 0
	for _, n := range sc.c.Notes() {
		if n.Code == "handed_over" {
			notes++
		}
	}
	if notes != 1 {
		t.Errorf("%d notes of it, want one", notes)
	}
}

func TestTimeToHeadBackAndWhereTo(t *testing.T) {
	dusk := func(s *Situation, t float64) {
		open(s)
		s.Water.SunsetS, s.Water.LeaveS, s.Water.LeaveText = boat.Some(1800-t), boat.Some(10-t), "the way takes long"
		s.Water.Ramp, s.Water.RampM, s.Water.VMCKn = boat.Some(100), 900, boat.Some(1)
	}
	sc := newScene(t, boat.Improver).run(60, dusk)
	if len(sc.all(boat.Dark)) != 1 {
		t.Fatalf("said %v, want the time once", sc.keys())
	}
	b := sc.all(boat.Bearing)
	if len(b) != 1 || b[0].Variant != "ramp" || b[0].Amount.Val != 95 || b[0].Ref != boat.Magnetic { // 100 true, 4 east
		t.Errorf("bearing %+v", b)
	}
	sc.cues = nil
	sc.run(400, func(s *Situation, t float64) { dusk(s, t+60); s.Water.VMCKn = boat.Some(-1) })
	if len(sc.all(boat.Bearing)) < 2 {
		t.Errorf("sailing away from it: said %v", sc.keys())
	}
	night := newScene(t, boat.Improver).run(60, func(s *Situation, t float64) { dusk(s, t); s.Water.SunsetS = boat.Some(-600) })
	night.never(boat.Dark, boat.Bearing)
}

func TestNoChartIsSaidOnceAndOnlyWithoutOne(t *testing.T) {
	count := func(sc *scene) (n int) {
		for _, note := range sc.c.Notes() {
			if note.Code == "no_chart" {
				n++
			}
		}
		return n
	}
	if n := count(fresh(t, boat.Improver).run(90, nil)); n != 1 {
		t.Errorf("without a chart said %d times", n)
	}
	if n := count(fresh(t, boat.Improver).run(90, func(s *Situation, _ float64) { open(s) })); n != 0 {
		t.Errorf("with a chart said %d times", n)
	}
}

func TestAnotherBoatThatLostWayIsASecondSign(t *testing.T) {
	doubtful := func(seen bool) *scene {
		return newScene(t, boat.Improver).run(43, func(s *Situation, t float64) {
			leeAhead(45)(s, t)
			s.Water.LeeP, s.Water.LeeDeep, s.Water.LeeOuter, s.Water.LeeSeen = 0.6, 0.2, 0.85, seen
		})
	}
	doubtful(false).never(boat.DeadAir, boat.Look)
	if sc := doubtful(true); len(sc.all(boat.DeadAir)) != 1 {
		t.Errorf("said %v, want dead air once", sc.keys())
	}
	// It tells nothing where the chart shows no lee.
	newScene(t, boat.Improver).run(43, func(s *Situation, t float64) {
		leeAhead(45)(s, t)
		s.Water.LeeP, s.Water.LeeDeep, s.Water.LeeOuter, s.Water.LeeSeen = 0.2, 0, 0.5, true
	}).never(boat.DeadAir, boat.Look)
}

// Way lost on a straight course is told of for others, once; by pinching it is not.
func TestLostWayIsToldForOtherBoats(t *testing.T) {
	heading := wellSailed(boat.Improver).State.HeadingDeg.Val
	for _, k := range []struct {
		name        string
		share, turn float64
		lulls       int
	}{{"wind gone", 0.5, 0, 1}, {"as ever", 1, 0, 0}, {"a little less", 0.8, 0, 0}, {"pinching", 0.5, 12, 0}} {
		lulls := 0
		sc := newScene(t, boat.Improver)
		sc.run(50, func(s *Situation, at float64) {
			open(s)
			s.State.Pos, s.State.PosOK = point1(), true
			if at > 30 {
				s.pace(k.share)
				s.State.HeelDeg = boat.Some(-3)
				s.State.HeadingDeg = boat.Some(heading + k.turn)
			}
			if l, ok := sc.c.Lull(); ok {
				lulls++
				if l.At != (boat.LonLat{point1().LonDeg, point1().LatDeg}) {
					t.Errorf("%s: told of %v", k.name, l.At)
				}
			}
		})
		if lulls != k.lulls {
			t.Errorf("%s: told %d times, want %d", k.name, lulls, k.lulls)
		}
	}
}

// A turn that is past the eye and does not come to rest keeps no word of near land back;
// a bow that goes round does.
func TestNearLandIsToldThoughATurnIsNotSettled(t *testing.T) {
	for _, k := range []struct {
		yaw  float64
		told bool
	}{{1, true}, {14, false}} {
		sc := newScene(t, boat.Improver).run(15, func(s *Situation, at float64) {
			shoreAhead(19)(s, at)
			s.Turn.Phase = boat.PastEye
			s.State.YawDps = boat.Some(k.yaw)
		})
		if got := len(sc.all(boat.Shore)) > 0; got != k.told {
			t.Errorf("turning by %v degrees a second: told %v", k.yaw, got)
		}
	}
}
