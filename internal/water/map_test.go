package water

import (
	"math"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

func filled(t testing.TB, c *Chart, w Wind, n int) *Map {
	m, err := c.NewMap(w, MapSize{n, n})
	if err != nil {
		t.Fatal(err)
	}
	m.Fill(0, m.Rows)
	return m
}

// The map cuts the shore by lines a cell apart, so it may differ by what lies
// between two lines: seldom, and near the edges of a lee.
func TestTheMapShowsWhatSinglePlacesSay(t *testing.T) {
	c := made(t, roundLake(rng(3), 900, 400)...)
	w := Wind{200, 8}
	m := filled(t, c, w, 200)
	off, n := 0.0, 0
	for row := 3; row < m.Rows; row += 7 {
		for col := 2; col < m.Cols; col += 7 {
			p := m.At(col, row)
			cell, one := m.Cells[row*m.Cols+col], c.Lee(p, w)
			if back, ok := m.CellAt(p); !ok || back != cell {
				t.Fatalf("cell %d, %d is not found by its place", col, row)
			}
			if cell.Afloat != (one.Band != Ashore && one.Band != OffChart) {
				t.Fatalf("cell %d, %d: afloat %v, %s", col, row, cell.Afloat, one.Band)
			}
			if cell.Afloat {
				off += math.Abs(float64(cell.Dead) - one.Dead)
				n++
			}
		}
	}
	if n < 200 || off/float64(n) > 0.01 {
		t.Errorf("mean difference %.4f over %d cells", off/float64(n), n)
	}
}

func TestRowsFilledApartMakeTheSameMap(t *testing.T) {
	c := made(t, roundLake(rng(4), 700, 200)...)
	whole := filled(t, c, Wind{30, 10}, 90)
	parts, err := c.NewMap(Wind{30, 10}, MapSize{90, 90})
	if err != nil {
		t.Fatal(err)
	}
	parts.Fill(40, parts.Rows+9)
	parts.Fill(-2, 40)
	for i := range whole.Cells {
		if whole.Cells[i] != parts.Cells[i] {
			t.Fatalf("cell %d: %+v apart, %+v whole", i, parts.Cells[i], whole.Cells[i])
		}
	}
}

func TestMapsThatCannotBeAreRefused(t *testing.T) {
	c := made(t, land(3, box(0, 0, 100, 100)...))
	for _, size := range []MapSize{{0, 10}, {10, 1}, {1 << 20, 1 << 20}} {
		if _, err := c.NewMap(Wind{}, size); err == nil {
			t.Errorf("%v: taken", size)
		}
	}
}

// A square lake without heights: the widest room is the circle in it.
func TestTheWidestRoomOfASquareLake(t *testing.T) {
	c := made(t, boat.Area{Kind: boat.Open, HeightM: boat.Some(0), Rings: [][]boat.LonLat{ring(here(), box(-400, -400, 400, 400)...)}})
	m := filled(t, c, Wind{0, 5}, 160)
	rooms := m.Rooms(20, 5)
	if len(rooms) == 0 || math.Abs(rooms[0].RadiusM-400) > 2*m.StepM || geo.Distance(rooms[0].At, here()) > 2*m.StepM {
		t.Fatalf("rooms %+v, want 400 m round the middle", rooms)
	}
	for i, a := range rooms {
		for _, b := range rooms[:i] {
			if geo.Distance(a.At, b.At) < a.RadiusM+b.RadiusM-3*m.StepM {
				t.Errorf("rooms %+v and %+v overlap", a, b)
			}
		}
	}
	if got := m.Rooms(500, 5); len(got) != 0 {
		t.Errorf("rooms wider than the lake: %+v", got)
	}
}

// Behind a wood to the north there is no room in a north wind; with the wind from the
// south there is.
func TestRoomsKeepClearOfTheLee(t *testing.T) {
	c := made(t, boat.Area{Kind: boat.Open, HeightM: boat.Some(0), Rings: [][]boat.LonLat{ring(here(), box(-600, -600, 600, 600)...)}},
		land(15, box(-600, 500, 600, 600)...))
	lee, clear := filled(t, c, Wind{0, 5}, 120).Rooms(50, 1), filled(t, c, Wind{180, 5}, 120).Rooms(50, 1)
	if len(lee) == 0 || len(clear) == 0 || !(lee[0].RadiusM < clear[0].RadiusM-80) {
		t.Fatalf("in the lee %+v, clear of it %+v", lee, clear)
	}
	_, north := geo.NewFrame(here()).To(lee[0].At)
	if north+lee[0].RadiusM > 500-15*15 {
		t.Errorf("the room reaches to %.0f m north, into the lee", north+lee[0].RadiusM)
	}
}

func TestTheNearestRoomThatFitsIsSuggested(t *testing.T) {
	rooms := []Room{{place(2000, 0), 300}, {place(500, 0), 120}, {place(200, 0), 60}}
	for _, k := range []struct{ need, want float64 }{{100, 120}, {50, 60}, {200, 300}, {500, 300}} {
		if r, ok := Suggest(rooms, here(), k.need); !ok || r.RadiusM != k.want {
			t.Errorf("need %g: %+v", k.need, r)
		}
	}
	if _, ok := Suggest(nil, here(), 10); ok {
		t.Error("a room where there is none")
	}
}
