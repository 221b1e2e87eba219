package ashore_test

import (
	"math"
	"strings"
	"testing"

	"helmcue/internal/ashore"
	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/lake"
)

// Noon of a summer's day at the made-up lake.
const noon = boat.Time(1_813_500_000_000)

func ask(from float64) ashore.Ask {
	return ashore.Ask{Water: lake.Demo(), FromDeg: from, Kn: 9, LengthM: 4.2, LimitKn: 15, Now: noon}
}

func look(t *testing.T, a ashore.Ask) *ashore.Brief {
	t.Helper()
	b, err := ashore.Look(a)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// On a lake the dead air lies under the windward shore: the middle of its cells moves
// to where the wind comes from.
func TestDeadAirLiesUnderTheWindwardShore(t *testing.T) {
	middle := func(m ashore.Map) (x, y float64) {
		n := 0.0
		for row, line := range m.Rows {
			for col, c := range line {
				if c == 'D' || c == 'd' {
					x, y, n = x+float64(col), y-float64(row), n+1
				}
			}
		}
		if n == 0 {
			t.Fatal("no lee on a lake with land")
		}
		return x / n, y / n
	}
	for _, from := range []float64{0, 90, 225} {
		x1, y1 := middle(look(t, ask(from)).Map)
		x2, y2 := middle(look(t, ask(from+180)).Map)
		to := geo.Wrap360(geo.Deg(math.Atan2(x1-x2, y1-y2)))
		if math.Abs(geo.Diff(to, from)) > 60 {
			t.Errorf("wind from %.0f: its lee lies towards %.0f of that of the opposite wind, want it under the windward shore", from, to)
		}
	}
}

func TestRoomsAreOpenWater(t *testing.T) {
	b := look(t, ask(225))
	if len(b.Rooms) == 0 || b.Suggested < 1 || b.Suggested > len(b.Rooms) {
		t.Fatalf("rooms %v, suggested %d", b.Rooms, b.Suggested)
	}
	at := func(p boat.LonLat) byte {
		m := b.Map
		col := int((p[0] - m.West) / (m.East - m.West) * float64(len(m.Rows[0])))
		row := int((m.North - p[1]) / (m.North - m.South) * float64(len(m.Rows)))
		return m.Rows[row][col]
	}
	for _, r := range b.Rooms {
		if c := at(r.At); c != '.' && c != 's' {
			t.Errorf("a room of %.0f m lies in %q", r.RadiusM, c)
		}
	}
	for i := 1; i < len(b.Rooms); i++ {
		if b.Rooms[i].RadiusM > b.Rooms[i-1].RadiusM {
			t.Error("rooms are not widest first")
		}
	}
}

func TestTheDayAndTheWayHome(t *testing.T) {
	b := look(t, ask(225))
	if !(b.Rise < noon && noon < b.Set && b.BackBy < b.Set && b.BackBy > noon) {
		t.Errorf("rise %d, noon %d, back by %d, set %d", b.Rise, noon, b.BackBy, b.Set)
	}
}

func TestTooMuchWindIsSaid(t *testing.T) {
	a := ask(225)
	a.Kn = 20
	if says := strings.Join(look(t, a).Says, " "); !strings.Contains(says, "do not go") {
		t.Errorf("20 knots over a limit of 15: %q", says)
	}
	if says := strings.Join(look(t, ask(225)).Says, " "); strings.Contains(says, "do not go") {
		t.Errorf("9 knots under a limit of 15: %q", says)
	}
}

func TestTheShiftToComeHasAMapOfItsOwn(t *testing.T) {
	a := ask(225)
	if look(t, a).After != nil {
		t.Error("a second map without a shift")
	}
	a.ShiftDeg = 45
	b := look(t, a)
	veered := look(t, ask(270)).Map
	if b.After == nil || strings.Join(b.After.Rows, "") != strings.Join(veered.Rows, "") {
		t.Error("after a shift of 45° the map is not that of the veered wind")
	}
}

func TestNoChartIsRefused(t *testing.T) {
	if _, err := ashore.Look(ashore.Ask{}); err == nil {
		t.Error("an empty chart was taken")
	}
}

func TestTheSheetNamesLimitPlanAndDraft(t *testing.T) {
	a := ask(225)
	a.Practise = []string{"Stop and start", "Reach to and fro"}
	a.Water.Draft = true
	says := strings.Join(look(t, a).Says, " ")
	for _, want := range []string{"wind limit is 15 knots", "To practise: stop and start, reach to and fro. The room drawn thick", "draft from tracks"} {
		if !strings.Contains(says, want) {
			t.Errorf("%q is not in %q", want, says)
		}
	}
	says = strings.Join(look(t, ask(225)).Says, " ")
	for _, never := range []string{"To practise", "draft"} {
		if strings.Contains(says, never) {
			t.Errorf("%q is in %q", never, says)
		}
	}
}
