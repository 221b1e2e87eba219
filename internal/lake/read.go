package lake

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"

	"helmcue/internal/boat"
	"helmcue/internal/water"
)

// Limits of a chart.
const (
	mostBytes  = 16 << 20
	mostPoints = 50_000
	mostAreas  = 2_000
	mostHeight = 500.0 // metres: higher is no shore of a lake, or is in other units
)

// Read reads a chart. The notes say what was mended or left out, in words for the
// person whose chart it is. An error says which feature it is about, counted from 1.
func Read(r io.Reader) (boat.Water, []string, error) {
	data, err := io.ReadAll(io.LimitReader(r, mostBytes+1))
	if err != nil {
		return boat.Water{}, nil, fmt.Errorf("cannot read the chart: %w", err)
	}
	if len(data) > mostBytes {
		return boat.Water{}, nil, fmt.Errorf("expected a chart of at most %d MB, got more: cut it to the water you sail", mostBytes>>20)
	}
	features, head, err := collection(data)
	if err != nil {
		return boat.Water{}, nil, err
	}
	p := &reader{}
	p.out.Name, p.out.Draft = head.Name, head.Draft
	if head.Draft {
		p.note("the chart is a draft from tracks: move its shores to where they are, give heights, and take \"draft\" out; until then the coach goes by none of its shores")
	}
	for i, f := range features {
		if err := p.feature(f); err != nil {
			return boat.Water{}, nil, fmt.Errorf("feature %d%s: %w", i+1, called(f), err)
		}
	}
	if len(p.out.Areas) == 0 {
		return boat.Water{}, nil, fmt.Errorf("expected at least one polygon of land or water, got none: draw the shore first")
	}
	if _, err := water.New(p.out, 0); err != nil {
		return boat.Water{}, nil, err
	}
	return p.out, p.notes, nil
}

func called(f *geojson.Feature) string {
	if n, ok := f.Properties["name"].(string); ok && n != "" {
		return fmt.Sprintf(" (%q)", n)
	}
	return ""
}

// header is what a chart says of itself.
type header struct {
	Type     string `json:"type"`
	Name     string `json:"name"`
	Draft    bool   `json:"draft"`
	CRS      any    `json:"crs"`
	Features []struct {
		Geometry *struct {
			Coordinates any `json:"coordinates"`
		} `json:"geometry"`
	} `json:"features"`
}

// collection decodes the features, after a look at what the library takes without a
// word: a place of one number would have latitude 0, and another reference system
// would be read as WGS84.
func collection(data []byte) ([]*geojson.Feature, header, error) {
	var head header
	if err := json.Unmarshal(data, &head); err != nil {
		return nil, head, fmt.Errorf("expected GeoJSON, got something else: %v", err)
	}
	if head.Type != "FeatureCollection" {
		return nil, head, fmt.Errorf("expected a FeatureCollection, got type %q: put the features into one collection", head.Type)
	}
	if head.CRS != nil && !wgs84(head.CRS) {
		return nil, head, fmt.Errorf("expected longitude and latitude (WGS84), the file names another reference system: export it as RFC 7946 GeoJSON")
	}
	left := mostPoints
	for i, f := range head.Features {
		if f.Geometry == nil {
			continue
		}
		if err := places(f.Geometry.Coordinates, &left); err != nil {
			return nil, head, fmt.Errorf("feature %d: %w", i+1, err)
		}
	}
	all, err := geojson.UnmarshalFeatureCollection(data)
	if err != nil {
		return nil, head, fmt.Errorf("expected GeoJSON features: %v", err)
	}
	for i, f := range all.Features {
		if f == nil {
			return nil, head, fmt.Errorf("feature %d: expected a feature, got null", i+1)
		}
	}
	return all.Features, head, nil
}

// wgs84 says whether the old crs member names the system that RFC 7946 means anyway.
func wgs84(crs any) bool {
	text, err := json.Marshal(crs)
	if err != nil {
		return false
	}
	for _, name := range []string{`"urn:ogc:def:crs:OGC:1.3:CRS84"`, `"urn:ogc:def:crs:OGC::CRS84"`, `"EPSG:4326"`, `"urn:ogc:def:crs:EPSG::4326"`} {
		if strings.Contains(string(text), name) {
			return true
		}
	}
	return false
}

// places checks every position in a tree of coordinates and counts them off left.
func places(tree any, left *int) error {
	list, ok := tree.([]any)
	if !ok {
		return fmt.Errorf("expected positions as lists of longitude and latitude, got %v", tree)
	}
	if len(list) == 0 {
		return nil
	}
	if _, deeper := list[0].([]any); deeper {
		for _, t := range list {
			if err := places(t, left); err != nil {
				return err
			}
		}
		return nil
	}
	if len(list) < 2 {
		return fmt.Errorf("expected a position of longitude and latitude, got %v", list)
	}
	if *left--; *left < 0 {
		return fmt.Errorf("expected at most %d points in a chart, got more: simplify the shore", mostPoints)
	}
	lon, ok1 := list[0].(float64)
	lat, ok2 := list[1].(float64)
	switch {
	case !ok1 || !ok2:
		return fmt.Errorf("expected a position of two numbers, got %v", list)
	case math.Abs(lon) > 1000 || math.Abs(lat) > 1000:
		return fmt.Errorf("expected longitude and latitude in degrees, got %v, which look like metres: export the chart as WGS84", list)
	case math.Abs(lon) > 180 || math.Abs(lat) > 90:
		return fmt.Errorf("expected longitude within 180 and then latitude within 90 degrees, got %v", list)
	}
	return nil
}

// reader collects what the features say.
type reader struct {
	out   boat.Water
	notes []string
}

func (p *reader) note(format string, a ...any) { p.notes = append(p.notes, fmt.Sprintf(format, a...)) }

func (p *reader) feature(f *geojson.Feature) error {
	kind, err := text(f, "kind")
	if err != nil {
		return err
	}
	switch g := f.Geometry.(type) {
	case orb.Polygon:
		return p.area(f, kind, g)
	case orb.MultiPolygon:
		for _, one := range g {
			if err := p.area(f, kind, one); err != nil {
				return err
			}
		}
		return nil
	case orb.Point:
		return p.mark(f, kind, g)
	case orb.MultiPoint:
		p.sailed(kind, g)
		return nil
	case orb.LineString:
		return p.bridge(f, kind, g)
	}
	p.note("a feature that is no polygon, point or line is left out%s", called(f))
	return nil
}

func (p *reader) mark(f *geojson.Feature, kind string, at orb.Point) error {
	name, err := text(f, "name")
	if err != nil {
		return err
	}
	switch kind {
	case "":
		kind = boat.Buoy
	case boat.Buoy, boat.Ramp:
	default:
		return fmt.Errorf("expected a point of kind mark or ramp, got %q", kind)
	}
	p.out.Marks = append(p.out.Marks, boat.Mark{Kind: kind, Name: name, At: boat.LonLat(at)})
	return nil
}

func (p *reader) sailed(kind string, places orb.MultiPoint) {
	if kind != "sailed" {
		p.note("several points in one feature of kind %q are left out: each mark is a feature of its own", kind)
		return
	}
	for _, at := range places {
		p.out.Sailed = append(p.out.Sailed, boat.LonLat(at))
	}
}

func (p *reader) bridge(f *geojson.Feature, kind string, line orb.LineString) error {
	if kind != "bridge" {
		p.note("a line of kind %q is left out: only a bridge is a line", kind)
		return nil
	}
	name, err := text(f, "name")
	if err != nil {
		return err
	}
	clearance, err := number(f, "clearance_m", limits{0, 200})
	if err != nil {
		return err
	}
	if len(line) < 2 {
		return fmt.Errorf("expected a bridge of two points or more, got %d", len(line))
	}
	if !clearance.OK {
		p.note("a bridge has no clearance_m: it is taken to stop every mast%s", called(f))
	}
	b := boat.Bridge{Name: name, ClearM: clearance}
	for _, at := range line {
		b.Line = append(b.Line, boat.LonLat(at))
	}
	p.out.Bridges = append(p.out.Bridges, b)
	return nil
}

func (p *reader) area(f *geojson.Feature, kind string, rings orb.Polygon) error {
	a := boat.Area{Kind: kind}
	switch kind {
	case "":
		a.Kind = boat.Land
	case boat.Land, boat.Shallow, boat.Open:
	default:
		return fmt.Errorf("expected a polygon of kind land, shallow or water, got %q", kind)
	}
	if len(p.out.Areas) >= mostAreas {
		return fmt.Errorf("expected at most %d areas in a chart, got more", mostAreas)
	}
	var err error
	if a.Name, err = text(f, "name"); err != nil {
		return err
	}
	if a.HeightM, err = number(f, "height_m", limits{0, mostHeight}); err != nil {
		return err
	}
	porosity, err := number(f, "porosity", limits{0, 0.99})
	if err != nil {
		return err
	}
	a.Porosity = porosity.Or(0)
	if err := p.rings(&a, rings); err != nil {
		return err
	}
	p.heightNotes(f, a)
	p.out.Areas = append(p.out.Areas, a)
	return nil
}

// heightNotes says what a chart leaves in doubt about the height of a shore.
func (p *reader) heightNotes(f *geojson.Feature, a boat.Area) {
	if a.HeightM.OK || a.Kind == boat.Shallow {
		return
	}
	for _, other := range []string{"height", "height_ft", "elevation"} {
		if _, has := f.Properties[other]; has {
			p.note("%q is not read: say height_m, in metres above the water%s", other, called(f))
		}
	}
	p.note("a shore has no height_m: nothing is said of the wind behind it%s", called(f))
}

func text(f *geojson.Feature, key string) (string, error) {
	v, has := f.Properties[key]
	if !has || v == nil {
		return "", nil
	}
	s, ok := v.(string)
	if !ok {
		return "", fmt.Errorf("expected %s to be a text, got %v", key, v)
	}
	return s, nil
}

type limits struct{ lo, hi float64 }

func number(f *geojson.Feature, key string, lim limits) (boat.Reading, error) {
	v, has := f.Properties[key]
	if !has || v == nil {
		return boat.Reading{}, nil
	}
	n, ok := v.(float64)
	if !ok {
		return boat.Reading{}, fmt.Errorf("expected %s to be a number without a unit, got %v", key, v)
	}
	if !(n >= lim.lo && n <= lim.hi) {
		return boat.Reading{}, fmt.Errorf("expected %s from %g to %g, got %g", key, lim.lo, lim.hi, n)
	}
	return boat.Some(n), nil
}
