package nmea

import (
	"bufio"
	"os"
	"path/filepath"
	"testing"

	"helmcue/internal/boat"
)

// decode reads a whole log.
func decode(t testing.TB, name string) ([]boat.Input, Count) {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "real", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	d := NewDecoder()
	var out []boat.Input
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		out = append(out, d.Line(lines.Text(), 0)...)
	}
	if lines.Err() != nil {
		t.Fatal(lines.Err())
	}
	out = append(out, d.Flush()...)
	for i := 1; i < len(out); i++ {
		if out[i].T < out[i-1].T {
			t.Fatalf("%s: time goes back from %d to %d at input %d", name, out[i-1].T, out[i].T, i)
		}
	}
	return out, d.Count()
}
func TestX(t *testing.T) {
	for _, n := range []string{"finland_motoring.nmea", "gulf_of_finland_2014-08-15_no_wind.nmea", "neuse_river_2016-08-12.nmea"} {
		in, c := decode(t, n)
		t.Log(n, len(in), c, in[0].T, in[len(in)-1].T, c.Unused)
	}
}
