package ashore

import (
	"fmt"
	"math"
	"strings"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/water"
)

// Ask is what is planned.
type Ask struct {
	Water    boat.Water
	FromDeg  float64 // the wind, from, true
	SDDeg    float64 // how sure; 0: 15, a forecast for one lake
	Kn       float64
	ShiftDeg float64  // to come in the next hours, veering positive
	LengthM  float64  // of the boat, overall
	LimitKn  float64  // the sailor's
	Lengths  float64  // radius of room wanted, boat lengths; 0: 20
	Practise []string // titles of the plan's exercises, in their order
	Now      boat.Time
}

// Brief is what is told. Places are longitude and latitude, degrees.
type Brief struct {
	Name   string        `json:"name,omitempty"`
	Areas  []boat.Area   `json:"areas"`
	Bridge []boat.Bridge `json:"bridges,omitempty"`
	Marks  []boat.Mark   `json:"marks,omitempty"`

	Map       Map   `json:"map"`                // in the wind as it is
	After     *Map  `json:"after,omitempty"`    // and after the shift
	Rooms     []Lot `json:"rooms"`              // open areas, widest first
	Suggested int   `json:"suggested,omitzero"` // of them, counted from 1; 0: none

	Rise   boat.Time `json:"rise,omitzero"`
	Set    boat.Time `json:"set,omitzero"`
	BackBy boat.Time `json:"back_by,omitzero"`

	Says     []string `json:"says"`     // what to know, in sentences
	Checks   []string `json:"checks"`   // what to do before going
	Cautions []string `json:"cautions"` // always
}

// Map is the shelter over the chart: Rows from north to south, a letter a cell:
// '.' clear, 's' slightly sheltered, 'd' disturbed, 'D' dead air, '?' not known,
// '#' land.
type Map struct {
	West, North, East, South float64 // of the outer edges
	Rows                     []string
}

// Lot is an open area.
type Lot struct {
	At      boat.LonLat `json:"at"`
	RadiusM float64     `json:"radius_m"`
	Lengths float64     `json:"lengths"` // across, in boat lengths
}

const (
	cells    = 120
	mostLots = 5
	forecast = 15.0
	usualLot = 20.0
	mastM    = 8.0
	deadPart = 0.5
)

// Look works the brief out.
func Look(a Ask) (*Brief, error) {
	if !(a.LengthM > 0) {
		a.LengthM = boat.DefaultLengthM
	}
	if a.SDDeg <= 0 {
		a.SDDeg = forecast
	}
	if a.Lengths <= 0 {
		a.Lengths = usualLot
	}
	chart, err := water.New(a.Water, mastM*a.LengthM/boat.DefaultLengthM)
	if err != nil {
		return nil, err
	}
	b := &Brief{Name: a.Water.Name, Areas: a.Water.Areas, Bridge: a.Water.Bridges, Marks: a.Water.Marks}
	now, err := shelter(chart, water.Wind{FromDeg: a.FromDeg, SDDeg: a.SDDeg})
	if err != nil {
		return nil, err
	}
	b.Map = letters(now)
	if a.ShiftDeg != 0 {
		after, err := shelter(chart, water.Wind{FromDeg: geo.Wrap360(a.FromDeg + a.ShiftDeg), SDDeg: a.SDDeg})
		if err != nil {
			return nil, err
		}
		m := letters(after)
		b.After = &m
	}
	b.lots(a, chart, now)
	b.light(a, chart, now)
	b.say(a, now)
	return b, nil
}

func shelter(c *water.Chart, w water.Wind) (*water.Map, error) {
	m, err := c.NewMap(w, water.MapSize{Cols: cells, Rows: cells})
	if err != nil {
		return nil, err
	}
	m.Fill(0, m.Rows)
	return m, nil
}

func letters(m *water.Map) Map {
	lo, hi := m.At(0, 0), m.At(m.Cols-1, m.Rows-1)
	half := func(a, b float64, n int) float64 { return (b - a) / float64(max(1, n-1)) / 2 }
	dLon, dLat := half(lo.LonDeg, hi.LonDeg, m.Cols), half(lo.LatDeg, hi.LatDeg, m.Rows)
	out := Map{West: lo.LonDeg - dLon, East: hi.LonDeg + dLon, South: lo.LatDeg - dLat, North: hi.LatDeg + dLat}
	for row := m.Rows - 1; row >= 0; row-- {
		var line strings.Builder
		for col := range m.Cols {
			line.WriteByte(letter(m.Cells[row*m.Cols+col]))
		}
		out.Rows = append(out.Rows, line.String())
	}
	return out
}

func letter(c water.Cell) byte {
	switch {
	case !c.Afloat:
		return '#'
	case c.Band == water.NoHeight || c.Band == water.Doubtful || c.Band == water.OffChart:
		return '?'
	case c.Dead > deadPart || c.Band == water.Dead:
		return 'D'
	case c.Disturbed > deadPart || c.Band == water.Disturbed:
		return 'd'
	case c.Band == water.Slight:
		return 's'
	}
	return '.'
}

// lots finds where there is room.
func (b *Brief) lots(a Ask, c *water.Chart, m *water.Map) {
	rooms := m.Rooms(math.Max(4*a.LengthM, m.StepM), mostLots)
	for _, r := range rooms {
		b.Rooms = append(b.Rooms, Lot{
			At: boat.LonLat{r.At.LonDeg, r.At.LatDeg}, RadiusM: math.Round(r.RadiusM),
			Lengths: math.Floor(2 * r.RadiusM / a.LengthM),
		})
	}
	from := m.At(m.Cols/2, m.Rows/2)
	if ramp, ok := c.Ramp(from); ok {
		from = ramp
	}
	best, ok := water.Suggest(rooms, from, a.Lengths*a.LengthM)
	for i, r := range rooms {
		if ok && r == best {
			b.Suggested = i + 1
		}
	}
}

// light tells the day, and when to be on the way home from the suggested room.
func (b *Brief) light(a Ask, c *water.Chart, m *water.Map) {
	at := m.At(m.Cols/2, m.Rows/2)
	day := water.SunOn(at, a.Now)
	if !day.OK {
		return
	}
	b.Rise, b.Set = day.Rise, day.Set
	wayS := 600.0
	if ramp, ok := c.Ramp(at); ok && b.Suggested > 0 {
		lot := b.Rooms[b.Suggested-1]
		way := geo.Distance(ramp, geo.Position{LatDeg: lot.At[1], LonDeg: lot.At[0]})
		wayS = way / (1.5 * geo.KnotMS) // to windward a boat makes a knot and a half good, where it blows at all
	}
	if by, ok := day.Leave(wayS); ok {
		b.BackBy = by
	}
}

// say puts the figures into sentences.
func (b *Brief) say(a Ask, m *water.Map) {
	afloat, dead, disturbed, unknown := 0, 0, 0, 0
	for _, c := range m.Cells {
		if !c.Afloat {
			continue
		}
		afloat++
		switch letter(c) {
		case 'D':
			dead++
		case 'd':
			disturbed++
		case '?':
			unknown++
		}
	}
	b.Says = append(b.Says, fmt.Sprintf("The wind is taken to come from %03.0f° true, %.0f knots, sure to about %.0f°.", a.FromDeg, a.Kn, a.SDDeg))
	if afloat > 0 {
		b.Says = append(b.Says, fmt.Sprintf("Of the water on the chart %s lies in dead air and %s is disturbed by the land.", part(dead, afloat), part(disturbed, afloat)))
		if unknown > 0 {
			b.Says = append(b.Says, fmt.Sprintf("Of %s nothing can be said: the land upwind has no height on the chart, or stands too near.", part(unknown, afloat)))
		}
	}
	switch {
	case len(b.Rooms) == 0:
		b.Says = append(b.Says, "No area is open and clear of lee and shore in this wind: stay ashore, or go where you know the water.")
	case b.Suggested > 0:
		lot := b.Rooms[b.Suggested-1]
		fits := "enough for every exercise"
		if lot.RadiusM < a.Lengths*a.LengthM {
			fits = "little: choose exercises that need few lengths"
		}
		b.Says = append(b.Says, fmt.Sprintf("Room to practise: a circle of %.0f boat lengths across, %s.", lot.Lengths, fits))
	}
	b.practice(a)
	switch {
	case a.LimitKn > 0 && a.Kn > a.LimitKn:
		b.Says = append(b.Says, fmt.Sprintf("It blows %.0f knots and your limit is %.0f: do not go.", a.Kn, a.LimitKn))
	case a.LimitKn > 0:
		b.Says = append(b.Says, fmt.Sprintf("Your wind limit is %.0f knots: from there on go in.", a.LimitKn))
	}
	if a.Water.Draft {
		b.Says = append(b.Says, "The chart is a draft from tracks: its shores are only where boats have sailed to, and what lies beyond is not known.")
	}
	b.Checks = []string{
		"Someone ashore knows where you go and when you will be back.",
		"Buoyancy aids on, and clothes for the water, not for the air.",
		"The sound check is heard and answered.",
		"The sailor's page has ticked position, compass and heel.",
		"The phone is level, strapped down fore and aft, away from metal and magnets.",
		"The phone's battery and the power bank are full.",
		"Rudder, board, drain and sheets are looked at.",
	}
	b.Cautions = []string{
		"Lookout first: the chart shows no boats, no swimmers and perhaps no shallows.",
		"Local rules and a licensed instructor's word outrank this sheet.",
		"Where the sheet shows nothing it promises nothing.",
		"This is no emergency device.",
	}
}

// practice names the plan's exercises and where there is room for them.
func (b *Brief) practice(a Ask) {
	if len(a.Practise) == 0 {
		return
	}
	where := "There is no room for them in this wind."
	if b.Suggested > 0 {
		where = "The room drawn thick is the place for them."
	}
	b.Says = append(b.Says, fmt.Sprintf("To practise: %s. %s", strings.ToLower(strings.Join(a.Practise, ", ")), where))
}

// part is a share in words that promise no more than a chart can.
func part(n, of int) string {
	switch s := float64(n) / float64(of); {
	case n == 0:
		return "nothing"
	case s < 0.05:
		return "a little"
	case s < 0.2:
		return "a tenth or so"
	case s < 0.4:
		return "about a third"
	case s < 0.6:
		return "about half"
	}
	return "most"
}
