package track

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// column is what one column of a CSV holds.
type column struct {
	set func(*boat.Sample, float64)
	per float64 // of the column's unit in the one wanted
}

// IsCSVHeader says whether a line is the header of a track: a column for the
// time and at least one other that is known.
func IsCSVHeader(line string) bool {
	names := strings.Split(line, string(comma(line)))
	known := 0
	for _, n := range names {
		if columnOf(n).set != nil {
			known++
		}
	}
	return known > 0 && slices.ContainsFunc(names, isTime)
}

// comma finds what parts the columns: comma, semicolon or tab.
func comma(line string) rune {
	best := ','
	for _, c := range ";\t" {
		if strings.Count(line, string(c)) > strings.Count(line, string(best)) {
			best = c
		}
	}
	return best
}

// CSV reads a track from a table with a header row; columns may be parted by
// comma, semicolon or tab, stand in any order and be in either case.
//
// Time: t, time, timestamp, t_ms, t_s or t_utc_s: RFC 3339, or milliseconds or
// seconds since the epoch (numbers from 1e11 on are milliseconds; the suffixes
// decide where they stand).
// Position: lat or latitude, lon, lng or longitude; acc in metres.
// Speeds, in knots, or with _ms or _kmh as they say: sog or speed (over the
// ground), stw (through the water), aws (apparent wind), tws (true wind).
// Angles, degrees, with or without _deg: cog or course (true), hdg or heading
// (true; hdg_mag or heading_mag magnetic), heel or roll, pitch, awa, twa
// (starboard positive), twd, var (east positive); yaw in degrees a second.
//
// Empty cells are absent; a decimal comma is read where it does not part columns; other columns are passed over.
func CSV(r io.Reader) (*Log, error) {
	br := bufio.NewReader(r)
	head, err := br.ReadString('\n')
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("reading the header row: %w", err)
	}
	head = strings.TrimPrefix(strings.TrimRight(head, "\r\n"), "\ufeff")
	if !IsCSVHeader(head) {
		return nil, fmt.Errorf("expected a header row with t or time and at least one of lat, lon, sog, cog, hdg, got %.60q", head)
	}
	sep := comma(head)
	t := table{names: strings.Split(head, string(sep)), comma: sep != ','}
	rows := csv.NewReader(br)
	rows.Comma, rows.FieldsPerRecord, rows.ReuseRecord = sep, -1, true
	for {
		row, err := rows.Read()
		if errors.Is(err, io.EOF) {
			return &t.log, nil
		}
		var syntax *csv.ParseError
		switch {
		case errors.As(err, &syntax):
			t.log.Points++
			t.log.Broken++
		case err != nil:
			t.log.Cut = err
			return &t.log, nil
		default:
			t.row(row)
		}
	}
}

type table struct {
	adder
	names []string
	comma bool // numbers may have a decimal comma, since columns are parted otherwise
}

func (t *table) row(row []string) {
	var s boat.Sample
	var at boat.Time
	var lat, lon boat.Reading
	for i, cell := range row {
		if i >= len(t.names) || strings.TrimSpace(cell) == "" {
			continue
		}
		name := plain(t.names[i])
		if t.comma {
			cell = strings.Replace(cell, ",", ".", 1)
		}
		v, ok := number(cell)
		switch c := columnOf(name); {
		case isTime(name):
			at = cellTime(name, cell)
		case !ok || c.set == nil:
		case strings.HasPrefix(name, "lat"):
			lat = boat.Some(v)
		case strings.HasPrefix(name, "lon"), name == "lng":
			lon = boat.Some(v)
		default:
			c.set(&s, v/c.per)
		}
	}
	if lat.OK && lon.OK {
		position(&s, lat.Val, lon.Val)
	}
	t.add(at, s)
}

func plain(name string) string {
	return strings.TrimSuffix(strings.ToLower(strings.Trim(strings.TrimSpace(name), `"`)), "_deg")
}

func isTime(name string) bool {
	return slices.Contains([]string{"t", "time", "timestamp", "t_ms", "t_s", "t_utc_s", "time_ms", "time_s"}, plain(name))
}

func cellTime(name, cell string) boat.Time {
	v, ok := number(cell)
	if !ok {
		t, _ := when(cell)
		return t
	}
	ms := v
	if strings.HasSuffix(name, "_s") || !strings.HasSuffix(name, "_ms") && v < 1e11 {
		ms = v * 1000
	}
	if !(ms > 0 && ms < 32503680000000) { // the year 3000
		return 0
	}
	return boat.Time(0).After(ms / 1000)
}

// columnOf returns what the named column holds; its set is nil where unknown.
func columnOf(name string) column {
	name = plain(name)
	if c := angle(name); c != nil {
		return column{c, 1}
	}
	base, per := name, 1.0
	for _, u := range []struct {
		suffix string
		per    float64
	}{{"_kn", 1}, {"_kmh", 1.852}, {"_ms", geo.KnotMS}} {
		if b, ok := strings.CutSuffix(name, u.suffix); ok {
			base, per = b, u.per
		}
	}
	return column{speed(base), per}
}

func speed(name string) func(*boat.Sample, float64) {
	switch name {
	case "sog", "speed":
		return func(s *boat.Sample, v float64) { s.SOGKn = within(v, 0, maxKn) }
	case "stw":
		return func(s *boat.Sample, v float64) { s.WaterKn = within(v, 0, maxKn) }
	case "aws":
		return func(s *boat.Sample, v float64) { s.AWSKn = within(v, 0, 2*maxKn) }
	case "tws":
		return func(s *boat.Sample, v float64) { s.TWSKn = within(v, 0, 2*maxKn) }
	}
	return nil
}

func angle(name string) func(*boat.Sample, float64) {
	switch name {
	case "lat", "latitude", "lon", "lng", "longitude":
		return func(*boat.Sample, float64) {} // both together, see row
	case "acc":
		return func(s *boat.Sample, v float64) { s.AccM = within(v, 0, 100_000) }
	case "cog", "course":
		return func(s *boat.Sample, v float64) { s.COGDeg = circle(v) }
	case "hdg", "heading", "hdg_true", "heading_true":
		return func(s *boat.Sample, v float64) { heading(s, v, boat.True) }
	case "hdg_mag", "heading_mag":
		return func(s *boat.Sample, v float64) { heading(s, v, boat.Magnetic) }
	case "heel", "roll":
		return func(s *boat.Sample, v float64) { s.HeelDeg = within(v, -180, 180) }
	case "pitch":
		return func(s *boat.Sample, v float64) { s.PitchDeg = within(v, -90, 90) }
	case "yaw":
		return func(s *boat.Sample, v float64) { s.YawDps = within(v, -1000, 1000) }
	case "var":
		return func(s *boat.Sample, v float64) { s.VarDeg = within(v, -180, 180) }
	case "awa":
		return func(s *boat.Sample, v float64) { s.AWADeg = offBow(v) }
	case "twa":
		return func(s *boat.Sample, v float64) { s.TWADeg = offBow(v) }
	case "twd":
		return func(s *boat.Sample, v float64) { s.TWDDeg = circle(v) }
	}
	return nil
}

func heading(s *boat.Sample, v float64, ref boat.Ref) {
	if r := circle(v); r.OK && s.HeadingRef != boat.True { // true wins over magnetic
		s.HeadingDeg, s.HeadingRef = r, ref
	}
}

func offBow(v float64) boat.Reading {
	r := circle(v)
	if r.OK {
		r.Val = geo.Wrap180(r.Val)
	}
	return r
}
