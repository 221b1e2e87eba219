package lake

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"fmt"
	"io"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"

	"helmcue/internal/boat"
)

// Write writes a chart as GeoJSON. What Read gave is read again as it was.
func Write(w io.Writer, chart boat.Water) error {
	fc := geojson.NewFeatureCollection()
	fc.ExtraMembers = geojson.Properties{}
	if chart.Name != "" {
		fc.ExtraMembers["name"] = chart.Name
	}
	if chart.Draft {
		fc.ExtraMembers["draft"] = true
	}
	for _, a := range chart.Areas {
		polygon := make(orb.Polygon, len(a.Rings))
		for i, r := range a.Rings {
			polygon[i] = orb.Ring(points(r))
		}
		f := feature(polygon, a.Kind, a.Name)
		put(f, "height_m", a.HeightM)
		if a.Porosity != 0 {
			put(f, "porosity", boat.Some(a.Porosity))
		}
		fc.Append(f)
	}
	for _, b := range chart.Bridges {
		f := feature(orb.LineString(points(b.Line)), "bridge", b.Name)
		put(f, "clearance_m", b.ClearM)
		fc.Append(f)
	}
	for _, m := range chart.Marks {
		fc.Append(feature(orb.Point(m.At), m.Kind, m.Name))
	}
	if len(chart.Sailed) > 0 {
		fc.Append(feature(orb.MultiPoint(points(chart.Sailed)), "sailed", ""))
	}
	data, err := json.MarshalIndent(fc, "", " ")
	if err != nil {
		return fmt.Errorf("cannot write the chart: %w", err)
	}
	if _, err := w.Write(append(data, '\n')); err != nil {
		return fmt.Errorf("cannot write the chart: %w", err)
	}
	return nil
}

func points(line []boat.LonLat) []orb.Point {
	out := make([]orb.Point, len(line))
	for i, at := range line {
		out[i] = orb.Point(at)
	}
	return out
}

func feature(g orb.Geometry, kind, name string) *geojson.Feature {
	f := geojson.NewFeature(g)
	f.Properties["kind"] = kind
	if name != "" {
		f.Properties["name"] = name
	}
	return f
}

func put(f *geojson.Feature, key string, r boat.Reading) {
	if r.OK {
		f.Properties[key] = r.Val
	}
}

//go:embed lakes/demo.geojson
var demo []byte

// DemoName is the chart that is built in.
const DemoName = "demo"

// Demo returns the made-up lake of the demonstration. It lies round the place where
// the simulator sails, far out at sea, where no lake is.
func Demo() boat.Water {
	w, _, err := Read(bytes.NewReader(demo))
	if err != nil {
		panic("the built-in chart is broken: " + err.Error())
	}
	return w
}
