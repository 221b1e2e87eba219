package polar

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"helmcue/internal/boat"
)

// longHeader is the header of the long form.
const longHeader = "tws_kn,twa_deg,speed_kn"

// longestLine is the most bytes a line of a table may have.
const longestLine = 64 * 1024

// Read reads a table from text in one of two forms and checks it as New does.
// Wind and boat speeds are knots, angles degrees off the wind.
//
// Long: the header tws_kn,twa_deg,speed_kn, then one boat speed a line, sorted by
// wind and within it by angle, or by angle and within it by wind, with every pair
// there.
//
// Matrix: a first line with anything in its first cell and then the wind speeds,
// ascending; then a line for each angle, ascending: the angle and a boat speed for
// each wind.
//
// Cells are parted by comma, semicolon, tab or blanks, whichever the first line
// uses in the order semicolon, tab, comma, blanks; numbers have a decimal point.
// Empty lines and lines that begin with # are skipped. Errors begin with name and
// say the line.
func Read(r io.Reader, name string) (boat.PolarTable, error) {
	lines, err := split(r)
	if err == nil && len(lines) == 0 {
		err = fmt.Errorf("the file is empty: expected the header %s or wind speeds along the top", longHeader)
	}
	if err != nil {
		return boat.PolarTable{}, fmt.Errorf("polar %s: %w", name, err)
	}
	var t boat.PolarTable
	if onlyWords(lines[0].cells) {
		t, err = readLong(lines, strings.ToLower(strings.Join(lines[0].cells, ",")))
	} else {
		t, err = readMatrix(lines)
	}
	if err == nil {
		err = check(t)
	}
	if err != nil {
		return boat.PolarTable{}, fmt.Errorf("polar %s: %w", name, err)
	}
	t.Name = name
	return t, nil
}

// onlyWords says whether no cell after the first is a number, as in the header of
// the long form.
func onlyWords(cells []string) bool {
	for _, c := range cells[1:] {
		if _, err := strconv.ParseFloat(c, 64); err == nil {
			return false
		}
	}
	return len(cells) > 1
}

// line is one line's cells, trimmed, with its number from 1.
type line struct {
	n     int
	cells []string
}

func split(r io.Reader) ([]line, error) {
	var out []line
	var parted func(string) []string
	in := bufio.NewScanner(r)
	in.Buffer(nil, longestLine)
	for n := 1; in.Scan(); n++ {
		text := strings.TrimRight(in.Text(), " \r")
		if n == 1 {
			text = strings.TrimPrefix(text, "\ufeff")
		}
		if strings.TrimSpace(text) == "" || strings.HasPrefix(text, "#") {
			continue
		}
		if parted == nil {
			parted = parter(text)
		}
		if len(out) > mostCells*mostCells {
			return nil, fmt.Errorf("line %d: expected at most %d lines", n, mostCells*mostCells)
		}
		out = append(out, line{n, parted(text)})
	}
	if errors.Is(in.Err(), bufio.ErrTooLong) {
		return nil, fmt.Errorf("a line is longer than %d bytes: is this a table", longestLine)
	}
	return out, in.Err()
}

// parter returns how to part lines, told from the first. One empty cell at the
// end, which spreadsheets leave, is dropped.
func parter(first string) func(string) []string {
	for _, sep := range []string{";", "\t", ","} {
		if !strings.Contains(first, sep) {
			continue
		}
		return func(s string) []string {
			cells := strings.Split(s, sep)
			for i := range cells {
				cells[i] = strings.Trim(strings.TrimSpace(cells[i]), `"`)
			}
			if n := len(cells); n > 1 && cells[n-1] == "" {
				cells = cells[:n-1]
			}
			return cells
		}
	}
	return strings.Fields
}

func readMatrix(lines []line) (boat.PolarTable, error) {
	var t boat.PolarTable
	top := lines[0]
	if unit := metric(strings.Join(top.cells, " ")); unit != "" {
		return t, fmt.Errorf("line %d: expected wind speeds in knots, the first line says %s", top.n, unit)
	}
	for i := 1; i < len(top.cells); i++ {
		w, err := number(top, i)
		if err == nil {
			err = next(top, "wind speed", t.TWSKn, w)
		}
		if err != nil {
			return t, err
		}
		t.TWSKn = append(t.TWSKn, w)
	}
	if len(t.TWSKn) == 0 {
		return t, fmt.Errorf("line %d: expected a first cell and then wind speeds in knots, got %d cell", top.n, len(top.cells))
	}
	t.SpeedKn = make([][]float64, len(t.TWSKn))
	for _, l := range lines[1:] {
		if len(l.cells) != len(top.cells) {
			return t, fmt.Errorf("line %d: expected %d cells, an angle and a boat speed for each wind, got %d", l.n, len(top.cells), len(l.cells))
		}
		if err := matrixRow(&t, l); err != nil {
			return t, err
		}
	}
	return t, nil
}

// matrixRow adds one angle to the table.
func matrixRow(t *boat.PolarTable, l line) error {
	a, err := number(l, 0)
	if err == nil {
		err = next(l, "angle", t.TWADeg, a)
	}
	if err != nil {
		return err
	}
	t.TWADeg = append(t.TWADeg, a)
	for i := range t.SpeedKn {
		v, err := number(l, i+1)
		if err != nil {
			return err
		}
		t.SpeedKn[i] = append(t.SpeedKn[i], v)
	}
	return nil
}

// number reads a cell that must hold a number that is not negative.
func number(l line, i int) (float64, error) {
	at := fmt.Sprintf("line %d, cell %d", l.n, i+1)
	text := l.cells[i]
	if text == "" {
		return 0, fmt.Errorf("%s: expected a number, the cell is empty", at)
	}
	v, err := strconv.ParseFloat(text, 64)
	switch {
	case err != nil && strings.Contains(text, ","):
		return 0, fmt.Errorf("%s: expected a number with a decimal point, got %.40q", at, text)
	case err != nil || math.IsNaN(v) || math.IsInf(v, 0) || strings.ContainsAny(text, "xXpP_"):
		return 0, fmt.Errorf("%s: expected a number, got %.40q", at, text)
	case v < 0:
		return 0, fmt.Errorf("%s: expected a number from 0 up, got %.40q", at, text)
	}
	return v + 0, nil // plus 0 turns minus zero into zero
}

// next checks that v may follow the values before it.
func next(l line, what string, before []float64, v float64) error {
	if len(before) == 0 {
		return nil
	}
	switch last := before[len(before)-1]; {
	case v == last:
		return fmt.Errorf("line %d: %s %v stands twice: keep one", l.n, what, v)
	case v < last:
		return fmt.Errorf("line %d: %s %v comes after %v: sort them ascending", l.n, what, v, last)
	}
	return nil
}

// metric returns the unit other than knots that a header names.
func metric(header string) string {
	h := strings.ToLower(header)
	for _, unit := range []string{"m/s", "mps", "_ms", "km/h", "kmh", "kph", "mph"} {
		if strings.Contains(h, unit) {
			return unit
		}
	}
	return ""
}
