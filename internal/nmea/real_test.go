package nmea

import (
	"bufio"
	"compress/gzip"
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"helmcue/internal/boat"
)

const realDir = "../../testdata/real"

// decode reads a whole log as a file.
func decode(t *testing.T, name string) ([]boat.Input, Count) {
	t.Helper()
	f, err := os.Open(filepath.Join(realDir, name))
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

// What becomes of each line of the recordings in testdata/real (see the README
// there for who made them). The numbers were found without this package, by
// counting with a script: lines whose XOR between $ and * is the two hexadecimal
// digits that end them, by address; and per type those with every field empty
// (grep -c '^$IIHDT,,T', '^$IIHDM,,M'). In the river's log 27 boot messages and
// 3,296 lines "!!VER" are no sentences; of 14,593 lines with a right checksum 3
// have no address ($SBT, $VWV, $VWV2), 9,770 are of types not used, and 23 RMC
// have lost two commas, which the checksum cannot see.
func TestRealRecordingsWhole(t *testing.T) {
	cases := []struct {
		name        string
		lines, kept int
		inputs      int // kept less ZDA, which tells only the time
		skipped     map[Reason]int
		from, to    boat.Time
	}{
		{"finland_motoring.nmea", 30464, 13328, 13328 - 1904,
			map[Reason]int{UnknownType: 6 * 1904, NoReadings: 3 * 1904},
			(10*3600 + 10*60) * 1000, (11*3600 + 14*60 + 58) * 1000},
		{"gulf_of_finland_2014-08-15_no_wind.nmea", 1783, 1783, 1783, nil,
			utc(2014, 8, 15, 19, 0, 0), utc(2014, 8, 15, 19, 9, 59)},
		{"neuse_river_2016-08-12.nmea", 19493, 14593 - 3 - 9770 - 23, 4797,
			map[Reason]int{UnknownType: 9770, BadField: 23},
			utc(2016, 8, 12, 19, 3, 15), utc(2016, 8, 12, 20, 46, 15)},
	}
	for _, c := range cases {
		in, count := decode(t, c.name)
		t.Log(c.name, count)
		if count.Lines != c.lines || count.Kept != c.kept || count.Kept+count.Total() != c.lines || len(in) != c.inputs {
			t.Errorf("%s: %d lines, %d kept, %d inputs; want %d, %d, %d",
				c.name, count.Lines, count.Kept, len(in), c.lines, c.kept, c.inputs)
		}
		for _, r := range []Reason{UnknownType, NoReadings, BadField, BadStatus, NoTime} {
			if count.Skipped[r] != c.skipped[r] {
				t.Errorf("%s: skipped %d for %q, want %d", c.name, count.Skipped[r], r, c.skipped[r])
			}
		}
		if in[0].T != c.from || in[len(in)-1].T != c.to {
			t.Errorf("%s: from %d to %d, want %d to %d", c.name, in[0].T, in[len(in)-1].T, c.from, c.to)
		}
	}
}

// The rows computed by others from the same recordings (the truth files beside
// them, to one decimal) hold what we read at their second.
func TestRealRecordingsAgreeWithTheirTruth(t *testing.T) {
	cases := []struct{ log, truth string }{
		{"finland_motoring.nmea", "finland_motoring_truth.csv.gz"},
		{"gulf_of_finland_2014-08-15_no_wind.nmea", "gulf_of_finland_truth.csv.gz"},
		{"neuse_river_2016-08-12.nmea", "neuse_river_truth.csv.gz"},
	}
	for _, c := range cases {
		in, _ := decode(t, c.log)
		checkTruth(t, c.log, in, truthRows(t, c.truth))
	}
}

// checkTruth looks, for each value of a row, for the same reading shortly before
// it: the rows stand at the times of position sentences and carry the other
// readings on, over up to 40 s where the source was silent. They also take the
// few RMC that lost their commas, so not every value can be heard. A reading the
// recording does not have at all (one has its wind removed) is not compared.
func checkTruth(t *testing.T, name string, in []boat.Input, rows map[int][]float64) {
	t.Helper()
	const columns = 5 // stw, sog, cog, awa, aws: columns 2 to 6 of the file
	var heard [columns]map[int][]float64
	for c := range heard {
		heard[c] = map[int][]float64{}
	}
	for _, i := range in {
		s, second := i.Sample, int(i.T%day/1000)
		for c, r := range []boat.Reading{s.WaterKn, s.SOGKn, s.COGDeg, s.AWADeg, s.AWSKn} {
			if r.OK {
				heard[c][second] = append(heard[c][second], r.Val)
			}
		}
	}
	n, missed := 0, 0
	for second, row := range rows {
		for c := range columns {
			if v := row[c+2]; !math.IsNaN(v) && len(heard[c]) > 0 {
				n++
				if !said(heard[c], second, v) {
					missed++
				}
			}
		}
	}
	t.Logf("%s: %d of %d values not heard", name, missed, n)
	if n < 1500 || missed*100 > n {
		t.Errorf("%s: %d of %d values of the truth file were not heard", name, missed, n)
	}
}

func said(heard map[int][]float64, second int, v float64) bool {
	for s := second - 40; s <= second+2; s++ {
		for _, h := range heard[s] {
			if math.Abs(h-v) <= 0.051 { // the file has one decimal
				return true
			}
		}
	}
	return false
}

func truthRows(t *testing.T, name string) map[int][]float64 {
	t.Helper()
	f, err := os.Open(filepath.Join(realDir, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	all, err := csv.NewReader(z).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	rows := map[int][]float64{}
	for _, rec := range all[1:] {
		row := make([]float64, len(rec))
		for i, s := range rec {
			row[i] = math.NaN()
			if s != "" {
				if row[i], err = strconv.ParseFloat(s, 64); err != nil {
					t.Fatal(err)
				}
			}
		}
		rows[int(row[0])] = row
	}
	return rows
}
