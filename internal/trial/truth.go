package trial

import (
	"bufio"
	"compress/gzip"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"helmcue/internal/geo"
)

// known is one row of a truth file: how the wind and the boat really were. Any but
// the time may be NaN.
type known struct {
	s                  float64 // since the epoch, or of the day
	twd, twa, sog, cog float64
	mode               string // empty where the file does not say
}

const daySeconds = 86400

// readTruth reads a truth file, plain or gzipped: a CSV whose heading has t
// (milliseconds since the epoch) or t_utc_s (seconds of the day, or since the
// epoch), and twd, or twa and cog from which it follows: degrees true. sog or stw
// (knots), cog and mode are used where they are there; an empty field is unknown.
// Other columns are let be. Rows must ascend in time, save that a day may end.
func readTruth(r io.Reader) ([]known, error) {
	r, err := unzipped(r)
	if err != nil {
		return nil, err
	}
	rows := csv.NewReader(r)
	head, err := rows.Read()
	if err != nil {
		return nil, fmt.Errorf("truth: expected a CSV with a heading: %v", err)
	}
	col, err := findColumns(head)
	if err != nil {
		return nil, err
	}
	var out []known
	for {
		row, err := rows.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, fmt.Errorf("truth: %v", err)
		}
		k, err := col.row(row)
		if err != nil {
			line, _ := rows.FieldPos(0)
			return nil, fmt.Errorf("truth line %d: %w", line, err)
		}
		if n := len(out); n > 0 && k.s < out[n-1].s {
			k.s += daySeconds * math.Ceil((out[n-1].s-k.s)/daySeconds)
		}
		out = append(out, k)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("truth: expected rows under the heading, got none")
	}
	return out, nil
}

func unzipped(r io.Reader) (io.Reader, error) {
	b := bufio.NewReader(r)
	if magic, _ := b.Peek(2); len(magic) == 2 && magic[0] == 0x1f && magic[1] == 0x8b {
		z, err := gzip.NewReader(b)
		if err != nil {
			return nil, fmt.Errorf("truth: it begins as a gzip file and is none: %v", err)
		}
		return z, nil
	}
	return b, nil
}

// columnsOf says where in a row each column stands; -1: nowhere.
type columnsOf struct {
	t, twd, twa, sog, cog, mode int
	perS                        float64
}

func findColumns(head []string) (columnsOf, error) {
	at := func(names ...string) int {
		for _, n := range names {
			if i := slices.Index(head, n); i >= 0 {
				return i
			}
		}
		return -1
	}
	c := columnsOf{t: at("t"), twd: at("twd"), twa: at("twa"), sog: at("stw", "sog"), cog: at("cog"), mode: at("mode"), perS: 1000}
	if c.t < 0 {
		c.t, c.perS = at("t_utc_s"), 1
	}
	if c.t < 0 || c.twd < 0 && (c.twa < 0 || c.cog < 0) {
		return c, fmt.Errorf("truth: expected columns t or t_utc_s, and twd or both twa and cog, got %q", strings.Join(head, ","))
	}
	return c, nil
}

func (c columnsOf) row(row []string) (known, error) {
	var first error
	get := func(i int) float64 {
		if i < 0 || row[i] == "" {
			return math.NaN()
		}
		v, err := strconv.ParseFloat(row[i], 64)
		if (err != nil || math.IsInf(v, 0)) && first == nil {
			first = fmt.Errorf("expected a number, got %q", row[i])
		}
		return v
	}
	k := known{s: get(c.t) / c.perS, twd: get(c.twd), twa: get(c.twa), sog: get(c.sog), cog: get(c.cog)}
	if c.mode >= 0 {
		k.mode = row[c.mode]
	}
	if first == nil && math.IsNaN(k.s) {
		first = fmt.Errorf("expected a time, got none")
	}
	if math.IsNaN(k.twd) && !math.IsNaN(k.twa) && k.sog >= leastSailKn {
		k.twd = geo.Wrap360(k.cog + k.twa)
	}
	return k, first
}

// smoothed replaces each direction by its mean over a minute round it.
func smoothed(rows []known) []known {
	out := slices.Clone(rows)
	lo, hi := 0, 0
	for i, r := range rows {
		for rows[lo].s < r.s-30 {
			lo++
		}
		for hi < len(rows) && rows[hi].s <= r.s+30 {
			hi++
		}
		var d []float64
		for _, k := range rows[lo:hi] {
			if !math.IsNaN(k.twd) {
				d = append(d, k.twd)
			}
		}
		out[i].twd = math.NaN()
		if mean, r, ok := geo.Mean(d); ok && r > 0.8 {
			out[i].twd = mean
		}
	}
	return out
}
