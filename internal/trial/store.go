package trial

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// Store writes the rows as Table does, under lines that say how they were made and
// what the columns are.
func Store(w io.Writer, p Plan, rows []Row) error {
	_, err := fmt.Fprintf(w, "# How well the wind is found: %d seeds of each scenario, %d minutes each. Made by make eval.\n", p.Seeds, p.Minutes)
	if err != nil {
		return err
	}
	if err := Legend(w); err != nil {
		return err
	}
	return Table(w, rows)
}

// A Line is one row of a stored table.
type Line struct {
	Scenario, Variant string
	Figures           []string // in the order of the columns
}

// Figure returns the first figure under a column's name; ok is false where there is none.
func (l Line) Figure(name string) (v float64, ok bool) {
	for i, c := range columns() {
		if c.name == name && i < len(l.Figures) {
			v, err := strconv.ParseFloat(l.Figures[i], 64)
			return v, err == nil
		}
	}
	return 0, false
}

// ReadStored reads what Store wrote, the line of names left out. A line that has not
// a figure, or "-", or one part of another, under each column is an error.
func ReadStored(r io.Reader) ([]Line, error) {
	var out []Line
	s := bufio.NewScanner(r)
	for n := 1; s.Scan(); n++ {
		f := strings.Fields(s.Text())
		if len(f) == 0 || strings.HasPrefix(f[0], "#") || f[0] == "scenario" {
			continue
		}
		if want := len(columns()) + 2; len(f) != want {
			return nil, fmt.Errorf("line %d: expected %d fields, got %d", n, want, len(f))
		}
		for i, v := range f[2:] {
			if !wellFormed(v) {
				return nil, fmt.Errorf("line %d: expected a number under %s, got %q", n, columns()[i].name, v)
			}
		}
		out = append(out, Line{f[0], f[1], f[2:]})
	}
	return out, s.Err()
}

func wellFormed(v string) bool {
	if v == nothing {
		return true
	}
	for _, part := range strings.SplitN(v, "/", 2) {
		if _, err := strconv.ParseFloat(part, 64); err != nil {
			return false
		}
	}
	return true
}
