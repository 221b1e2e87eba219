package compass

import (
	"math"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// facts runs glimpses every gap seconds through the window.
func facts(n int, gapS float64, at func(s float64) glimpse) []Fact {
	var s steady
	var out []Fact
	for i := range n {
		g := at(gapS * float64(i))
		g.t = begin.After(gapS * float64(i))
		if f, ok := s.add(g); ok {
			out = append(out, f)
		}
	}
	return out
}

func TestAQuarterOfAMinuteIsOneFact(t *testing.T) {
	for _, c := range []struct {
		gapS         float64
		least, most  int
		why          string
		forS, offDeg float64
	}{
		{0.1, 18, 20, "ten a second are no more facts", 300, -7},
		{1, 17, 19, "one a second", 300, 7},
		{5, 13, 16, "every five seconds", 300, 30},
		{10, 7, 10, "a slow sender is listened to longer", 300, -30},
		{15, 0, 0, "too seldom to know what lay between", 300, 5},
	} {
		got := facts(int(c.forS/c.gapS), c.gapS, func(float64) glimpse {
			return glimpse{hdg: 358, cog: geo.Wrap360(358 + c.offDeg), sogKn: 3}
		})
		if len(got) < c.least || len(got) > c.most {
			t.Errorf("%s: %d facts in five minutes, expected %d to %d", c.why, len(got), c.least, c.most)
		}
		for _, f := range got {
			if math.Abs(geo.Diff(f.HeadingDeg, 358)) > 1e-9 || math.Abs(geo.Diff(f.HeadingDeg, f.COGDeg)-c.offDeg) > 1e-9 || f.SOGKn != 3 {
				t.Errorf("%s: got %+v", c.why, f)
			}
		}
	}
}

func TestNoFactInATurn(t *testing.T) {
	got := facts(60, 1, func(s float64) glimpse {
		return glimpse{hdg: geo.Wrap360(300 + 3*s), cog: geo.Wrap360(290 + 3*s), sogKn: 3}
	})
	if len(got) != 0 {
		t.Errorf("turning all the time gave %d facts", len(got))
	}
	// 40 s on one tack, a tack, 40 s on the other: two facts each, none of both.
	got = facts(80, 1, func(s float64) glimpse {
		if s < 40 {
			return glimpse{hdg: 315, cog: 310, sogKn: 3}
		}
		return glimpse{hdg: 45, cog: 50, sogKn: 3}
	})
	if len(got) < 3 || len(got) > 5 {
		t.Errorf("expected four facts or so, got %d", len(got))
	}
	for _, f := range got {
		if off := geo.Diff(f.HeadingDeg, f.COGDeg); math.Abs(math.Abs(off)-5) > 1e-9 {
			t.Errorf("both tacks are mixed: %+v", f)
		}
	}
}

// Before the wind its angle changes sides; the mean must not fall ahead.
func TestAngleBeforeTheWindStaysAft(t *testing.T) {
	got := facts(40, 1, func(s float64) glimpse {
		side := 1.0
		if int(s)%3 == 0 {
			side = -1
		}
		return glimpse{hdg: 180, cog: 180, sogKn: 3, twa: boat.Some(side * 174)}
	})
	if len(got) == 0 || math.Abs(got[0].TWADeg.Val-174) > 1e-9 {
		t.Errorf("got %+v", got)
	}
}

// A repeated reading is not a new one, and a crawling boat shows nothing.
func TestRepeatsAndCrawlingTeachNothing(t *testing.T) {
	for _, kn := range []float64{3, 0.9} {
		e := New()
		for i := range 400 {
			now := begin + boat.Time(i*100)
			e.Bow(now, 90)
			cog := 70.0
			if kn < 1 {
				cog += float64(i % 7)
			}
			e.Course(Course{T: now, COGDeg: cog, SOGKn: kn})
		}
		want := 0
		if kn > 1 {
			want = 1 // a phone that repeats itself is believed every five seconds
		}
		if got := e.Learner().facts; got > want {
			t.Errorf("at %v kn: %d facts, at most %d meant", kn, got, want)
		}
	}
}
