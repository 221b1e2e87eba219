package wind

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

const start boat.Time = 1_780_000_000_000

func hand(dir, kn float64) boat.WindFix {
	return boat.WindFix{DirDeg: boat.Some(dir), Kn: boat.Some(kn), Method: "hand"}
}

// aboard is a boat whose instruments show a true wind exactly.
func aboard(t boat.Time, heading, dir, kn float64) boat.State {
	aws, awa := Apparent(kn, geo.Diff(heading, dir), 4)
	return boat.State{T: t, HeadingDeg: boat.Some(heading), HeadingBy: "compass", SpeedKn: boat.Some(4),
		AWADeg: boat.Some(awa), AWSKn: boat.Some(aws)}
}

// sail shows instruments to e ten times a second for some seconds.
func sail(e *Estimator, from boat.Time, seconds int, state func(boat.Time) boat.State) boat.Time {
	t := from
	for range seconds * 10 {
		e.Instruments(state(t))
		t += 100
	}
	return t
}

func TestNothingIsKnownBeforeAnythingIsSaid(t *testing.T) {
	e := New()
	e.Instruments(boat.State{T: start, HeadingDeg: boat.Some(10), SpeedKn: boat.Some(3)})
	if w := e.At(start + 60000); w != (boat.Wind{}) {
		t.Errorf("expected nothing, got %+v", w)
	}
}

func TestFixIsBelievedAsItSays(t *testing.T) {
	for _, tt := range []struct {
		method string
		sd     float64
		known  bool
	}{{"hand", 10, true}, {"pointed", 8, true}, {"meter", 10, true}, {"chase", 12, true}, {"forecast", 40, false}} { // 30 of its own, and one forecast in ten is plainly wrong
		e := New()
		f := hand(351, 9)
		f.Method = tt.method
		if r := e.Fix(start, f, boat.State{}); r != "" {
			t.Fatal(r)
		}
		w := e.At(start)
		if !w.DirDeg.OK || math.Abs(geo.Diff(w.DirDeg.Val, 351)) > 0.2 || math.Abs(w.SDDeg-tt.sd) > 0.1*tt.sd || w.Known != tt.known {
			t.Errorf("%s: got %+v", tt.method, w)
		}
		if w.SpeedKn != boat.Some(9) || w.By != "fix" || w.AgeS != 0 || w.OtherDeg.OK {
			t.Errorf("%s: got %+v", tt.method, w)
		}
	}
}

func TestHeadToWindTakesTheBow(t *testing.T) {
	e := New()
	lying := boat.State{HeadingDeg: boat.Some(210), HeadingBy: "compass", SpeedKn: boat.Some(0.4)}
	if r := e.Fix(start, boat.WindFix{Method: "head_to_wind"}, lying); r != "" {
		t.Fatal(r)
	}
	if w := e.At(start); !w.Known || math.Abs(w.DirDeg.Val-210) > 0.2 || math.Abs(w.SDDeg-5) > 0.6 || w.SpeedKn.OK {
		t.Errorf("got %+v", w)
	}
}

func TestFixMayTellTheSpeedAlone(t *testing.T) {
	e := New()
	if r := e.Fix(start, boat.WindFix{Method: "meter", Kn: boat.Some(12)}, boat.State{}); r != "" {
		t.Fatal(r)
	}
	if w := e.At(start); w.DirDeg.OK || w.Known || w.SpeedKn != boat.Some(12) || w.SpeedSD != 1.2 {
		t.Errorf("got %+v", w)
	}
}

func TestMagneticFixIsTurnedTrue(t *testing.T) {
	e := New()
	f := hand(5, 9)
	f.Ref = boat.Magnetic
	if r := e.Fix(start, f, boat.State{VarDeg: -10, VarOK: true}); r != "" {
		t.Fatal(r)
	}
	if w := e.At(start); math.Abs(geo.Diff(w.DirDeg.Val, 355)) > 0.2 {
		t.Errorf("expected 355, got %v", w.DirDeg)
	}
}

func TestFixIsRefusedWithAReason(t *testing.T) {
	bad := func(spoil func(*boat.WindFix)) boat.WindFix {
		f := hand(100, 9)
		spoil(&f)
		return f
	}
	quick := boat.State{HeadingDeg: boat.Some(10), HeadingBy: "compass", SpeedKn: boat.Some(4.5)}
	tests := []struct {
		name, say string
		fix       boat.WindFix
		state     boat.State
	}{
		{"no method", "expected a method", bad(func(f *boat.WindFix) { f.Method = "" }), boat.State{}},
		{"direction beyond the circle", "0 to 360", bad(func(f *boat.WindFix) { f.DirDeg.Val = 361 }), boat.State{}},
		{"direction that is no number", "0 to 360", bad(func(f *boat.WindFix) { f.DirDeg.Val = math.NaN() }), boat.State{}},
		{"deviation of nothing", "standard deviation", bad(func(f *boat.WindFix) { f.SDDeg = boat.Some(0) }), boat.State{}},
		{"negative speed", "0 to 80 knots", bad(func(f *boat.WindFix) { f.Kn.Val = -1 }), boat.State{}},
		{"infinite speed", "0 to 80 knots", bad(func(f *boat.WindFix) { f.Kn.Val = math.Inf(1) }), boat.State{}},
		{"neither direction nor speed", "a direction, a speed or both", boat.WindFix{Method: "hand"}, boat.State{}},
		{"magnetic without variation", "variation here is not known", bad(func(f *boat.WindFix) { f.Ref = boat.Magnetic }), boat.State{}},
		{"another reference", "true or mag", bad(func(f *boat.WindFix) { f.Ref = "grid" }), boat.State{}},
		{"head to wind without a heading", "without a compass", boat.WindFix{Method: "head_to_wind"}, boat.State{}},
		{"head to wind by course", "without a compass", boat.WindFix{Method: "head_to_wind"}, boat.State{HeadingDeg: boat.Some(3), HeadingBy: "course"}},
		{"head to wind at speed", "4.5 knots", boat.WindFix{Method: "head_to_wind"}, quick},
	}
	for _, tt := range tests {
		e := New()
		if r := e.Fix(start, tt.fix, tt.state); !strings.Contains(r, tt.say) {
			t.Errorf("%s: expected a refusal with %q, got %q", tt.name, tt.say, r)
		}
		if w := e.At(start); w != (boat.Wind{}) {
			t.Errorf("%s: refused, and yet believed: %+v", tt.name, w)
		}
	}
}

func TestFixGrowsOldAndUnsure(t *testing.T) {
	e := New()
	e.Fix(start, hand(200, 9), boat.State{})
	last := e.At(start)
	for m := boat.Time(1); m <= 300; m++ {
		w := e.At(start + m*60000)
		if w.DirDeg.OK && (w.SDDeg < last.SDDeg || math.Abs(geo.Diff(w.DirDeg.Val, 200)) > 0.3) {
			t.Fatalf("after %d min: %+v, before %+v", m, w, last)
		}
		if m == 15 && (!w.Known || w.AgeS != 900 || math.Abs(w.SDDeg-15) > 2.5) { // 10 of its own, 10 of drift, some jumps
			t.Errorf("after a quarter of an hour: %+v", w)
		}
		if w.Known && m > 60 {
			t.Fatalf("still known after %d min: %+v", m, w)
		}
		last = w
	}
	if last.DirDeg.OK || last.SpeedKn.OK || last.By != "" {
		t.Errorf("expected all to be forgotten after five hours, got %+v", last)
	}
}

// One look after a long silence must say what many looks on the way say.
func TestLooksDoNotChangeTheBelief(t *testing.T) {
	often, once := New(), New()
	often.Fix(start, hand(77, 9), boat.State{})
	once.Fix(start, hand(77, 9), boat.State{})
	var a boat.Wind
	for s := boat.Time(0); s <= 900; s++ {
		a = often.At(start + s*1000)
	}
	b := once.At(start + 900*1000)
	if math.Abs(a.SDDeg-b.SDDeg) > 0.3 || math.Abs(geo.Diff(a.DirDeg.Val, b.DirDeg.Val)) > 0.2 || math.Abs(a.SpeedSD-b.SpeedSD) > 0.11 {
		t.Errorf("looked often %+v, once %+v", a, b)
	}
}

func TestInstrumentsMakeTheWindKnownWithinAMinute(t *testing.T) {
	e := New()
	end := sail(e, start, 60, func(t boat.Time) boat.State { return aboard(t, 10, 330, 11) })
	w := e.At(end)
	if !w.Known || math.Abs(geo.Diff(w.DirDeg.Val, 330)) > 0.5 || w.By != "instrument" || math.Abs(w.SpeedKn.Val-11) > 0.1 {
		t.Errorf("got %+v", w)
	}
	if w.SDDeg < 4 || w.SDDeg > 8 {
		t.Errorf("a compass and a vane are sure to four to eight degrees, got %v", w.SDDeg)
	}
	if w.AgeS > windowS+1 {
		t.Errorf("got an age of %v s", w.AgeS)
	}
}

func TestInstrumentsOfOtherKinds(t *testing.T) {
	base := boat.State{HeadingDeg: boat.Some(100), HeadingBy: "compass"}
	tests := []struct {
		name  string
		state func(*boat.State)
		dir   boat.Reading
		kn    boat.Reading
	}{
		{"true angle as computed on board", func(s *boat.State) { s.TWADeg, s.TWSKn = boat.Some(-45), boat.Some(9) }, boat.Some(55), boat.Some(9)},
		{"true direction as computed on board", func(s *boat.State) { s.HeadingDeg, s.TWDDeg = boat.Reading{}, boat.Some(359.9) }, boat.Some(359.9), boat.Reading{}},
		{"apparent wind and no heading", func(s *boat.State) {
			s.HeadingDeg, s.AWADeg, s.AWSKn, s.SpeedKn = boat.Reading{}, boat.Some(90), boat.Some(5), boat.Some(0)
		}, boat.Reading{}, boat.Some(5)},
		{"apparent wind and no boat speed", func(s *boat.State) { s.AWADeg, s.AWSKn = boat.Some(90), boat.Some(5) }, boat.Reading{}, boat.Reading{}},
		{"a breath", func(s *boat.State) { s.TWADeg, s.TWSKn = boat.Some(-45), boat.Some(0.8) }, boat.Reading{}, boat.Some(0.8)},
	}
	for _, tt := range tests {
		e := New()
		end := sail(e, start, 60, func(t boat.Time) boat.State {
			s := base
			tt.state(&s)
			s.T = t
			return s
		})
		w := e.At(end)
		if w.DirDeg.OK != tt.dir.OK || math.Abs(geo.Diff(w.DirDeg.Or(0), tt.dir.Or(0))) > 0.5 {
			t.Errorf("%s: got from %v, expected %v", tt.name, w.DirDeg, tt.dir)
		}
		if w.SpeedKn.OK != tt.kn.OK || math.Abs(w.SpeedKn.Or(0)-tt.kn.Or(0)) > 0.1 {
			t.Errorf("%s: got %v kn, expected %v", tt.name, w.SpeedKn, tt.kn)
		}
	}
}

func TestCourseForHeadingIsLessSure(t *testing.T) {
	sd := func(by string) float64 {
		e := New()
		end := sail(e, start, 120, func(t boat.Time) boat.State {
			s := aboard(t, 10, 330, 11)
			s.HeadingBy = by
			return s
		})
		return e.At(end).SDDeg
	}
	if a, b := sd("compass"), sd("course"); b < a+3 {
		t.Errorf("compass %v, course %v", a, b)
	}
}

func TestWindIsFollowedWhereItGoes(t *testing.T) {
	for _, shift := range []float64{10, 20, 40, 90, 180} {
		e := New()
		end := sail(e, start, 300, func(t boat.Time) boat.State { return aboard(t, 10, 330, 11) })
		var took float64
		for s := 0; s < 180; s += 5 {
			end = sail(e, end, 5, func(t boat.Time) boat.State { return aboard(t, 10, 330+shift, 11) })
			w := e.At(end)
			if off := math.Abs(geo.Diff(w.DirDeg.Val, 330+shift)); off > 6 {
				took = float64(s + 5)
			}
		}
		if took > 75 {
			t.Errorf("a shift of %v° was followed after %v s", shift, took)
		}
	}
}

// The later and better of two facts that contradict each other wins.
func TestContradictionIsSettledWithinAMinute(t *testing.T) {
	e := New()
	end := sail(e, start, 120, func(t boat.Time) boat.State { return aboard(t, 10, 330, 11) })
	e.Fix(end, hand(60, 9), boat.State{})
	end = sail(e, end, 60, func(t boat.Time) boat.State { return aboard(t, 10, 330, 11) })
	if w := e.At(end); !w.Known || math.Abs(geo.Diff(w.DirDeg.Val, 330)) > 5 {
		t.Errorf("instruments that go on must outweigh one wrong tap: %+v", w)
	}

	e = New()
	e.Fix(start, hand(60, 9), boat.State{})
	e.Fix(start+60000, boat.WindFix{Method: "head_to_wind"}, boat.State{HeadingDeg: boat.Some(150), HeadingBy: "compass"})
	if w := e.At(start + 61000); !w.Known || math.Abs(geo.Diff(w.DirDeg.Val, 150)) > 3 || w.SDDeg > 10 {
		t.Errorf("the later fix must win: %+v", w)
	}
	e.Fix(start+120000, boat.WindFix{Method: "forecast", DirDeg: boat.Some(300)}, boat.State{})
	if w := e.At(start + 121000); !w.Known || math.Abs(geo.Diff(w.DirDeg.Val, 150)) > 5 {
		t.Errorf("a forecast must not outweigh a boat head to wind: %+v", w)
	}
}

func TestTwoLikelySidesAreSaidAndNotKnown(t *testing.T) {
	e := New()
	both := func(d float64) float64 {
		return near(50, 8, 0.01)(d) + 0.8*near(150, 8, 0.01)(d)
	}
	e.learn(fact{t: start, by: byFix, likely: both})
	w := e.At(start)
	if w.Known || !w.OtherDeg.OK || math.Abs(geo.Diff(w.DirDeg.Val, 50)) > 1 || math.Abs(geo.Diff(w.OtherDeg.Val, 150)) > 1 {
		t.Fatalf("got %+v", w)
	}
	inside(t, w)
	e.learn(fact{t: start + 1000, by: byFix, likely: near(150, 10, 0.01)})
	if w := e.At(start + 1000); !w.Known || w.OtherDeg.OK || math.Abs(geo.Diff(w.DirDeg.Val, 150)) > 1 {
		t.Errorf("a fact for one side must settle it: %+v", w)
	}
}

func TestKnownDoesNotFlicker(t *testing.T) {
	e := New()
	e.Fix(start, hand(10, 9), boat.State{})
	changes := 0
	known := true
	for s := boat.Time(0); s < 4*3600; s++ {
		if w := e.At(start + s*1000); w.Known != known {
			known = w.Known
			changes++
			if span := geo.Wrap360(w.HiDeg - w.LoDeg); span < unknownDeg {
				t.Errorf("no longer known at a width of %v", span)
			}
		}
	}
	if changes != 1 {
		t.Errorf("expected it to become unknown once, it changed %d times", changes)
	}
}

type failer interface {
	Fatalf(string, ...any)
	Helper()
}

func inside(t failer, w boat.Wind) {
	t.Helper()
	span, into := geo.Wrap360(w.HiDeg-w.LoDeg), geo.Wrap360(w.DirDeg.Val-w.LoDeg)
	if w.DirDeg.OK && into > span+0.1001 && into < 359.8999 { // all are rounded to tenths
		t.Fatalf("%v is not within %v to %v", w.DirDeg.Val, w.LoDeg, w.HiDeg)
	}
}

// event is one thing told to an estimator.
type event struct {
	after boat.Time
	fix   *boat.WindFix
	state boat.State
	times int
}

func events() *rapid.Generator[[]event] {
	reading := func(lo, hi float64) *rapid.Generator[boat.Reading] {
		return rapid.Custom(func(t *rapid.T) boat.Reading {
			if rapid.IntRange(0, 3).Draw(t, "absent") == 0 {
				return boat.Reading{}
			}
			return boat.Some(rapid.Float64Range(lo, hi).Draw(t, "value"))
		})
	}
	one := rapid.Custom(func(t *rapid.T) event {
		e := event{after: boat.Time(rapid.IntRange(0, 200000).Draw(t, "after")), times: rapid.IntRange(1, 300).Draw(t, "times")}
		e.state = boat.State{HeadingDeg: reading(0, 359.9).Draw(t, "heading"), HeadingBy: rapid.SampledFrom([]string{"compass", "course"}).Draw(t, "by"),
			SpeedKn: reading(0, 12).Draw(t, "speed"), AWADeg: reading(-180, 180).Draw(t, "awa"), AWSKn: reading(0, 60).Draw(t, "aws"),
			TWADeg: reading(-180, 180).Draw(t, "twa"), TWSKn: reading(0, 60).Draw(t, "tws"), YawDps: reading(-60, 60).Draw(t, "yaw")}
		if rapid.Bool().Draw(t, "fix") {
			names := []string{"hand", "pointed", "head_to_wind", "meter", "chase", "forecast"}
			e.fix = &boat.WindFix{DirDeg: reading(0, 360).Draw(t, "dir"), Kn: reading(0, 60).Draw(t, "kn"),
				SDDeg: reading(0.5, 90).Draw(t, "sd"), Method: rapid.SampledFrom(names).Draw(t, "method")}
		}
		return e
	})
	return rapid.SliceOfN(one, 1, 12)
}

// tell plays events, the whole world turned by some degrees, and gives every belief.
func tell(list []event, turn float64, see func(boat.Wind)) {
	e := New()
	now := start
	for _, ev := range list {
		now += ev.after
		s := ev.state
		if s.HeadingDeg.OK {
			s.HeadingDeg.Val = geo.Wrap360(s.HeadingDeg.Val + turn)
		}
		if ev.fix != nil {
			f := *ev.fix
			if f.DirDeg.OK {
				f.DirDeg.Val = geo.Wrap360(f.DirDeg.Val + turn)
			}
			e.Fix(now, f, s)
			see(e.At(now))
			continue
		}
		for range ev.times {
			s.T = now
			e.Instruments(s)
			now += 500
		}
		see(e.At(now))
	}
}

func TestAnyFiniteInputGivesFiniteBelief(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tell(events().Draw(t, "events"), 0, func(w boat.Wind) {
			for _, v := range []float64{w.DirDeg.Val, w.SDDeg, w.LoDeg, w.HiDeg, w.OtherDeg.Val, w.SpeedKn.Val, w.SpeedSD, w.AgeS} {
				if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
					t.Fatalf("%+v", w)
				}
			}
			if w.DirDeg.Val >= 360 || w.LoDeg >= 360 || w.HiDeg >= 360 || w.Known && (!w.DirDeg.OK || w.OtherDeg.OK || w.SDDeg > 25) {
				t.Fatalf("%+v", w)
			}
			inside(t, w)
		})
	})
}

func TestTurningTheWorldTurnsTheBelief(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := events().Draw(t, "events")
		turn := 2 * float64(rapid.IntRange(1, 179).Draw(t, "turn")) // whole bins
		var plain, turned []boat.Wind
		tell(list, 0, func(w boat.Wind) { plain = append(plain, w) })
		tell(list, turn, func(w boat.Wind) { turned = append(turned, w) })
		for i, a := range plain {
			b := turned[i]
			if a.DirDeg.OK != b.DirDeg.OK {
				t.Fatalf("%+v became %+v", a, b)
			}
			// Two lobes of equal weight may change places.
			same := math.Abs(geo.Diff(a.DirDeg.Val+turn, b.DirDeg.Val)) < 0.11
			swapped := a.OtherDeg.OK && math.Abs(geo.Diff(a.OtherDeg.Val+turn, b.DirDeg.Val)) < 0.11
			if a.DirDeg.OK && (!same && !swapped && a.SDDeg < 60 || math.Abs(a.SDDeg-b.SDDeg) > 0.11) {
				t.Fatalf("turned by %v: %+v became %+v", turn, a, b)
			}
		}
	})
}

// A turn by less than a bin may not show either, beyond some tenths.
func TestBinsDoNotShow(t *testing.T) {
	for _, off := range []float64{0, 0.3, 0.5, 1, 1.5, 1.9} {
		e := New()
		e.Fix(start, boat.WindFix{DirDeg: boat.Some(100 + off), SDDeg: boat.Some(4), Method: "hand"}, boat.State{})
		w := e.At(start)
		if math.Abs(w.DirDeg.Val-100-off) > 0.2 || math.Abs(w.SDDeg-4) > 0.5 {
			t.Errorf("%v: got %v, %v", off, w.DirDeg.Val, w.SDDeg)
		}
	}
}

func TestSameInputsGiveTheSameBelief(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := events().Draw(t, "events")
		var a, b []boat.Wind
		tell(list, 0, func(w boat.Wind) { a = append(a, w) })
		tell(list, 0, func(w boat.Wind) { b = append(b, w) })
		if fmt.Sprint(a) != fmt.Sprint(b) {
			t.Fatal("the same inputs gave two beliefs")
		}
	})
}
