package water

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

func leg(toDeg float64) Leg {
	return Leg{From: here(), To: geo.Destination(here(), toDeg, 1000),
		Wind:   boat.Wind{Known: true, DirDeg: boat.Some(0), SDDeg: 4},
		Target: boat.Target{OK: true, BeatDeg: 45, BeatKn: 4, RunDeg: 150, RunKn: 4}}
}

// Source: plane trigonometry, the factors for a boat that tacks through ninety
// degrees: 1.41421 dead upwind; 0.81915 + 0.57358 at 10 degrees off, 0.90631 +
// 0.42262 at 20, 0.96593 + 0.25882 at 30, 1 + 0 at 45.
func TestLegsToWindward(t *testing.T) {
	for _, k := range []struct{ off, long, short float64 }{
		{0, 0.707107, 0.707107}, {10, 0.81915, 0.57358}, {20, 0.90631, 0.42262}, {30, 0.96593, 0.25882}, {44.999, 1, 0}} {
		for _, side := range []float64{1, -1} {
			w := Reach(leg(-side * k.off)) // bearing to the left: the wind is on the right, starboard
			long, short := w.LegM[0], w.LegM[1]
			if side < 0 {
				long, short = short, long
			}
			if !w.Beat || math.Abs(long-1000*k.long) > 0.1 || math.Abs(short-1000*k.short) > 0.1 {
				t.Errorf("%g off, side %g: legs %v", k.off, side, w.LegM)
			}
			if want := 1000 * (k.long + k.short) / (4 * geo.KnotMS); math.Abs(w.TimeS.Val-want) > 0.1 {
				t.Errorf("%g off: %g s, want %g", k.off, w.TimeS.Val, want)
			}
		}
	}
}

func TestLegsToLeewardMirrorThoseToWindward(t *testing.T) {
	l := leg(170)
	l.Target.RunDeg = 135
	w := Reach(l)
	if !w.Deep || w.Beat || math.Abs(w.LegM[0]+w.LegM[1]-1392.73) > 0.2 { // factor 1.39273, as above
		t.Errorf("%+v", w)
	}
	if !(w.LegM[1] > w.LegM[0]) { // the mark is left of dead downwind: heading 135 has the wind on port
		t.Errorf("legs %v: the longer one is on port", w.LegM)
	}
}

func TestLaylines(t *testing.T) {
	w := Reach(leg(0))
	if w.Starboard.Deg != 315 || w.Port.Deg != 45 || math.Abs(w.Starboard.HalfDeg-1.645*4) > 1e-9 {
		t.Errorf("laylines %+v %+v", w.Starboard, w.Port)
	}
	if !(w.Fetch.Val < 1e-6) {
		t.Errorf("dead upwind one tack fetches with %g", w.Fetch.Val)
	}
	if on := Reach(leg(45)); math.Abs(on.Fetch.Val-0.5) > 0.02 {
		t.Errorf("on the layline: %g", on.Fetch.Val)
	}
	if over := Reach(leg(60)); over.Beat || over.Fetch.Val < 0.99 {
		t.Errorf("well over it: %+v", over)
	}
}

// Source: VMG = V cos(angle), 6 kn at 42 degrees 4.4589, at 150 degrees -5.1962.
func TestSpeedMadeGoodToTheMark(t *testing.T) {
	l := leg(0)
	l.Kn = boat.Some(6)
	for deg, want := range map[float64]float64{42: 4.4589, 150: -5.1962} {
		l.COGDeg = boat.Some(deg)
		if w := Reach(l); math.Abs(w.VMCKn.Val-want) > 1e-4 {
			t.Errorf("at %g: %g, want %g", deg, w.VMCKn.Val, want)
		}
	}
	l.Wind = boat.Wind{}
	l.Speed = func(float64) float64 { return 3 }
	if w := Reach(l); w.Fetch.OK || w.TimeS.OK || !w.VMCKn.OK || math.Abs(w.DistM-1000) > 0.001 {
		t.Errorf("without a wind: %+v", w)
	}
	l = leg(90)
	l.Speed = func(off float64) float64 { return off / 30 }
	if w := Reach(l); math.Abs(w.TimeS.Val-1000/(3*geo.KnotMS)) > 0.1 {
		t.Errorf("on a reach: %+v", w)
	}
}

// Source: PyEphem 4.1.4 and the published examples in testdata/checks/sun_checks.csv,
// to the second. Tolerance: 15 s, against the three minutes that a time to be back
// needs. The USNO row is printed to a thousandth of an hour.
func TestSunAgainstASecondEphemeris(t *testing.T) {
	n := 0
	for _, r := range table(t, "sun_checks.csv") {
		place := geo.Position{LatDeg: num(t, r[2]), LonDeg: num(t, r[3])}
		day, err := time.Parse("2006-01-02", r[4][:10])
		if err != nil {
			t.Fatal(err)
		}
		// Noon by the clock of the place, whatever that is.
		d := SunOn(place, boat.Time(day.UnixMilli()).After((12-place.LonDeg/15)*3600))
		got := map[string]boat.Time{"sunrise": d.Rise, "sunrise UT": d.Rise, "sunset": d.Set, "civil dusk": d.Dusk}[r[5]]
		want, zone := r[6], r[7]
		switch {
		case strings.HasPrefix(r[5], "topocentric"):
			continue
		case strings.HasPrefix(want, "none"):
			if d.OK || !d.Up || d.DuskOK {
				t.Errorf("%s %s: %+v, want the sun up all day", r[1], r[4], d)
			}
			n++
			continue
		case strings.HasPrefix(want, "9.441"):
			want = "09:26:28"
		}
		at, err := time.Parse("15:04:05 -07:00", want+" "+zone)
		if err != nil {
			t.Fatal(err)
		}
		off := math.Mod(float64(int64(got)-at.UnixMilli())/1000, 86400)
		if off > 43200 {
			off -= 86400
		}
		if off < -43200 {
			off += 86400
		}
		if n++; math.Abs(off) > 15 {
			t.Errorf("%s %s %s: %.0f s off", r[1], r[4], r[5], off)
		}
	}
	if n < 11 {
		t.Fatalf("%d rows checked", n)
	}
}

func TestTheDayIsTheOneRoundTheNearestNoon(t *testing.T) {
	p := geo.Position{LatDeg: 50, LonDeg: 120}
	noon := boat.Time(1_780_000_000_000)
	d := SunOn(p, noon)
	for _, h := range []float64{-5, 5} {
		mid := d.Rise + (d.Set-d.Rise)/2
		if other := SunOn(p, mid.After(h*3600)); math.Abs(other.Set.Seconds(d.Set)) > 1 {
			t.Errorf("%g h off noon another day: %v", h, other)
		}
	}
	if !(d.Rise < d.Set && d.Set < d.Dusk) {
		t.Errorf("%+v", d)
	}
	leave, ok := d.Leave(1000)
	if !ok || math.Abs(d.Set.Seconds(leave)-2700) > 0.01 {
		t.Errorf("leave %v before sunset, want 1.5 ways and 20 minutes", d.Set.Seconds(leave))
	}
	if _, ok := (Day{}).Leave(10); ok {
		t.Error("a day without a sunset has a time to leave")
	}
}

func TestWaterThatWasSailed(t *testing.T) {
	s := NewSailed(here())
	last := place(0, 5)
	for x := 0.0; x <= 400; x += 4 {
		s.Add(last, place(x, 5), 4)
		last = place(x, 5)
	}
	if !s.Along(place(5, 3), 90, 350) || s.Along(place(5, 0), 0, 100) || s.Along(place(300, 0), 90, 300) {
		t.Error("the way that was sailed is safe, others are not")
	}
	if s.Visits(place(100, 5)) != 1 || s.Visits(place(100, 300)) != 0 || s.Visits(geo.Position{LatDeg: math.NaN()}) != 0 {
		t.Errorf("visits %d", s.Visits(place(100, 5)))
	}
	s.Add(last, place(0, 900), 80)
	s.Add(geo.Position{LatDeg: math.Inf(1)}, place(0, 900), 3)
	if s.Visits(place(0, 900)) != 0 {
		t.Error("a vague position counts")
	}
	if got := s.Places(); len(got) < 26 || len(got) > 28 || got[0][0] > got[len(got)-1][0] {
		t.Errorf("%d places", len(got))
	}
}

// Where the chart ends, only water that was sailed before is free; where it shows
// land, no track makes it free.
func TestBeyondTheChartWaterThatWasSailedIsFree(t *testing.T) {
	f := geo.NewFrame(here())
	islet := func(x, y, size float64) boat.Area {
		return boat.Area{Kind: boat.Land, HeightM: boat.Some(0), Rings: [][]boat.LonLat{{
			lonLat(f.From(x, y)), lonLat(f.From(x+size, y)), lonLat(f.From(x+size, y+size)), lonLat(f.From(x, y+size)), lonLat(f.From(x, y))}}}
	}
	c, err := New(boat.Water{Areas: []boat.Area{islet(-500, -500, 10), islet(490, 490, 10), islet(200, 100, 10)}}, 5)
	if err != nil {
		t.Fatal(err)
	}
	out := Course{From: f.From(300, 0), Deg: 90, Kn: 4, S: 200, Wind: Wind{FromDeg: 45, SDDeg: 5}} // some 410 m
	if c.Free(out) {
		t.Error("free beyond the chart without a track there")
	}
	out.Sailed = NewSailed(here())
	for x := 150.0; x < 480; x += 3 {
		out.Sailed.Add(f.From(x-3, 0), f.From(x, 0), 4)
	}
	if c.Free(out) {
		t.Error("free where the track ends within the chart")
	}
	for x := 480.0; x < 760; x += 3 {
		out.Sailed.Add(f.From(x-3, 0), f.From(x, 0), 4)
	}
	if !c.Free(out) {
		t.Error("not free along water that was sailed")
	}
	over := out
	over.From, over.Deg, over.S = f.From(205, 0), 0, 100 // the islet lies on it
	for y := 0.0; y < 300; y += 3 {
		out.Sailed.Add(f.From(205, y-3), f.From(205, y), 4)
	}
	if c.Free(over) {
		t.Error("a track makes charted land free")
	}
	off := out
	off.From = f.From(600, 0)
	if c.Free(off) {
		t.Error("free from a place off the chart")
	}
}

func TestMergingPlacesSailedMovesNone(t *testing.T) {
	f := geo.NewFrame(geo.Destination(here(), 60, 9)) // off the corners of cells
	var a, b []boat.LonLat
	for i := range 10 {
		a = append(a, lonLat(f.From(float64(i)*15, 0)))
		b = append(b, lonLat(f.From(float64(i+5)*15+3, 2)))
	}
	got := Merge(a, b)
	if len(got) != 15 || !slices.Equal(got[:10], a) || !slices.Equal(got[10:], b[5:]) {
		t.Errorf("%d places: %v", len(got), got)
	}
	if got := Merge(a, nil); !slices.Equal(got, a) {
		t.Errorf("%v", got)
	}
	if got := Merge(got, b); len(got) != 15 {
		t.Errorf("%d places after a second time", len(got))
	}
}

func lonLat(p geo.Position) boat.LonLat { return boat.LonLat{p.LonDeg, p.LatDeg} }
