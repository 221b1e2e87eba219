package track

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// GPX reads the track points of a GPX 1.0 or 1.1 file. Speed (metres a second)
// and course (degrees true) are taken where a point has elements of that name,
// as GPX 1.0 defines them and extensions of 1.1 commonly call them. It streams,
// so that a file cut off keeps what came before. An error means no track at all.
func GPX(r io.Reader) (*Log, error) {
	var a adder
	d := xml.NewDecoder(r)
	d.Strict = true
	seen := false
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			a.log.Cut = err
			break
		}
		start, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		seen = seen || start.Name.Local == "gpx"
		if start.Name.Local != "trkpt" {
			continue
		}
		if err := a.point(d, start); err != nil {
			a.log.Points++
			a.log.Broken++
			a.log.Cut = err
			break
		}
	}
	if !seen {
		return nil, fmt.Errorf("expected a GPX file, found no gpx element")
	}
	if a.log.Points == 0 {
		return nil, fmt.Errorf("expected track points in the GPX file, found none; routes and waypoints are no track")
	}
	return &a.log, nil
}

// point reads one trkpt up to its end.
func (a *adder) point(d *xml.Decoder, start xml.StartElement) error {
	var p struct {
		Time   string `xml:"time"`
		Speed  string `xml:"speed"`
		Course string `xml:"course"`
		Ext    struct {
			Inner []byte `xml:",innerxml"`
		} `xml:"extensions"`
	}
	if err := d.DecodeElement(&p, &start); err != nil {
		return err
	}
	var s boat.Sample
	lat, err1 := strconv.ParseFloat(attr(start, "lat"), 64)
	lon, err2 := strconv.ParseFloat(attr(start, "lon"), 64)
	if err1 == nil && err2 == nil {
		position(&s, lat, lon)
	}
	ext := extensions(p.Ext.Inner)
	if v, ok := number(first(p.Speed, ext["speed"])); ok {
		s.SOGKn = within(v/geo.KnotMS, 0, maxKn)
	}
	if v, ok := number(first(p.Course, ext["course"])); ok {
		s.COGDeg = circle(v)
	}
	t, _ := when(p.Time)
	a.add(t, s)
	return nil
}

func attr(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return strings.TrimSpace(a.Value)
		}
	}
	return ""
}

// extensions returns the text of every element inside, by local name.
func extensions(inner []byte) map[string]string {
	out := map[string]string{}
	d := xml.NewDecoder(strings.NewReader(string(inner)))
	d.Strict = false // prefixes are bound outside
	name := ""
	for {
		tok, err := d.Token()
		if err != nil {
			return out
		}
		switch t := tok.(type) {
		case xml.StartElement:
			name = t.Name.Local
		case xml.EndElement:
			name = ""
		case xml.CharData:
			if name != "" {
				out[name] += string(t)
			}
		}
	}
}

func first(a, b string) string {
	if strings.TrimSpace(a) != "" {
		return a
	}
	return b
}

func number(s string) (float64, bool) {
	v, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	return v, err == nil
}

// when reads a time as RFC 3339, or without its zone, which then is UTC.
func when(s string) (boat.Time, bool) {
	s = strings.TrimSpace(s)
	for _, form := range []string{time.RFC3339Nano, "2006-01-02T15:04:05.999999999", "2006-01-02 15:04:05.999999999Z07:00", "2006-01-02 15:04:05.999999999"} {
		if t, err := time.Parse(form, s); err == nil && t.Year() >= 1970 && t.Year() < 3000 {
			return boat.Time(t.UnixMilli()), true
		}
	}
	return 0, false
}
