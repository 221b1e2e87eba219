package trial

import (
	"bytes"
	"compress/gzip"
	"math"
	"strings"
	"testing"
)

func TestReadTruth(t *testing.T) {
	rows, err := readTruth(strings.NewReader("t_utc_s,stw,cog,twa,twd\n86398,5,350,40,\n86399,0.5,350,40,\n1,,,,12\n"))
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 3 || rows[0].twd != 30 || !math.IsNaN(rows[1].twd) || rows[2].twd != 12 || rows[2].s != 86401 {
		t.Errorf("got %+v", rows)
	}
	if s, m := rows[0].sails(); !s || m {
		t.Errorf("at five knots and 40° off the wind: sails %v, motors %v", s, m)
	}
	var z bytes.Buffer
	w := gzip.NewWriter(&z)
	w.Write([]byte("t,twd,mode\n1000,90,motoring\n"))
	w.Close()
	rows, err = readTruth(&z)
	if err != nil || rows[0].s != 1 {
		t.Fatalf("gzipped: %+v, %v", rows, err)
	}
	if s, m := rows[0].sails(); s || !m {
		t.Errorf("motoring by its mode: sails %v, motors %v", s, m)
	}
}

func TestBadTruthIsRefused(t *testing.T) {
	for _, c := range []struct{ text, says string }{
		{"", "expected a CSV"},
		{"t,tws\n1,2\n", "expected columns"},
		{"twd\n2\n", "expected columns"},
		{"t,twd\n", "expected rows"},
		{"t,twd\n1,north\n", "line 2"},
		{"t,twd\n,5\n", "expected a time"},
		{"t,twd\n1,2,3\n", "wrong number"},
		{"t,twd\n1,inf\n", "expected a number"},
		{"\x1f\x8bxx", "gzip"},
	} {
		if _, err := readTruth(strings.NewReader(c.text)); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q: expected an error that says %q, got %v", c.text, c.says, err)
		}
	}
}

func FuzzReadTruth(f *testing.F) {
	f.Add("t_utc_s,stw,cog,twa,twd\n86398,5,350,40,\n1,,,,12\n")
	f.Add("t,twd,mode\n1000,90,motoring\n")
	f.Fuzz(func(t *testing.T, text string) {
		rows, err := readTruth(strings.NewReader(text))
		if err == nil && len(rows) == 0 {
			t.Error("no rows and no error")
		}
		for i, r := range rows {
			if math.IsNaN(r.s) || i > 0 && r.s < rows[i-1].s {
				t.Errorf("row %d is at %v", i, r.s)
			}
		}
	})
}

// The mean over a minute takes directions round north for what they are.
func TestSmoothed(t *testing.T) {
	var rows []known
	for i := range 100 {
		twd := 355.0
		if i%2 == 0 {
			twd = 5
		}
		rows = append(rows, known{s: float64(i), twd: twd})
	}
	rows[50].twd = math.NaN()
	for i, r := range smoothed(rows)[30:70] {
		if d := math.Min(r.twd, 360-r.twd); !(d < 0.5) {
			t.Errorf("row %d: %v", i+30, r.twd)
		}
	}
}
