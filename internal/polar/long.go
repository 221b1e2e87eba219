package polar

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"helmcue/internal/boat"
)

// entry is one line of the long form.
type entry struct {
	line
	windKn, deg, kn float64
}

func readLong(lines []line, header string) (boat.PolarTable, error) {
	var t boat.PolarTable
	if header != longHeader {
		return t, fmt.Errorf("line %d: expected the header %s, or a first cell and then wind speeds, got %.80q", lines[0].n, longHeader, header)
	}
	var all []entry
	for _, l := range lines[1:] {
		if len(l.cells) != 3 {
			return t, fmt.Errorf("line %d: expected 3 cells, %s, got %d", l.n, longHeader, len(l.cells))
		}
		e := entry{line: l}
		for i, to := range []*float64{&e.windKn, &e.deg, &e.kn} {
			v, err := number(l, i)
			if err != nil {
				return t, err
			}
			*to = v
		}
		all = append(all, e)
	}
	if len(all) == 0 {
		return t, fmt.Errorf("expected lines of numbers after the header, got none")
	}
	if err := sorted(all); err != nil {
		return t, err
	}
	return gather(all)
}

// sorted checks the order: by wind and then angle, or by angle and then wind,
// whichever the first two lines show.
func sorted(all []entry) error {
	byAngle := len(all) > 1 && all[0].deg == all[1].deg && all[0].windKn != all[1].windKn
	order := "by wind speed and within it by angle"
	if byAngle {
		order = "by angle and within it by wind speed"
	}
	for i := 1; i < len(all); i++ {
		a, b := all[i-1], all[i]
		outer, inner := b.windKn-a.windKn, b.deg-a.deg
		if byAngle {
			outer, inner = inner, outer
		}
		switch {
		case outer == 0 && inner == 0:
			return fmt.Errorf("line %d: %v knots at %v degrees stands twice: keep one", b.n, b.windKn, b.deg)
		case outer < 0 || outer == 0 && inner < 0:
			return fmt.Errorf("line %d: %v knots at %v degrees is out of order: sort the lines %s", b.n, b.windKn, b.deg, order)
		}
	}
	return nil
}

// gather makes the table of sorted entries, each pair once.
func gather(all []entry) (boat.PolarTable, error) {
	var t boat.PolarTable
	for _, e := range all {
		t.TWSKn, t.TWADeg = insert(t.TWSKn, e.windKn), insert(t.TWADeg, e.deg)
		if len(t.TWSKn) > mostCells || len(t.TWADeg) > mostCells {
			return t, fmt.Errorf("line %d: expected at most %d wind speeds and as many angles", e.n, mostCells)
		}
	}
	filled := make([][]bool, len(t.TWSKn))
	for i := range t.TWSKn {
		t.SpeedKn = append(t.SpeedKn, make([]float64, len(t.TWADeg)))
		filled[i] = make([]bool, len(t.TWADeg))
	}
	for _, e := range all {
		i, _ := slices.BinarySearch(t.TWSKn, e.windKn)
		j, _ := slices.BinarySearch(t.TWADeg, e.deg)
		t.SpeedKn[i][j], filled[i][j] = e.kn, true
	}
	for i := range filled {
		for j, ok := range filled[i] {
			if !ok {
				return t, fmt.Errorf("no line for %v knots at %v degrees: expected every wind speed with every angle", t.TWSKn[i], t.TWADeg[j])
			}
		}
	}
	return t, nil
}

// insert puts v into ascending xs unless it is there.
func insert(xs []float64, v float64) []float64 {
	i, found := slices.BinarySearch(xs, v)
	if found {
		return xs
	}
	return slices.Insert(xs, i, v)
}

// Write writes the table in the long form. What Read reads of it is the same
// table, name apart.
func Write(w io.Writer, t boat.PolarTable) error {
	if err := check(t); err != nil {
		return err
	}
	var b strings.Builder
	b.WriteString(longHeader + "\n")
	for i, wind := range t.TWSKn {
		for j, deg := range t.TWADeg {
			b.WriteString(plain(wind) + "," + plain(deg) + "," + plain(t.SpeedKn[i][j]) + "\n")
		}
	}
	if _, err := io.WriteString(w, b.String()); err != nil {
		return fmt.Errorf("writing the polar: %w", err)
	}
	return nil
}

// plain writes a number so that reading gives the same one back.
func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
