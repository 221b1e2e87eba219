package manoeuvre_test

import (
	"math"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/manoeuvre"
)

// helm is a stretch of a hand-made track: for forS seconds the bow turns to an
// angle off the wind and the speed goes to kn, both along a straight line.
type helm struct {
	forS float64
	off  float64 // at the end of the stretch, may run on past 180
	kn   float64
}

// track sails the stretches from an angle and a speed, hz sights a second, in a
// wind from 30 degrees, with a log for the speed, so that nothing is late.
type track struct {
	off, kn float64
	helms   []helm
	hz      float64
	edit    func(*manoeuvre.Sight)
}

const windDeg = 30.0

type watched struct {
	told  []boat.Manoeuvre
	turns []boat.Turn
	times []float64 // seconds since the beginning, for turns
}

func (w watched) at(s float64) boat.Turn {
	for i, t := range w.times {
		if t >= s-1e-6 {
			return w.turns[i]
		}
	}
	return boat.Turn{}
}

func (k track) sail() watched {
	if k.hz == 0 {
		k.hz = 10
	}
	var out watched
	w := manoeuvre.New()
	t, off, kn := 0.0, k.off, k.kn
	for _, h := range k.helms {
		n := int(math.Round(h.forS * k.hz))
		off0, kn0 := off, kn
		for i := 1; i <= n; i++ {
			part := float64(i) / float64(n)
			off, kn = off0+(h.off-off0)*part, kn0+(h.kn-kn0)*part
			t += 1 / k.hz
			s := k.sight(t, off, kn)
			if k.edit != nil {
				k.edit(&s)
			}
			turn, told := w.Step(s)
			out.told = append(out.told, told...)
			out.turns, out.times = append(out.turns, turn), append(out.times, t)
		}
	}
	return out
}

func (k track) sight(t, off, kn float64) manoeuvre.Sight {
	hdg := geo.Wrap360(windDeg - off)
	target := targetAt(9, off)
	target.BeatKn, target.RunKn, target.HereKn = 4, 4, 4
	return manoeuvre.Sight{
		State: boat.State{T: begin.After(t), HeadingDeg: boat.Some(hdg), HeadingBy: "compass",
			SOGKn: boat.Some(kn), COGDeg: boat.Some(hdg), WaterKn: boat.Some(kn), SpeedKn: boat.Some(kn)},
		Wind:   boat.Wind{DirDeg: boat.Some(windDeg), SDDeg: 4, Known: true, SpeedKn: boat.Some(9)},
		Target: target, LengthM: 4, TauS: 4,
	}
}

// beat holds 45 degrees on starboard tack at four knots for long enough to count.
func beat(forS float64) helm { return helm{forS, 45, 4} }

// A tack laid out by hand: 45 to -45 degrees at 15 degrees a second, so the eye is
// 3 s in; speed falls from 4 to 2 in the turn and comes back in 10 s.
func goodTack(hz float64) track {
	return track{off: 45, kn: 4, hz: hz, helms: []helm{beat(30), {6, -45, 2}, {10, -45, 4}, {60, -45, 4}}}
}

func near(t *testing.T, what string, got boat.Reading, want, within float64) {
	t.Helper()
	if !got.OK || math.Abs(got.Val-want) > within {
		t.Errorf("%s is %v, want %.2f within %.2f", what, got, want, within)
	}
}

func TestScoreOfATackByHand(t *testing.T) {
	for _, hz := range []float64{10, 1} {
		got := goodTack(hz).sail().told
		if len(got) != 1 {
			t.Fatalf("at %.0f Hz %d manoeuvres were told, want 1", hz, len(got))
		}
		m := got[0]
		if m.Kind != "tack" || m.To != "port" || m.Settled == nil {
			t.Fatalf("told %+v, want a tack to port that settled", m)
		}
		coarse := 1 / hz
		near(t, "start", boat.Some(m.Start.Seconds(begin)), 30, 0.5+coarse)
		near(t, "eye", boat.Some(m.Eye.Seconds(begin)), 33, 0.05)
		// 85 % of 4 kn is reached 7 s into the recovery.
		near(t, "settled", boat.Some(m.Settled.Seconds(begin)), 43, 0.6+coarse)
		near(t, "turn angle", m.TurnDeg, 90, 2)
		near(t, "overshoot", m.OverDeg, 0, 1)
		near(t, "entry", m.EntryKn, 4, 0.05)
		near(t, "least", m.LeastKn, 2, 0.2*coarse+0.05)
		// 95 % of 4 kn is reached 9 s into the recovery, 15 s after the start.
		near(t, "seconds to recover", m.RecoveredS, 15, 0.5+coarse)
		// Made good by hand: kept on, 15 s at 4 cos 45° kn is 42.4 kn s. In the turn
		// the mean of (4-t/3) cos(45°-15°t) over 6 s is by parts (180/pi)(2 sin 45°)
		// * 3 kn / 90° * 6 s = 16.21 kn s; after it 9 s at a mean of 2.9 kn cos 45°
		// make 18.46. The difference, 7.76 kn s, is 3.99 m.
		near(t, "metres lost", m.LostM, 3.99, 0.4+0.6*coarse)
		near(t, "lengths lost", m.LostLen, 3.99/4, 0.2+0.15*coarse)
		if age := m.T.Seconds(m.Eye); age < 15 || age > 20 {
			t.Errorf("told %.1f s after the eye, want soon after it can no longer be taken back", age)
		}
	}
}

func TestOvershootAndAngle(t *testing.T) {
	k := track{off: 45, kn: 4, helms: []helm{beat(30), {8, -75, 2}, {3, -50, 2.6}, {7, -50, 4}, {60, -50, 4}}}
	got := k.sail().told
	if len(got) != 1 {
		t.Fatalf("%d manoeuvres were told, want 1", len(got))
	}
	near(t, "turn angle", got[0].TurnDeg, 95, 2.5)
	near(t, "overshoot", got[0].OverDeg, 25, 2.5)
}

func TestPhasesOfATurn(t *testing.T) {
	w := goodTack(10).sail()
	steps := []struct {
		s    float64
		want boat.TurnPhase
	}{{29, boat.NoTurn}, {31.8, boat.Turning}, {32.9, boat.Turning}, {33.5, boat.PastEye}, {36, boat.PastEye},
		{48.2, boat.JustSteady}, {56, boat.NoTurn}}
	for _, x := range steps {
		if got := w.at(x.s).Phase; got != x.want {
			t.Errorf("at %.1f s the phase is %d, want %d", x.s, got, x.want)
		}
	}
	turn := w.at(32)
	if turn.Kind != "tack" || turn.NewSide != "port" {
		t.Errorf("the turn is %+v, want a tack to port", turn)
	}
	near(t, "seconds to the eye", turn.ToEyeS, 1, 0.15)
	near(t, "entry", boat.Some(turn.EntryKn), 4, 0.1)
	near(t, "new heading", boat.Some(turn.NewDeg), windDeg+47, 0.5) // the beat angle of the target on port tack
	for _, s := range []float64{33.5, 37, 48.2} {
		near(t, "new heading past the eye", boat.Some(w.at(s).NewDeg), windDeg+47, 0.5)
	}
	if e := w.at(34); math.Abs(e.Eye.Seconds(begin)-33) > 0.15 {
		t.Errorf("the eye was at %.2f s, want 33", e.Eye.Seconds(begin))
	}
}

// Things that look like a manoeuvre and are none, and things that do not and are.
func TestWhatCounts(t *testing.T) {
	long := helm{70, -45, 4}
	cases := []struct {
		name string
		k    track
		want []string
	}{
		{"a good tack", goodTack(10), []string{"tack"}},
		{"a sluggish tack", track{off: 45, kn: 4, helms: []helm{beat(30), {18, -45, 1.2}, {12, -45, 4}, long}}, []string{"tack"}},
		{"a gybe", track{off: 150, kn: 4, helms: []helm{{30, 150, 4}, {5, 210, 3.4}, {70, 210, 4}}}, []string{"gybe"}},
		{"two tacks", track{off: 45, kn: 4, helms: []helm{beat(30), {6, -45, 2}, {30, -45, 4}, {6, 45, 2}, {70, 45, 4}}}, []string{"tack", "tack"}},
		{"a full circle", track{off: 45, kn: 4, helms: []helm{beat(30), {24, -315, 2.5}, {70, -315, 4}}}, []string{"tack", "gybe"}},
		{"luffing to a stop and falling back", track{off: 45, kn: 4, helms: []helm{beat(30), {5, 5, 2}, {15, 5, 0.1}, {8, 55, 0.5}, {70, 45, 4}}}, nil},
		{"a round-up that returns", track{off: 45, kn: 4, helms: []helm{beat(30), {4, -25, 2}, {4, -25, 1.2}, {5, 50, 1}, {70, 45, 4}}}, nil},
		{"through the wind by a hair", track{off: 45, kn: 4, helms: []helm{beat(30), {4, -10, 2}, {6, -10, 1}, {5, 50, 1}, {70, 45, 4}}}, nil},
		{"falling off to the old tack out of irons", track{off: 45, kn: 4, helms: []helm{beat(30), {5, -18, 1.5}, {20, -18, 0.1}, {9, 55, 0.2}, {70, 45, 4}}}, nil},
		{"a tack by way of irons", track{off: 45, kn: 4, helms: []helm{beat(30), {5, -5, 1.5}, {20, -5, 0.1}, {9, -55, 0.2}, {10, -50, 4}, long}}, []string{"tack"}},
		{"swinging while drifting", track{off: 45, kn: 0.2, helms: []helm{{30, 45, 0.2}, {15, -60, 0.3}, {30, -60, 0.2}, {15, 60, 0.3}, {70, 60, 0.2}}}, nil},
		{"setting off from head to wind", track{off: 2, kn: 0, helms: []helm{{30, -3, 0}, {8, -50, 0.5}, {80, -47, 4}}}, nil},
		{"by the lee and back", track{off: 165, kn: 4, helms: []helm{{30, 165, 4}, {5, 190, 4}, {20, 190, 4}, {5, 165, 4}, {70, 165, 4}}}, nil},
		{"rounding up from a run", track{off: 155, kn: 4, helms: []helm{{30, 155, 4}, {10, 45, 4}, {70, 45, 4}}}, nil},
		{"an engine straight into the wind, then away", track{off: 5, kn: 4, helms: []helm{{40, 5, 4}, {10, -60, 4}, {20, -60, 4}, {16, 60, 4}, {70, 60, 4}}}, nil},
		{"an engine through the wind from side to side", track{off: 60, kn: 4, helms: []helm{{40, 60, 4}, {16, -60, 3.9}, {70, -60, 4}}}, nil},
	}
	for _, c := range cases {
		for _, hz := range []float64{10, 5, 1} {
			k := c.k
			k.hz = hz
			var got []string
			for _, m := range k.sail().told {
				got = append(got, m.Kind)
			}
			if len(got) != len(c.want) {
				t.Errorf("%s at %.0f Hz: told %v, want %v", c.name, hz, got, c.want)
				continue
			}
			for i := range got {
				if got[i] != c.want[i] {
					t.Errorf("%s at %.0f Hz: told %v, want %v", c.name, hz, got, c.want)
				}
			}
		}
	}
}

// What is believed of the wind may jump; she did not turn.
func TestJumpOfTheWindIsNoTurn(t *testing.T) {
	k := track{off: 30, kn: 3, helms: []helm{{30, 30, 3}, {90, 30, 3}}}
	k.edit = func(s *manoeuvre.Sight) {
		if s.State.T > begin.After(40) {
			s.Wind.DirDeg = boat.Some(windDeg - 70)
		}
	}
	if got := k.sail().told; got != nil {
		t.Errorf("told %v, want nothing", got)
	}
}

// Without the wind's direction an instrument's angle will do, with or without a
// heading; with neither nothing is claimed.
func TestWhatItIsToldFrom(t *testing.T) {
	apparent := func(s *manoeuvre.Sight) {
		off := geo.Rad(geo.Diff(s.State.HeadingDeg.Val, windDeg))
		x, y := 9*math.Sin(off), 9*math.Cos(off)+s.State.SpeedKn.Val
		s.State.AWADeg, s.State.AWSKn = boat.Some(geo.Deg(math.Atan2(x, y))), boat.Some(math.Hypot(x, y))
	}
	unknown := func(s *manoeuvre.Sight) { s.Wind = boat.Wind{} }
	blind := func(s *manoeuvre.Sight) {
		s.State.HeadingDeg, s.State.COGDeg, s.State.HeadingBy = boat.Reading{}, boat.Reading{}, ""
	}
	cases := []struct {
		name string
		edit func(*manoeuvre.Sight)
		want int
	}{
		{"compass and apparent wind, direction unknown", func(s *manoeuvre.Sight) { apparent(s); unknown(s) }, 1},
		{"apparent wind alone", func(s *manoeuvre.Sight) { apparent(s); unknown(s); blind(s) }, 1},
		{"true wind angle alone", func(s *manoeuvre.Sight) {
			s.State.TWADeg = boat.Some(geo.Diff(s.State.HeadingDeg.Val, windDeg))
			unknown(s)
			blind(s)
		}, 1},
		{"compass, no wind", unknown, 0},
		{"wind, no heading", blind, 0},
		{"a mirror pair is not knowing", func(s *manoeuvre.Sight) { s.Wind.Known = false }, 0},
	}
	for _, c := range cases {
		k := goodTack(10)
		k.edit = c.edit
		got := k.sail().told
		if len(got) != c.want {
			t.Errorf("%s: %d manoeuvres were told, want %d", c.name, len(got), c.want)
			continue
		}
		if c.want == 1 && math.Abs(got[0].Eye.Seconds(begin)-33) > 0.3 {
			t.Errorf("%s: the eye was at %.2f s, want 33", c.name, got[0].Eye.Seconds(begin))
		}
	}
}

// The receiver is a second and a half late; the eye must not be.
func TestCourseOnlyAllowsForItsLag(t *testing.T) {
	k := goodTack(10)
	var late []boat.State
	k.edit = func(s *manoeuvre.Sight) {
		late = append(late, s.State)
		old := late[max(0, len(late)-16)]
		s.State.HeadingDeg, s.State.HeadingBy, s.State.WaterKn = old.HeadingDeg, "course", boat.Reading{}
		s.State.COGDeg, s.State.SOGKn, s.State.SpeedKn = old.HeadingDeg, old.SOGKn, old.SOGKn
	}
	got := k.sail().told
	if len(got) != 1 {
		t.Fatalf("%d manoeuvres were told, want 1", len(got))
	}
	near(t, "eye", boat.Some(got[0].Eye.Seconds(begin)), 33, 0.2)
	near(t, "seconds to recover", got[0].RecoveredS, 15, 0.7)
}

func TestIrons(t *testing.T) {
	k := track{off: 45, kn: 4, helms: []helm{beat(30), {6, 8, 1.2}, {6, 4, 0.3}, {15, 4, 0}, {9, 60, 0.2}, {30, 50, 4}}}
	w := k.sail()
	if got := w.at(40).StuckSince; got != 0 {
		t.Errorf("stuck since %.1f s is told before she has been stuck for three seconds", got.Seconds(begin))
	}
	turn := w.at(50)
	if turn.StuckSince == 0 {
		t.Fatal("a boat lying head to wind after a tack is not told to be in irons")
	}
	// She falls under a fifth of 4 kn 2.7 s into the third stretch.
	near(t, "stuck since", boat.Some(turn.StuckSince.Seconds(begin)), 38.7, 0.5)
	if got := w.at(64).StuckSince; got != 0 {
		t.Error("still in irons with the bow 35 degrees off and more")
	}
	if got := w.at(80); got.Phase != boat.NoTurn {
		t.Errorf("the turn that died is still told: %+v", got)
	}
}

// A boat that lies head to wind without having tried to go through is not in irons.
func TestLyingHeadToWindIsNotIrons(t *testing.T) {
	for _, turn := range (track{off: 2, kn: 0, helms: []helm{{60, -3, 0}, {60, 5, 0.1}}}).sail().turns {
		if turn.StuckSince != 0 || turn.Phase != boat.NoTurn {
			t.Fatalf("told %+v, want nothing", turn)
		}
	}
}
