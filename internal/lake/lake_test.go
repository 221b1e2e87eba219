package lake

import (
	"bytes"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/water"
)

// one wraps a geometry and properties into a chart.
func one(geometry, properties string) string {
	return fmt.Sprintf(`{"type":"FeatureCollection","features":[{"type":"Feature","properties":%s,"geometry":%s}]}`, properties, geometry)
}

const square = `{"type":"Polygon","coordinates":[[[10,5],[10.01,5],[10.01,5.01],[10,5.01],[10,5]]]}`

func polygon(rings string) string { return `{"type":"Polygon","coordinates":[` + rings + `]}` }

func TestReadsWhatAChartSays(t *testing.T) {
	w, notes, err := Read(strings.NewReader(`{"type":"FeatureCollection","name":"a pond","features":[
		{"type":"Feature","properties":{"kind":"water","name":"pond","height_m":3,"porosity":0.5},"geometry":` + square + `},
		{"type":"Feature","properties":{"kind":"ramp","name":"slip"},"geometry":{"type":"Point","coordinates":[10.001,5.001,12]}},
		{"type":"Feature","properties":null,"geometry":{"type":"Point","coordinates":[10.005,5.005]}},
		{"type":"Feature","properties":{"kind":"bridge","clearance_m":4.5},"geometry":{"type":"LineString","coordinates":[[10,5.002],[10.01,5.002]]}}]}`))
	if err != nil || len(notes) != 0 {
		t.Fatal(err, notes)
	}
	want := boat.Water{Name: "a pond",
		Areas: []boat.Area{{Kind: "water", Name: "pond", HeightM: boat.Some(3), Porosity: 0.5,
			Rings: [][]boat.LonLat{{{10, 5}, {10.01, 5}, {10.01, 5.01}, {10, 5.01}, {10, 5}}}}},
		Bridges: []boat.Bridge{{ClearM: boat.Some(4.5), Line: []boat.LonLat{{10, 5.002}, {10.01, 5.002}}}},
		Marks:   []boat.Mark{{Kind: "ramp", Name: "slip", At: boat.LonLat{10.001, 5.001}}, {Kind: "mark", At: boat.LonLat{10.005, 5.005}}}}
	if !reflect.DeepEqual(w, want) {
		t.Errorf("got %+v\nwant %+v", w, want)
	}
}

// Source of the rules: RFC 7946, sections 3.1.1, 3.1.6, 3.1.9 and 4.
func TestBadChartsAreRefusedInPlainWords(t *testing.T) {
	for name, k := range map[string]struct{ chart, says string }{
		"no json":         {`{"type":`, "expected GeoJSON"},
		"one geometry":    {square, "FeatureCollection"},
		"empty":           {`{"type":"FeatureCollection","features":[]}`, "draw the shore first"},
		"null feature":    {`{"type":"FeatureCollection","features":[null]}`, "null"},
		"other system":    {`{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"EPSG:3857"}},"features":[]}`, "WGS84"},
		"metres":          {one(polygon(`[[500000,5200000],[500100,5200000],[500100,5200100],[500000,5200000]]`), `{}`), "metres"},
		"latitude first":  {one(polygon(`[[10,100],[10.1,100],[10.1,100.1],[10,100]]`), `{}`), "longitude within 180"},
		"one number":      {one(polygon(`[[10],[10.01,5],[10.01,5.01],[10]]`), `{}`), "longitude and latitude"},
		"null in a place": {one(polygon(`[[10,null],[10.01,5],[10.01,5.01],[10,null]]`), `{}`), "two numbers"},
		"open ring":       {one(polygon(`[[10,5],[10.01,5],[10.01,5.01],[10,5.01]]`), `{}`), "closed"},
		"two points":      {one(polygon(`[[10,5],[10.01,5],[10,5]]`), `{}`), "three different points"},
		"bow tie":         {one(polygon(`[[10,5],[10.01,5.01],[10.01,5],[10,5.01],[10,5]]`), `{}`), "cross itself"},
		"spike":           {one(polygon(`[[10,5],[10.01,5],[10.02,5],[10.01,5],[10.01,5.01],[10,5]]`), `{}`), "cross itself"},
		"on a line":       {one(polygon(`[[10,5],[10.01,5.01],[10.02,5.02],[10,5]]`), `{}`), "cross itself"},
		"hole outside":    {one(polygon(`[[10,5],[10.01,5],[10.01,5.01],[10,5]],[[11,5],[11.001,5],[11.001,5.001],[11,5]]`), `{}`), "hole 1"},
		"height in words": {one(square, `{"height_m":"12 m"}`), "number without a unit"},
		"height too much": {one(square, `{"height_m":1200}`), "height_m from 0 to 500"},
		"height below":    {one(square, `{"height_m":-3}`), "height_m from 0"},
		"solid and more":  {one(square, `{"porosity":40}`), "porosity"},
		"kind unknown":    {one(square, `{"kind":"swamp"}`), "land, shallow or water"},
		"kind no text":    {one(square, `{"kind":7}`), "kind to be a text"},
		"point unknown":   {one(`{"type":"Point","coordinates":[10,5]}`, `{"kind":"rock"}`), "mark or ramp"},
		"too wide":        {one(polygon(`[[10,5],[15,5],[15,9],[10,5]]`), `{}`), "km across"},
		"cut at the line": {one(polygon(`[[179.99,5],[180,5],[180,5.01],[179.99,5.01],[179.99,5]]`), `{"kind":"water"}`), "date line"},
	} {
		_, _, err := Read(strings.NewReader(k.chart))
		if err == nil || !strings.Contains(err.Error(), k.says) {
			t.Errorf("%s: %v, want an error with %q", name, err, k.says)
		}
	}
}

func TestWhatIsMendedIsSaid(t *testing.T) {
	for name, k := range map[string]struct{ chart, says string }{
		"clockwise":     {one(polygon(`[[10,5],[10,5.01],[10.01,5.01],[10.01,5],[10,5]]`), `{"height_m":4}`), "turned"},
		"no height":     {one(square, `{"name":"east shore"}`), `(`},
		"other height":  {one(square, `{"height_ft":30}`), "height_m"},
		"over the line": {one(polygon(`[[179.99,5],[-179.99,5],[-179.99,5.01],[179.99,5.01],[179.99,5]]`), `{"height_m":4}`), "date line"},
	} {
		w, notes, err := Read(strings.NewReader(k.chart))
		if err != nil || !strings.Contains(strings.Join(notes, "; "), k.says) {
			t.Errorf("%s: %v, notes %q, want one with %q", name, err, notes, k.says)
			continue
		}
		for _, p := range w.Areas[0].Rings[0] {
			if p[0] < -180 || p[0] > 180 {
				t.Errorf("%s: longitude %g", name, p[0])
			}
		}
	}
}

func TestTheDemonstrationsLake(t *testing.T) {
	w, notes, err := Read(bytes.NewReader(demo))
	if err != nil || len(notes) != 0 {
		t.Fatal(err, notes)
	}
	c, err := water.New(w, 7)
	if err != nil {
		t.Fatal(err)
	}
	middle := geo.Position{LatDeg: 47.05, LonDeg: -30.4}
	if d := c.ClearM(middle, 2000); !c.Afloat(middle) || d < 500 || d > 1500 {
		t.Errorf("the middle is afloat: %v, %.0f m off the shore", c.Afloat(middle), d)
	}
	ramp, ok := c.Ramp(middle)
	if !ok || !c.Afloat(ramp) || c.ClearM(ramp, 100) > 60 {
		t.Errorf("the ramp: %v at the shore of the lake", ramp)
	}
	for _, m := range w.Marks {
		if p := (geo.Position{LatDeg: m.At[1], LonDeg: m.At[0]}); !c.Afloat(p) {
			t.Errorf("%s lies ashore", m.Name)
		}
	}
	for _, deg := range []float64{0, 90, 180, 270} {
		if l := c.Lee(middle, water.Wind{FromDeg: deg, SDDeg: 5}); l.Band != water.Clear {
			t.Errorf("wind from %g: the middle is %s", deg, l.Band)
		}
	}
}

// star draws a chart whose rings cannot cross themselves: points round a middle by
// ascending angle.
func star(t *rapid.T) boat.Water {
	lon, lat := rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(-60, 60).Draw(t, "lat")
	w := boat.Water{Name: rapid.StringMatching(`[a-z ]{0,12}`).Draw(t, "name")}
	for range rapid.IntRange(1, 3).Draw(t, "areas") {
		n := rapid.IntRange(3, 12).Draw(t, "points")
		a := boat.Area{Kind: rapid.SampledFrom([]string{"land", "shallow", "water"}).Draw(t, "kind"), Name: "x"}
		if rapid.Bool().Draw(t, "high") {
			a.HeightM, a.Porosity = boat.Some(rapid.Float64Range(0, 60).Draw(t, "height")), 0.25
		}
		var ring []boat.LonLat
		for i := range n {
			angle := geo.Rad(360 * (float64(i) + rapid.Float64Range(0.1, 0.9).Draw(t, "a")) / float64(n))
			p := geo.Destination(geo.Position{LatDeg: lat, LonDeg: lon}, geo.Wrap360(90-geo.Deg(angle)), rapid.Float64Range(300, 3000).Draw(t, "d"))
			ring = append(ring, boat.LonLat{p.LonDeg, p.LatDeg})
		}
		a.Rings = [][]boat.LonLat{append(ring, ring[0])}
		w.Areas = append(w.Areas, a)
	}
	w.Marks = []boat.Mark{{Kind: "ramp", At: boat.LonLat{lon, lat}}}
	return w
}

func TestWhatIsWrittenIsReadAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := star(t)
		var first, second bytes.Buffer
		if err := Write(&first, w); err != nil {
			t.Fatal(err)
		}
		got, _, err := Read(bytes.NewReader(first.Bytes()))
		if err != nil {
			t.Skip("three points nearly on a line, or round no middle: ", err)
		}
		if err := Write(&second, got); err != nil {
			t.Fatal(err)
		}
		again, _, err := Read(&second)
		if err != nil || !reflect.DeepEqual(got, again) {
			t.Fatalf("%v: %+v, then %+v", err, got, again)
		}
	})
}

// The slow check: every pair of edges.
func TestCrossingsAreFoundAsByTryingEveryPair(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(4, 14).Draw(t, "n")
		r := make([][2]float64, n)
		for i := range r {
			r[i] = [2]float64{float64(rapid.IntRange(0, 9).Draw(t, "x")), float64(rapid.IntRange(0, 9).Draw(t, "y"))}
		}
		var ring orbRing
		for i, p := range r {
			if i == 0 || p != r[i-1] {
				ring = append(ring, p)
			}
		}
		if len(ring) < 3 || ring[0] == ring[len(ring)-1] {
			t.Skip("too few")
		}
		ring = append(ring, ring[0])
		m := len(ring) - 1
		want := false
		for i := range m {
			for j := range i {
				near := i == j+1 || j == 0 && i == m-1
				if !near && touch([2]orbPoint{ring[i], ring[i+1]}, [2]orbPoint{ring[j], ring[j+1]}) {
					want = true
				}
				if i == j+1 && fold(ring[j], ring[i], ring[i+1]) || j == 0 && i == m-1 && fold(ring[i], ring[0], ring[1]) {
					want = true
				}
			}
		}
		if _, _, got := crossing(ring); got != want {
			t.Fatalf("%v: crossing %v, by pairs %v", ring, got, want)
		}
	})
}

func FuzzRead(f *testing.F) {
	f.Add(demo)
	f.Add([]byte(one(square, `{"kind":"land","height_m":3}`)))
	f.Add([]byte(one(polygon(`[[179.99,5],[-179.99,5],[-179.99,5.01],[179.99,5.01],[179.99,5]]`), `{}`)))
	f.Add([]byte(`{"type":"FeatureCollection","features":[{"type":"Feature","geometry":{"type":"MultiPolygon","coordinates":[[]]}}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		w, _, err := Read(bytes.NewReader(data))
		if err != nil {
			return
		}
		var out bytes.Buffer
		if err := Write(&out, w); err != nil {
			t.Fatal(err)
		}
		again, _, err := Read(&out)
		if err != nil || !reflect.DeepEqual(w, again) {
			t.Fatalf("%v: %+v, then %+v", err, w, again)
		}
	})
}

type (
	orbRing  = orb.Ring
	orbPoint = orb.Point
)
