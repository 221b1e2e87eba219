package lake

import (
	"bytes"
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/water"
)

// sailedAlong adds places a second apart along corners, metres east and north.
func sailedAlong(d *Draft, f geo.Frame, t boat.Time, corners ...[2]float64) boat.Time {
	d.Break()
	for i := 1; i < len(corners); i++ {
		a, b := corners[i-1], corners[i]
		n := math.Ceil(math.Hypot(b[0]-a[0], b[1]-a[1]) / 3)
		for k := 0.0; k <= n; k++ {
			d.Add(t, f.From(a[0]+(b[0]-a[0])*k/n, a[1]+(b[1]-a[1])*k/n), boat.Some(4))
			t = t.After(1)
		}
	}
	return t
}

func fromDraft(t rapid.TB, d *Draft) (boat.Water, *water.Chart) {
	t.Helper()
	w, err := d.Water()
	if err != nil {
		t.Fatal(err)
	}
	c, err := water.New(w, 0)
	if err != nil {
		t.Fatal(err)
	}
	return w, c
}

// A way once round a square: what was not sailed in its middle is a hole, and the area
// is that of the square's ring, worked out by hand.
func TestADraftIsTheWaterAsWideAsTheBuffer(t *testing.T) {
	f := geo.NewFrame(geo.Position{LatDeg: -35, LonDeg: 150})
	d, err := NewDraft(20)
	if err != nil {
		t.Fatal(err)
	}
	sailedAlong(d, f, 1000, [2]float64{0, 0}, [2]float64{300, 0}, [2]float64{300, 300}, [2]float64{0, 300}, [2]float64{0, 0})
	w, c := fromDraft(t, d)
	if len(w.Areas) != 1 || len(w.Areas[0].Rings) != 2 || !w.Draft || w.Areas[0].HeightM.OK {
		t.Fatalf("%d areas, draft %v", len(w.Areas), w.Draft)
	}
	want := 340.0*340 - (4-math.Pi)*400 - 260*260
	if got := ringM2(f, w.Areas[0].Rings[0]) - ringM2(f, w.Areas[0].Rings[1]); math.Abs(got-want) > 0.02*want {
		t.Errorf("%.0f square metres, want %.0f", got, want)
	}
	for _, k := range []struct {
		x, y   float64
		afloat bool
	}{{150, 0, true}, {150, -17, true}, {150, -23, false}, {150, 17, true}, {150, 24, false}, {150, 150, false}, {313, 313, true}, {318, 318, false}} {
		if got := c.Afloat(f.From(k.x, k.y)); got != k.afloat {
			t.Errorf("%v, %v: afloat %v, want %v", k.x, k.y, got, k.afloat)
		}
	}
	var file bytes.Buffer
	if err := Write(&file, w); err != nil {
		t.Fatal(err)
	}
	again, notes, err := Read(&file)
	if err != nil || !reflect.DeepEqual(again, w) {
		t.Errorf("read again otherwise: %v", err)
	}
	if len(notes) == 0 || !strings.Contains(notes[0], "draft") {
		t.Errorf("notes %q, want a word that it is a draft", notes)
	}
}

// ringM2 is the area of a ring by the shoelace formula, square metres.
func ringM2(f geo.Frame, ring []boat.LonLat) float64 {
	sum := 0.0
	for i := 1; i < len(ring); i++ {
		ax, ay := f.To(geo.Position{LonDeg: ring[i-1][0], LatDeg: ring[i-1][1]})
		bx, by := f.To(geo.Position{LonDeg: ring[i][0], LatDeg: ring[i][1]})
		sum += ax*by - bx*ay
	}
	return math.Abs(sum) / 2
}

// Whatever way a boat takes, also over the date line: the chart is read again, every
// place between two fixes is water, and no place further off than the buffer is.
func TestAnyTrackGivesAChartThatHoldsIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := geo.NewFrame(geo.Position{LatDeg: rapid.Float64Range(-60, 60).Draw(t, "lat"), LonDeg: rapid.SampledFrom([]float64{0, 11.5, 179.9999}).Draw(t, "lon")})
		buffer := rapid.Float64Range(leastBufferM, 30).Draw(t, "buffer")
		d, err := NewDraft(buffer)
		if err != nil {
			t.Fatal(err)
		}
		var corners [][2]float64
		x, y := 0.0, 0.0
		for range rapid.IntRange(2, 12).Draw(t, "corners") {
			corners = append(corners, [2]float64{x, y})
			deg := rapid.Float64Range(0, 360).Draw(t, "deg")
			far := rapid.Float64Range(15, 150).Draw(t, "far")
			x, y = x+far*math.Sin(geo.Rad(deg)), y+far*math.Cos(geo.Rad(deg))
		}
		sailedAlong(d, f, 1000, corners...)
		_, c := fromDraft(t, d)
		off := func(x, y float64) float64 { // by hand, not by the library the draft uses
			best := math.Inf(1)
			for i := 1; i < len(corners); i++ {
				a, b := corners[i-1], corners[i]
				u, v := b[0]-a[0], b[1]-a[1]
				s := math.Min(1, math.Max(0, ((x-a[0])*u+(y-a[1])*v)/(u*u+v*v)))
				best = math.Min(best, math.Hypot(x-a[0]-s*u, y-a[1]-s*v))
			}
			return best
		}
		slack := math.Max(2.5, buffer/4) // the draft's own grid
		for range 40 {
			i := rapid.IntRange(1, len(corners)-1).Draw(t, "leg")
			s := rapid.Float64Range(0, 1).Draw(t, "share")
			a, b := corners[i-1], corners[i]
			x, y := a[0]+s*(b[0]-a[0])+rapid.Float64Range(-60, 60).Draw(t, "east"), a[1]+s*(b[1]-a[1])+rapid.Float64Range(-60, 60).Draw(t, "north")
			switch dist, afloat := off(x, y), c.Afloat(f.From(x, y)); {
			case dist < buffer-slack && !afloat:
				t.Fatalf("%.1f m from the track within %.1f m: no water", dist, buffer)
			case dist > buffer+slack && afloat:
				t.Fatalf("%.1f m from the track, beyond %.1f m: water", dist, buffer)
			}
		}
	})
}

func TestADraftLeavesOutWhatIsNoTrack(t *testing.T) {
	f := geo.NewFrame(geo.Position{LatDeg: 40, LonDeg: 5})
	d, err := NewDraft(20)
	if err != nil {
		t.Fatal(err)
	}
	at := sailedAlong(d, f, 1000, [2]float64{0, 0}, [2]float64{200, 0})
	d.Add(at.After(1), f.From(210, 900), boat.Some(4)) // a jump
	d.Add(at.After(2), f.From(206, 0), boat.Some(4))
	d.Add(at.After(3), f.From(206, 6), boat.Some(60)) // vague
	d.Add(at.After(60), f.From(300, 300), boat.Some(4))
	d.Add(at.After(200), f.From(300, 100), boat.Some(4)) // after a silence
	d.Add(at.After(201), geo.Position{LatDeg: math.NaN()}, boat.Some(4))
	w, c := fromDraft(t, d)
	if len(w.Areas) != 1 || c.Afloat(f.From(210, 900)) || c.Afloat(f.From(300, 200)) || !c.Afloat(f.From(100, 0)) {
		t.Errorf("%d areas", len(w.Areas))
	}
	d.Add(at.After(300), f.From(0, 40_000), boat.Some(4))
	if _, err := d.Water(); err == nil || !strings.Contains(err.Error(), "one lake") {
		t.Errorf("tracks of two lakes: %v", err)
	}
	for _, b := range []float64{0, 4, 51, math.NaN()} {
		if _, err := NewDraft(b); err == nil {
			t.Errorf("a buffer of %v is taken", b)
		}
	}
	none, _ := NewDraft(20)
	if _, err := none.Water(); err == nil {
		t.Error("a chart of no track")
	}
}
