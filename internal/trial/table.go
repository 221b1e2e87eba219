package trial

import (
	"fmt"
	"io"
	"math"
	"strings"
)

// column is one figure of the table.
type column struct {
	name  string
	about string
	text  func(*Score) string
}

func columns() []column {
	return []column{
		{"known", "share of the time after the second tack in which the wind was known, %", func(s *Score) string { return percent(s.Known, s.After) }},
		{"rms", "error of the direction then, degrees, root of the mean square", func(s *Score) string { return number(s.Err.RMS(), 1) }},
		{"med", "its median", func(s *Score) string { return number(s.Err.Quantile(0.5), 1) }},
		{"p90", "and what nine of ten do not exceed", func(s *Score) string { return number(s.Err.Quantile(0.9), 1) }},
		{"slow", "the same as rms, against the mean wind of the half minute", func(s *Score) string { return number(s.Slow.RMS(), 1) }},
		{"xbound", "that over the bound of these sessions", func(s *Score) string { return number(s.Slow.RMS()/s.BoundRMS(), 2) }},
		{"beat", "slow while she beats", func(s *Score) string { return number(s.Beat.RMS(), 1) }},
		{"xbeat", "that over the bound", func(s *Score) string { return number(s.Beat.RMS()/s.BeatBoundRMS(), 2) }},
		{"inside", "share of the time known in which the truth lay in the stated 90 % interval, %", func(s *Score) string { return percent(s.Inside, s.Known) }},
		{"wrong", "share of the time known in which the wind came from the other side, %", func(s *Score) string { return percent(s.Wrong, s.Claimed) }},
		{"blind", "seconds known before the first turn with no heel and no fix, for a session", func(s *Score) string { return number(float64(s.OneTack)/float64(s.Sessions), 0) }},
		{"lock", "seconds of sailing until it was first known, median", func(s *Score) string { return number(median(s.Lock), 0) }},
		{"never", "sessions in which it never was", func(s *Score) string { return fmt.Sprint(s.Never) }},
		{"false", "shifts called that were not there, an hour", func(s *Score) string { return number(float64(s.False)/s.Hours, 2) }},
		{"delay", "seconds until a lasting shift was called, median", func(s *Score) string { return number(median(s.Delays), 0) }},
		{"heard", "lasting shifts called, of those there were", func(s *Score) string { return fmt.Sprintf("%d/%d", len(s.Delays), s.Shifts) }},
		{"motor", "coaching cues while she motored", func(s *Score) string { return fmt.Sprint(s.Motor) }},
	}
}

// nothing stands where there is no figure.
const nothing = "-"

func percent(n, of int) string {
	if of == 0 {
		return nothing
	}
	return number(100*float64(n)/float64(of), 1)
}

func number(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nothing
	}
	return fmt.Sprintf("%.*f", decimals, v)
}

// Legend says what the columns are, one a line, each after "# ".
func Legend(w io.Writer) error {
	for _, c := range columns() {
		if _, err := fmt.Fprintf(w, "# %-7s %s\n", c.name, c.about); err != nil {
			return err
		}
	}
	return nil
}

// Table writes the rows as plain columns, one line a row, under a line of names.
// A figure that does not exist is "-".
func Table(w io.Writer, rows []Row) error {
	width := len("scenario")
	for _, r := range rows {
		width = max(width, len(r.Scenario))
	}
	line := fmt.Sprintf("%-*s %-13s", width, "scenario", "variant")
	for _, c := range columns() {
		line += fmt.Sprintf(" %6s", c.name)
	}
	lines := []string{line}
	for _, r := range rows {
		line := fmt.Sprintf("%-*s %-13s", width, r.Scenario, r.Variant)
		for _, c := range columns() {
			line += fmt.Sprintf(" %6s", c.text(r.Score))
		}
		lines = append(lines, line)
	}
	_, err := io.WriteString(w, strings.Join(lines, "\n")+"\n")
	return err
}

// Totals adds up the rows of each variant, in the order they first come.
func Totals(rows []Row) []Row {
	var out []Row
	for _, r := range rows {
		k := 0
		for k < len(out) && out[k].Variant != r.Variant {
			k++
		}
		if k == len(out) {
			out = append(out, Row{"all", r.Variant, &Score{}})
		}
		out[k].Score.Merge(r.Score)
	}
	return out
}
