package sense

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

const t0 = boat.Time(1_900_000_000_000)

// steady feeds the same sample at 10 Hz for s seconds from t and returns the time after.
func steady(f *Filter, t boat.Time, s float64, sample boat.Sample) boat.Time {
	end := t.After(s)
	for ; t < end; t += 100 {
		f.Add(t, sample)
	}
	return t
}

func under(lat, lon, sog, cog float64) boat.Sample {
	return boat.Sample{LatDeg: boat.Some(lat), LonDeg: boat.Some(lon), SOGKn: boat.Some(sog), COGDeg: boat.Some(cog)}
}

func near(t *testing.T, what string, got boat.Reading, want, within float64) {
	t.Helper()
	if !got.OK || math.Abs(got.Val-want) > within {
		t.Errorf("%s: got %+v, want %g within %g", what, got, want, within)
	}
}

func TestAbsentStaysAbsent(t *testing.T) {
	f := New(boat.Fixed)
	f.Add(t0, boat.Sample{SOGKn: boat.Some(3)})
	s := f.State(t0)
	near(t, "sog", s.SOGKn, 3, 0)
	for name, r := range map[string]boat.Reading{"cog": s.COGDeg, "heading": s.HeadingDeg, "heel": s.HeelDeg,
		"yaw": s.YawDps, "water": s.WaterKn, "awa": s.AWADeg, "twd": s.TWDDeg, "battery": s.Batt} {
		if r.OK {
			t.Errorf("%s was never seen but reads %g", name, r.Val)
		}
	}
	if s.PosOK {
		t.Error("there is no position, but one is claimed")
	}
}

func TestOneJumpIsRefusedALastingOneBelieved(t *testing.T) {
	f := New(boat.Fixed)
	at := steady(f, t0, 5, under(50, 10, 3, 90))
	f.Add(at, under(50, 10, 14, 90))
	near(t, "sog after one wild reading", f.State(at).SOGKn, 3, 0.01)
	at = steady(f, at+100, 3, under(50, 10, 14, 90))
	near(t, "sog after it lasted", f.State(at).SOGKn, 14, 0.5)
}

func TestPositionJump(t *testing.T) {
	f := New(boat.Fixed)
	at := steady(f, t0, 5, under(50, 10, 3, 90))
	f.Add(at, under(50.5, 10, 3, 90))
	if s := f.State(at); math.Abs(s.Pos.LatDeg-50) > 1e-9 {
		t.Errorf("a jump of 30 miles was believed at once: %v", s.Pos)
	}
	at = steady(f, at+100, 1, under(50.5, 10, 3, 90))
	if s := f.State(at); math.Abs(s.Pos.LatDeg-50.5) > 1e-9 {
		t.Errorf("three fixes agree and are still refused: %v", s.Pos)
	}
}

func TestStaleReadingsGo(t *testing.T) {
	f := New(boat.Fixed)
	at := steady(f, t0, 5, under(50, 10, 3, 90))
	if !f.State(at.After(2)).SOGKn.OK {
		t.Error("two seconds old is not stale")
	}
	if s := f.State(at.After(4)); s.SOGKn.OK || s.COGDeg.OK {
		t.Errorf("four seconds old at ten a second is stale, got %+v", s.SOGKn)
	}
	slow := New(boat.Fixed)
	for i := range 10 {
		slow.Add(t0.After(float64(8*i)), under(50, 10, 3, 90))
	}
	if !slow.State(t0.After(72 + 15)).SOGKn.OK {
		t.Error("a sender that speaks every 8 s is not silent after 15 s")
	}
}

func TestSlowBoatHasNoCourse(t *testing.T) {
	f := New(boat.Fixed)
	at := steady(f, t0, 5, under(50, 10, 0.3, 77))
	if s := f.State(at); s.COGDeg.OK || s.HeadingDeg.OK {
		t.Errorf("at 0.3 kn a course means nothing, got cog %+v heading %+v", s.COGDeg, s.HeadingDeg)
	}
}

// The variation here is the magnetic model's own, checked in package geo.
func TestMagneticBecomesTrue(t *testing.T) {
	f := New(boat.Fixed)
	sample := under(60.17, 24.94, 3, 90)
	sample.HeadingDeg, sample.HeadingRef = boat.Some(355), boat.Magnetic
	at := steady(f, t0, 5, sample)
	s := f.State(at)
	if !s.VarOK || s.VarDeg < 8 || s.VarDeg > 13 {
		t.Fatalf("variation there is some 10° east in these years, got %g", s.VarDeg)
	}
	near(t, "heading", s.HeadingDeg, geo.Wrap360(355+s.VarDeg), 0.1)
	if s.HeadingBy != "compass" || s.CompassRef != boat.Magnetic {
		t.Errorf("got heading by %q, compass %q", s.HeadingBy, s.CompassRef)
	}
}

func TestWornPhoneGivesNeitherHeelNorCompass(t *testing.T) {
	f := New(boat.Fixed)
	sample := under(50, 10, 3, 90)
	sample.HeadingDeg, sample.HeadingRef = boat.Some(10), boat.True
	sample.HeelDeg, sample.Mount = boat.Some(20), boat.Worn
	at := steady(f, t0, 5, sample)
	s := f.State(at)
	if s.HeelDeg.OK || s.HeadingBy != "course" || s.Mount != boat.Worn {
		t.Errorf("got heel %+v, heading by %q, mount %q", s.HeelDeg, s.HeadingBy, s.Mount)
	}
	near(t, "heading from the course", s.HeadingDeg, 90, 0.1)
}

// What a body shows says nothing of the boat's compass, and without a compass there
// is nothing to compare the course with.
func TestWornPhoneAndNoCompassTeachNothing(t *testing.T) {
	for name, change := range map[string]func(*boat.Sample){
		"worn":       func(s *boat.Sample) { s.Mount = boat.Worn },
		"no compass": func(s *boat.Sample) { s.HeadingDeg = boat.Reading{} },
	} {
		f := New(boat.Fixed)
		fresh := f.State(t0)
		at := t0
		for i := range 12 { // twelve tacks with a compass that is ten degrees off
			heading := 315 + 90*float64(i%2)
			s := under(50, 10, 3+0.01*float64(i), geo.Wrap360(heading))
			s.HeadingDeg, s.HeadingRef = boat.Some(geo.Wrap360(heading+10)), boat.True
			change(&s)
			for range 300 {
				s.COGDeg.Val += 0.001
				f.Add(at, s)
				at += 200
			}
		}
		s := f.State(at)
		if s.Deviation != fresh.Deviation || s.Current != fresh.Current || s.LeewayDeg != fresh.LeewayDeg || s.GPSLagS != fresh.GPSLagS {
			t.Errorf("%s: something was learned: %+v %+v %v %v", name, s.Deviation, s.Current, s.LeewayDeg, s.GPSLagS)
		}
		if s.HeadingBy != "course" || s.HeadingSDDeg < 5 {
			t.Errorf("%s: heading by %q, sure to %.1f", name, s.HeadingBy, s.HeadingSDDeg)
		}
	}
}

// Most of a constant error is taken out over many tacks, and what the compass shows
// can be got back. Two headings and a speed that hangs on more than the current leave
// a third of it to what the water may have done.
func TestCompassErrorIsTakenOut(t *testing.T) {
	f := New(boat.Fixed)
	at := t0
	for i := range 16 {
		heading := geo.Wrap360(315 + 90*float64(i%2))
		twa := 45 - 90*float64(i%2)
		for k := range 600 {
			s := under(50, 10, 3+0.01*float64(k%5), geo.Wrap360(heading-twa/15+0.1*float64(k%7))) // three degrees of leeway
			s.HeadingDeg, s.HeadingRef = boat.Some(geo.Wrap360(heading+12)), boat.True
			f.Add(at, s)
			f.Lean(at, boat.Some(twa))
			at += 100
		}
	}
	s := f.State(at)
	near(t, "heading", s.HeadingDeg, 45, 5)
	near(t, "what the compass shows", boat.Some(s.HeadingDeg.Val-s.Deviation.At(57)), 57, 0.5)
	if s.HeadingSDDeg > 7 {
		t.Errorf("after sixteen tacks it is still doubtful by %.1f degrees", s.HeadingSDDeg)
	}
}

func TestUprightTakesTheMountOut(t *testing.T) {
	f := New(boat.Fixed)
	sample := boat.Sample{HeelDeg: boat.Some(5)}
	at := steady(f, t0, 5, sample)
	f.Upright(at)
	near(t, "heel", f.State(at).HeelDeg, 0, 0.1)
	sample.HeelDeg = boat.Some(25)
	at = steady(f, at, 5, sample)
	near(t, "heel later", f.State(at).HeelDeg, 20, 0.1)
	f.Upright(at)
	near(t, "heel after a claim that cannot be", f.State(at).HeelDeg, 20, 0.1)
}

func TestLateReadingsDoNotOverwrite(t *testing.T) {
	f := New(boat.Fixed)
	at := steady(f, t0, 5, under(50, 10, 3, 90))
	want := f.State(at)
	steady(f, t0+50, 4, under(51, 11, 5, 180))
	if got := f.State(at); got != want {
		t.Errorf("late samples changed the present: %+v, was %+v", got, want)
	}
}

func TestTurnIsFollowedWithoutLag(t *testing.T) {
	f := New(boat.Fixed)
	at, h := t0, 350.0
	for range 100 {
		f.Add(at, boat.Sample{HeadingDeg: boat.Some(geo.Wrap360(h)), HeadingRef: boat.True, YawDps: boat.Some(20)})
		at, h = at+100, h+2
	}
	s := f.State(at - 100)
	near(t, "heading in a turn of 20° a second", s.HeadingDeg, geo.Wrap360(h-2), 1)
	near(t, "yaw", s.YawDps, 20, 0.5)
}

func TestAnyInputGivesFiniteState(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := New(boat.Fixed)
		at := t0
		for range rapid.IntRange(1, 40).Draw(t, "n") {
			at += boat.Time(rapid.IntRange(-3000, 9000).Draw(t, "dt"))
			any := rapid.Map(rapid.Float64(), boat.Some)
			f.Add(at, boat.Sample{LatDeg: any.Draw(t, "lat"), LonDeg: any.Draw(t, "lon"), SOGKn: any.Draw(t, "sog"),
				COGDeg: any.Draw(t, "cog"), HeadingDeg: any.Draw(t, "hdg"), HeelDeg: any.Draw(t, "heel"),
				YawDps: any.Draw(t, "yaw"), VarDeg: any.Draw(t, "var"), AWADeg: any.Draw(t, "awa")})
		}
		s := f.State(at)
		for name, r := range map[string]boat.Reading{"cog": s.COGDeg, "hdg": s.HeadingDeg} {
			if r.OK && (r.Val < 0 || r.Val >= 360) {
				t.Fatalf("%s out of range: %g", name, r.Val)
			}
		}
		for i, v := range []float64{s.HeadingSDDeg, s.Deviation.At(10), s.LeewayDeg, s.LeewaySDDeg, s.Current.DriftKn(), s.Current.SDKn, s.GPSLagS, s.GPSLagSDS} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("what was learned, number %d: %g", i, v)
			}
		}
		if s.HeadingDeg.OK && !(s.HeadingSDDeg > 0 && s.HeadingSDDeg <= 180) {
			t.Fatalf("the heading is sure to %g", s.HeadingSDDeg)
		}
		if s.AWADeg.OK && (s.AWADeg.Val <= -180 || s.AWADeg.Val > 180) {
			t.Fatalf("awa out of range: %g", s.AWADeg.Val)
		}
	})
}

func TestTurningTheWorldTurnsTheState(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		by := rapid.Float64Range(0, 360).Draw(t, "by")
		a, b := New(boat.Fixed), New(boat.Fixed)
		at := t0
		for range 30 {
			h := rapid.Float64Range(0, 359).Draw(t, "h")
			yaw := boat.Some(rapid.Float64Range(-30, 30).Draw(t, "yaw"))
			a.Add(at, boat.Sample{HeadingDeg: boat.Some(h), HeadingRef: boat.True, YawDps: yaw})
			b.Add(at, boat.Sample{HeadingDeg: boat.Some(geo.Wrap360(h + by)), HeadingRef: boat.True, YawDps: yaw})
			at += 100
		}
		x, y := a.State(at), b.State(at)
		if d := geo.Diff(geo.Wrap360(x.HeadingDeg.Val+by), y.HeadingDeg.Val); math.Abs(d) > 1e-6 {
			t.Fatalf("turned by %g the heading differs by %g", by, d)
		}
	})
}
