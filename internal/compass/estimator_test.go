package compass

import (
	"encoding/binary"
	"math"
	"testing"

	"pgregory.net/rapid"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// The signs, against outside sources.
func TestSigns(t *testing.T) {
	// NMEA 0183, HDG 98.3 with deviation 0.1 E and variation 12.6 W: magnetic 98.4,
	// true 85.8. East is added.
	d := boat.Deviation{ADeg: 0.1}
	if got := 98.3 + d.At(98.3) - 12.6; math.Abs(got-85.8) > 1e-9 {
		t.Errorf("true heading %.2f, expected 85.8", got)
	}
	// USCG Proceedings, winter 2015-16, deck query 3: heading 124 true, leeway 3
	// degrees, wind SW by S (213.75): made good 121, so the course lies to port.
	e := New()
	e.Lean(begin, boat.Some(geo.Diff(124, 213.75)))
	if p := e.push(Course{T: begin}); !p.OK || p.Val >= 0 {
		t.Errorf("wind from starboard pushes to port, got %+v", p)
	}
	// Arithmetic (checks, wind from a track): 0.5 kn across at 5 kn turns the course
	// by 5.7 degrees. Here a current to the east and a course to the north.
	l := NewLearner()
	h := l.weights(&l.belief, Fact{SOGKn: 5})
	if got := 0.5 * h[termEast]; math.Abs(got-5.73) > 0.01 {
		t.Errorf("half a knot to the east turns the course by %.2f degrees, expected 5.73", got)
	}
	// Physics: starboard side down, the wind pushes from port.
	if p := New().push(Course{T: begin, HeelDeg: boat.Some(15)}); p.Val <= 0 {
		t.Errorf("heeled to starboard she is pushed to starboard, got %+v", p)
	}
	if p := New().push(Course{T: begin, HeelDeg: boat.Some(2)}); p.OK {
		t.Errorf("two degrees of heel show no side, got %+v", p)
	}
}

func drawFact(t *rapid.T, at boat.Time) Fact {
	f := Fact{
		T: at, HeadingDeg: rapid.Float64Range(0, 360).Draw(t, "heading"), SOGKn: rapid.Float64Range(1.2, 8).Draw(t, "sog"),
		ScatterSD: rapid.Float64Range(0, 3).Draw(t, "scatter"),
	}
	f.COGDeg = geo.Wrap360(f.HeadingDeg + rapid.Float64Range(-40, 40).Draw(t, "off"))
	if rapid.Bool().Draw(t, "side") {
		f.Push = boat.Some(rapid.Float64Range(-1, 1).Draw(t, "push"))
		f.TWADeg = boat.Some(rapid.Float64Range(1, 179).Draw(t, "twa") * rapid.SampledFrom([]float64{-1, 1}).Draw(t, "from"))
	}
	if rapid.Bool().Draw(t, "log") {
		f.WaterKn = boat.Some(rapid.Float64Range(1.2, 8).Draw(t, "water"))
	}
	return f
}

func near(t *rapid.T, what string, got, want float64) {
	if !(math.Abs(got-want) <= 1e-6*(1+math.Abs(want))) {
		t.Fatalf("%s: got %v, expected %v", what, got, want)
	}
}

// Turning the world turns current and harmonic with it and leaves A, leeway and the
// doubts alone.
func TestTurningTheWorldTurnsTheEstimate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		by := rapid.Float64Range(0, 360).Draw(t, "by")
		a, b := NewLearner(), NewLearner()
		for i := range rapid.IntRange(1, 25).Draw(t, "n") {
			f := drawFact(t, begin.After(float64(20*i)))
			a.Learn(f)
			f.HeadingDeg, f.COGDeg = geo.Wrap360(f.HeadingDeg+by), geo.Wrap360(f.COGDeg+by)
			b.Learn(f)
		}
		for _, deg := range []float64{0, 77, 180, 290} {
			near(t, "deviation", b.Deviation().At(deg+by), a.Deviation().At(deg))
			near(t, "doubt", b.SD(deg+by, b.Deviation()), a.SD(deg, a.Deviation()))
		}
		ca, cb := a.Current(), b.Current()
		sin, cos := math.Sincos(geo.Rad(by))
		near(t, "east", cb.EastKn, ca.EastKn*cos+ca.NorthKn*sin)
		near(t, "north", cb.NorthKn, ca.NorthKn*cos-ca.EastKn*sin)
		la, _ := a.Leeway()
		lb, _ := b.Leeway()
		near(t, "leeway", lb, la)
	})
}

// In the mirror A changes its sign, and so does what goes east.
func TestMirrorMirrorsTheEstimate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := NewLearner(), NewLearner()
		for i := range rapid.IntRange(1, 25).Draw(t, "n") {
			f := drawFact(t, begin.After(float64(20*i)))
			a.Learn(f)
			f.HeadingDeg, f.COGDeg = geo.Wrap360(-f.HeadingDeg), geo.Wrap360(-f.COGDeg)
			f.Push.Val, f.TWADeg.Val = -f.Push.Val, -f.TWADeg.Val
			b.Learn(f)
		}
		for _, deg := range []float64{10, 130, 250} {
			near(t, "deviation", b.Deviation().At(-deg), -a.Deviation().At(deg))
			near(t, "doubt", b.SD(-deg, b.Deviation()), a.SD(deg, a.Deviation()))
		}
		near(t, "east", b.Current().EastKn, -a.Current().EastKn)
		near(t, "north", b.Current().NorthKn, a.Current().NorthKn)
	})
}

// More facts of the same kind never widen a kind's doubt, and doubts stay positive.
func TestDoubtsStayHonest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := NewLearner()
		for range rapid.IntRange(1, 40).Draw(t, "n") {
			f := drawFact(t, begin) // all at one time: nothing is forgotten
			f.COGDeg = geo.Wrap360(f.HeadingDeg + rapid.Float64Range(-5, 5).Draw(t, "small"))
			before, open := l.kinds[0].filter.cov, l.kinds[0].filter.open
			l.Learn(f)
			if l.kinds[0].filter.open != open { // taken for a change: what may have changed is open again
				continue
			}
			for i := range before {
				if i == termLeg || i == termLegKn || len(l.held) > 0 {
					continue
				}
				if now := l.kinds[0].filter.cov[i][i]; now <= 0 || now > before[i][i]*(1+1e-9) {
					t.Fatalf("term %d: the variance went from %v to %v", i, before[i][i], now)
				}
			}
		}
	})
}

// FuzzEstimator feeds anything: what comes out is finite and within its range.
func FuzzEstimator(f *testing.F) {
	f.Add([]byte{1, 2, 3, 4, 5, 6, 7, 8, 9})
	var ramp []byte
	for i := range 2000 {
		ramp = binary.LittleEndian.AppendUint64(ramp, math.Float64bits(float64(i%360)))
	}
	f.Add(ramp)
	f.Fuzz(func(t *testing.T, data []byte) {
		e := New()
		now := begin
		next := func() float64 {
			if len(data) < 8 {
				data = nil
				return math.NaN()
			}
			v := math.Float64frombits(binary.LittleEndian.Uint64(data))
			data = data[8:]
			return v
		}
		for len(data) > 0 {
			now += boat.Time(int(data[0])*20 - 100)
			e.Bow(now, next())
			e.Lean(now, boat.Some(next()))
			e.Course(Course{T: now, COGDeg: next(), SOGKn: math.Abs(next()), WaterKn: boat.Some(next()), HeelDeg: boat.Some(next())})
			e.Bow(now+1, next())
		}
		d, c := e.Deviation(), e.Learner().Current()
		lee, leeSD := e.Learner().Leeway()
		lag, lagSD := e.LagS()
		for i, v := range []float64{d.ADeg, d.BDeg, d.CDeg, c.EastKn, c.NorthKn, c.SDKn, lee, leeSD, lag, lagSD, e.SD(10), e.CourseSD(2)} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("output %d is %v", i, v)
			}
		}
		if lag < 0 || lag > mostLagS || lagSD <= 0 || e.SD(1) <= 0 || e.SD(1) > 180 {
			t.Fatalf("out of range: lag %v ± %v, doubt %v", lag, lagSD, e.SD(1))
		}
	})
}
