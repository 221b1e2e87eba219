package replay

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"

	"helmcue/internal/boat"
)

// ParseWind reads "DIR,KN": degrees true the wind comes from, 0 to 360, and
// knots. The fix stands at the start of the log.
func ParseWind(text string) (boat.Input, error) {
	dir, kn, ok := strings.Cut(text, ",")
	d, err1 := number(dir, 0, 360)
	k, err2 := number(kn, 0, 80)
	if !ok || err1 != nil || err2 != nil {
		return boat.Input{}, fmt.Errorf("expected --wind DIR,KN (0 to 360 degrees true, 0 to 80 knots), got %q", text)
	}
	return boat.Input{Kind: boat.WindFixIn, Source: boat.FromCommand, WindFix: &boat.WindFix{
		DirDeg: boat.Some(d), Ref: boat.True, Kn: boat.Some(k), Method: "hand"}}, nil
}

// ReadWindLog reads a CSV of wind fixes over time with the header
// t,dir_deg,sd_deg,kn,method: t in milliseconds since the epoch or RFC 3339,
// directions true. Empty fields are absent. Rows must ascend in time.
func ReadWindLog(r io.Reader) ([]boat.Input, error) {
	rows := csv.NewReader(r)
	rows.FieldsPerRecord = -1 // the header's own complaint says more than the reader's
	rows.TrimLeadingSpace = true
	head, err := rows.Read()
	if err != nil {
		return nil, fmt.Errorf("wind log: expected a header t,dir_deg,sd_deg,kn,method: %v", err)
	}
	if got := strings.Join(head, ","); got != "t,dir_deg,sd_deg,kn,method" {
		return nil, fmt.Errorf("wind log: expected the header t,dir_deg,sd_deg,kn,method, got %q", got)
	}
	rows.FieldsPerRecord = 5
	var out []boat.Input
	for {
		row, err := rows.Read()
		if errors.Is(err, io.EOF) {
			return out, nil
		}
		line, _ := rows.FieldPos(0)
		if err != nil {
			return nil, fmt.Errorf("wind log: %v", err)
		}
		in, err := windRow(row)
		if err != nil {
			return nil, fmt.Errorf("wind log line %d: %w", line, err)
		}
		if len(out) > 0 && in.T < out[len(out)-1].T {
			return nil, fmt.Errorf("wind log line %d: expected times to ascend, %s is before the row above", line, row[0])
		}
		out = append(out, in)
	}
}

func windRow(row []string) (boat.Input, error) {
	t, err := parseTime(row[0])
	if err != nil {
		return boat.Input{}, err
	}
	fix := boat.WindFix{Ref: boat.True, Method: row[4]}
	if fix.Method == "" {
		fix.Method = "hand"
	}
	for _, f := range []struct {
		to     *boat.Reading
		text   string
		name   string
		lo, hi float64
	}{
		{&fix.DirDeg, row[1], "dir_deg", 0, 360},
		{&fix.SDDeg, row[2], "sd_deg", 0.1, 180},
		{&fix.Kn, row[3], "kn", 0, 80},
	} {
		if strings.TrimSpace(f.text) == "" {
			continue
		}
		v, err := number(f.text, f.lo, f.hi)
		if err != nil {
			return boat.Input{}, fmt.Errorf("%s: %w", f.name, err)
		}
		*f.to = boat.Some(v)
	}
	return boat.Input{T: t, Kind: boat.WindFixIn, Source: boat.FromCommand, WindFix: &fix}, nil
}

func parseTime(text string) (boat.Time, error) {
	text = strings.TrimSpace(text)
	if ms, err := strconv.ParseFloat(text, 64); err == nil && !math.IsNaN(ms) && math.Abs(ms) < 1e15 {
		return boat.Time(math.Round(ms)), nil
	}
	at, err := time.Parse(time.RFC3339Nano, text)
	if err != nil {
		return 0, fmt.Errorf("t: expected milliseconds since the epoch or a time such as 2030-06-01T10:00:00Z, got %q", text)
	}
	return boat.Time(at.UnixMilli()), nil
}

func number(text string, lo, hi float64) (float64, error) {
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil || math.IsNaN(v) || v < lo || v > hi {
		return 0, fmt.Errorf("expected a number from %g to %g, got %q", lo, hi, text)
	}
	return v, nil
}
