package boat

// Water is a chart: shores with what stands on them, bridges, marks and the ramp, as
// loaded and checked by package lake. A nil Water knows nothing of the water.
type Water struct {
	Name    string   `json:"name,omitzero"`
	Areas   []Area   `json:"areas"`
	Bridges []Bridge `json:"bridges,omitempty"`
	Marks   []Mark   `json:"marks,omitempty"`
	Sailed  []LonLat `json:"sailed,omitempty"` // where boats have sailed: no land there, and depth enough, on the day
	Draft   bool     `json:"draft,omitzero"`   // made of tracks and looked at by nobody: its shores are no shores
}

// LonLat is a place as GeoJSON orders it: longitude -180..180, then latitude
// -90..90, degrees.
type LonLat [2]float64

// The kinds of Area. Where a chart has an area of water, all outside of it is land.
const (
	Land    = "land"
	Shallow = "shallow" // no place to sail, and nothing on it that takes the wind
	Open    = "water"
)

// Area is a piece of land, a shallow, or the water itself, whose shore is then land.
type Area struct {
	Kind     string     `json:"kind"`
	Name     string     `json:"name,omitzero"`
	HeightM  Reading    `json:"height_m,omitzero"` // of what stands at its shore, above the water; absent: not known
	Porosity float64    `json:"porosity,omitzero"` // share of it that wind passes, 0 (solid) to below 1
	Rings    [][]LonLat `json:"rings"`             // closed, first equals last; the outer one, then holes
}

// Bridge is a line that a mast may not pass.
type Bridge struct {
	Name   string   `json:"name,omitzero"`
	ClearM Reading  `json:"clearance_m,omitzero"` // above the water; absent: not known
	Line   []LonLat `json:"line"`
}

// The kinds of Mark.
const (
	Buoy = "mark"
	Ramp = "ramp" // where she is launched and comes home to
)

// Mark is a place to sail to or round.
type Mark struct {
	Kind string `json:"kind"`
	Name string `json:"name,omitzero"`
	At   LonLat `json:"at"`
}
