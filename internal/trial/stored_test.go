package trial

import (
	"context"
	"fmt"
	"math"
	"os"
	"testing"
)

const storedPath = "../../testdata/eval/wind.txt"

func storedLines(t *testing.T) []Line {
	t.Helper()
	f, err := os.Open(storedPath)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := ReadStored(f)
	if err != nil {
		t.Fatalf("%s: %v: make eval writes it anew", storedPath, err)
	}
	return lines
}

// The stored table has every scenario in every variant, in order, then the sums and
// the recordings, and nothing else.
func TestStoredTableIsWhole(t *testing.T) {
	var want []string
	for _, sc := range scenarios() {
		for _, v := range sc.variants() {
			want = append(want, sc.name+" "+v.Name)
		}
	}
	for _, v := range Variants() {
		want = append(want, "all "+v.Name)
	}
	pairs, err := recordings("../../testdata/real")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range pairs {
		want = append(want, p.name()+" "+recordedVariant)
	}
	lines := storedLines(t)
	for i, w := range want {
		if i >= len(lines) {
			t.Fatalf("%q and what follows is missing: make eval writes the table anew", w)
		}
		if got := lines[i].Scenario + " " + lines[i].Variant; got != w {
			t.Fatalf("line %d is %q, expected %q: make eval writes the table anew", i+1, got, w)
		}
	}
	if len(lines) != len(want) {
		t.Errorf("%d lines, expected %d", len(lines), len(want))
	}
}

// A few seeds of the first scenario come near what its stored line claims of all
// twenty: as near as so few can be expected to, so that a small change does not ask
// for a new table and a large one does.
func TestStoredTableIsOfThisEngine(t *testing.T) {
	t.Parallel()
	const seeds = 3
	line := storedLines(t)[0]
	rows, err := Run(context.Background(), Plan{Seeds: seeds, Minutes: 25, Names: []string{line.Scenario}})
	if err != nil {
		t.Fatal(err)
	}
	s := rows[0].Score
	for _, c := range []struct {
		name          string
		got           float64
		factor, least float64
	}{
		{"known", 100 * float64(s.Known) / float64(s.After), 1.25, 0},
		{"rms", s.Err.RMS(), 1.6, 1},
		{"inside", 100 * float64(s.Inside) / float64(s.Known), 1.25, 0},
	} {
		want, ok := line.Figure(c.name)
		if !ok || math.Abs(c.got-want) > c.least && (c.got > c.factor*want || want > c.factor*c.got) {
			t.Errorf("%s: %d seeds give %s, the table %s: make eval writes it anew", c.name, seeds, number(c.got, 1), fmt.Sprint(want))
		}
	}
}
