package polar

import (
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"helmcue/internal/boat"
)

func TestReadTakesBothForms(t *testing.T) {
	want := boat.PolarTable{Name: "x", TWSKn: []float64{6, 10}, TWADeg: []float64{45, 90, 150}, SpeedKn: [][]float64{{2.5, 3, 2}, {3.4, 4.2, 3.3}}}
	tests := []struct{ name, text string }{
		{"long by wind", "tws_kn,twa_deg,speed_kn\n6,45,2.5\n6,90,3\n6,150,2\n10,45,3.4\n10,90,4.2\n10,150,3.3\n"},
		{"long by angle", "tws_kn,twa_deg,speed_kn\n6,45,2.5\n10,45,3.4\n6,90,3\n10,90,4.2\n6,150,2\n10,150,3.3\n"},
		{"long with semicolons, capitals and carriage returns", "TWS_kn;TWA_deg;Speed_kn\r\n6;45;2.5\r\n6;90;3\r\n6;150;2\r\n10;45;3.4\r\n10;90;4.2\r\n10;150;3.3"},
		{"matrix with commas", "twa/tws,6,10\n45,2.5,3.4\n90,3,4.2\n150,2,3.3\n"},
		{"matrix with semicolons and an empty last cell", "deg;6;10;\n45;2.5;3.4;\n90;3;4.2;\n150;2;3.3;\n"},
		{"matrix with tabs and an empty first cell", "\t6\t10\n45\t2.5\t3.4\n90\t3\t4.2\n150\t2\t3.3\n"},
		{"matrix with blanks, a note and empty lines", "# made up\n\nx   6  10\n 45 2.5 3.4\n90 3   4.2\n\n150 2 3.3"},
		{"a mark of byte order and quotes", "\ufeff\"a\",\"6\",\"10\"\n45,2.5,3.4\n90,3,4.2\n150,2,3.3\n"},
	}
	for _, tt := range tests {
		got, err := Read(strings.NewReader(tt.text), "x")
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: got %+v, %v", tt.name, got, err)
		}
	}
}

func TestReadRefusesWithAReason(t *testing.T) {
	tests := []struct{ name, text, say string }{
		{"empty", "", "file is empty"},
		{"only empty lines", "\n \n", "file is empty"},
		{"only a header", longHeader + "\n", "got none"},
		{"another header", "wind,angle,boat\n6,45,3\n", "expected the header"},
		{"header in m/s", "tws_ms,twa_deg,speed_kn\n6,45,3\n", "expected the header"},
		{"matrix in m/s", "deg/m/s,3,5\n45,3,4\n", "says m/s"},
		{"winds unsorted", "x,10,6\n45,3,2\n", "line 1: wind speed 6 comes after 10"},
		{"angles unsorted", "x,6,10\n90,3,4\n45,2,3\n", "line 3: angle 45 comes after 90"},
		{"an angle twice", "x,6,10\n45,3,4\n45,2,3\n", "line 3: angle 45 stands twice"},
		{"long unsorted", longHeader + "\n6,90,3\n6,45,2\n", "line 3: 6 knots at 45 degrees is out of order"},
		{"a pair twice", longHeader + "\n6,45,2\n6,45,2.1\n", "line 3: 6 knots at 45 degrees stands twice"},
		{"a pair missing", longHeader + "\n6,45,2\n6,90,3\n10,45,3\n", "no line for 10 knots at 90 degrees"},
		{"negative", "x,6\n45,-2\n", "line 2, cell 2: expected a number from 0 up"},
		{"not a number", "x,6\n45,NaN\n", "line 2, cell 2: expected a number"},
		{"infinite", "x,6\n45,+Inf\n", "expected a number"},
		{"hexadecimal", "x,6\n45,0x1p2\n", "expected a number"},
		{"decimal comma", "x;6;10\n45;2,5;3,4\n", "decimal point"},
		{"an empty cell", "x,6,10\n45,,3\n", "line 2, cell 2: expected a number, the cell is empty"},
		{"ragged", "x,6,10\n45,2\n", "line 2: expected 3 cells"},
		{"angle beyond 180", "x,6\n200,2\n", "expected 0 to 180"},
		{"radians", "x,6,10\n0.8,2,3\n1.6,3,4\n2.6,2,3\n", "radians"},
		{"winds in m/s", "x,3.09,5.14,7.2\n45,2,3,4\n90,3,4,5\n", "m/s"},
		{"faster than any wind", "x,3,5\n45,5,8\n90,6,9\n", "1.5 times the wind"},
		{"40 knots", "x,30\n90,45\n", "another unit"},
		{"speed straight into the wind", "x,6\n0,1\n45,2\n", "straight into the wind"},
		{"all zero", "x,6\n0,0\n45,0\n", "no boat speed above 0"},
		{"no angle", "x,6,10\n", "empty"},
		{"words", "hello\n", "expected a first cell"},
		{"a line without end", "x " + strings.Repeat("1", longestLine+1), "longer than"},
	}
	for _, tt := range tests {
		_, err := Read(strings.NewReader(tt.text), "club.csv")
		if err == nil || !strings.Contains(err.Error(), tt.say) || !strings.HasPrefix(err.Error(), "polar club.csv: ") {
			t.Errorf("%s: expected an error with %q, got %v", tt.name, tt.say, err)
		}
	}
}

func TestNewRefusesWithAReason(t *testing.T) {
	good := func() boat.PolarTable {
		return boat.PolarTable{TWSKn: []float64{6, 10}, TWADeg: []float64{45, 90}, SpeedKn: [][]float64{{2, 3}, {3, 4}}}
	}
	tests := []struct {
		name, say string
		spoil     func(*boat.PolarTable)
	}{
		{"nothing", "empty", func(p *boat.PolarTable) { *p = boat.PolarTable{} }},
		{"unsorted winds", "comes after", func(p *boat.PolarTable) { p.TWSKn[0] = 20 }},
		{"a wind that is no number", "expected 0 to", func(p *boat.PolarTable) { p.TWSKn[0] = math.NaN() }},
		{"negative angle", "expected 0 to 180", func(p *boat.PolarTable) { p.TWADeg[0] = -45 }},
		{"a row missing", "not rectangular", func(p *boat.PolarTable) { p.SpeedKn = p.SpeedKn[:1] }},
		{"a cell missing", "not rectangular", func(p *boat.PolarTable) { p.SpeedKn[1] = p.SpeedKn[1][:1] }},
		{"a speed that is no number", "from 0 up", func(p *boat.PolarTable) { p.SpeedKn[1][1] = math.NaN() }},
		{"too many", "too large", func(p *boat.PolarTable) { p.TWSKn = make([]float64, 201) }},
	}
	if _, err := New(good()); err != nil {
		t.Fatal(err)
	}
	for _, tt := range tests {
		p := good()
		tt.spoil(&p)
		if _, err := New(p); err == nil || !strings.Contains(err.Error(), tt.say) {
			t.Errorf("%s: expected an error with %q, got %v", tt.name, tt.say, err)
		}
	}
}

func TestWriteAndReadGiveTheSameTable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := Generic(rapid.Float64Range(2, 12).Draw(t, "m"), rapid.Bool().Draw(t, "jib"))
		var b strings.Builder
		if err := Write(&b, table); err != nil {
			t.Fatal(err)
		}
		back, err := Read(strings.NewReader(b.String()), table.Name)
		if err != nil || !reflect.DeepEqual(back, table) {
			t.Fatalf("came back otherwise: %v", err)
		}
	})
	if err := Write(&strings.Builder{}, boat.PolarTable{}); err == nil {
		t.Error("expected an empty table to be refused")
	}
	if err := Write(full{}, Generic(4.2, true)); !errors.Is(err, errFull) {
		t.Errorf("expected the writer's own error, got %v", err)
	}
}

var errFull = errors.New("full")

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }

func FuzzRead(f *testing.F) {
	for _, s := range []string{
		longHeader + "\n6,45,2\n6,90,3\n", "x,6,10\n45,2,3\n", "x 6\n45 2", ";;\n", ",\n,", "a\tb\n1\t2", "\ufeff", "x,1e999\n1,1",
		"x,0,5\n0,0,0\n180,0,3\n", "x,6\n45,-0\n90,2\n",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		table, err := Read(strings.NewReader(s), "f")
		if err != nil {
			return
		}
		p, err := New(table)
		if err != nil {
			t.Fatalf("what was read is refused: %v", err)
		}
		var b strings.Builder
		if err := Write(&b, table); err != nil {
			t.Fatal(err)
		}
		back, err := Read(strings.NewReader(b.String()), "f")
		if err != nil || !reflect.DeepEqual(back, table) {
			t.Fatalf("read %+v, wrote it, read %+v: %v", table, back, err)
		}
		if v := p.Speed(7, 77); !(v >= 0 && v <= mostBoatKn) {
			t.Fatalf("speed %v", v)
		}
		p.Target(7, 77)
	})
}
