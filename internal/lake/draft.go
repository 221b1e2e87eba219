package lake

import (
	"bytes"
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/simplify"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/water"
)

// Limits of a draft.
const (
	leastBufferM = 5.0
	mostBufferM  = 50.0
	farM         = 20_000.0 // from the first place: beyond, one flat map is not true enough
	mostGapS     = 15.0     // between two places that are joined: what lies between longer ones is not known
	mostMS       = 15.0     // faster goes no boat that is meant here: a jump of the receiver
	vagueM       = 15.0     // a place known no better tells nothing of where the water is
	closeM       = 1.0      // two places so near are one
	plainM       = 1.0      // how far a shore may be moved to save corners
)

// Draft makes a first chart from the tracks of boats: the water that was sailed, as
// wide as a buffer on either side. Make it with NewDraft, give it every track with
// Add, a Break between two of them, and ask for its Water.
type Draft struct {
	bufferM float64
	field   field
	sailed  *water.Sailed
	frame   geo.Frame
	begun   bool
	linked  bool // the next place may be joined to the last one
	last    geo.Position
	at      boat.Time
	far     int
}

// NewDraft makes an empty draft. bufferM is how far to either side of a track water
// is taken for sailed, 5 to 50 metres.
func NewDraft(bufferM float64) (*Draft, error) {
	if !(bufferM >= leastBufferM && bufferM <= mostBufferM) {
		return nil, fmt.Errorf("expected a buffer of %g to %g metres, got %g", leastBufferM, mostBufferM, bufferM)
	}
	return &Draft{bufferM: bufferM, field: newField(bufferM)}, nil
}

// Add takes a boat's place in. Vague places and jumps are left out, and two places
// are joined only where no more than a quarter of a minute lies between them.
func (d *Draft) Add(t boat.Time, p geo.Position, accM boat.Reading) {
	if !p.Valid() || accM.OK && !(accM.Val <= vagueM) {
		return
	}
	if !d.begun {
		d.begun, d.frame, d.sailed = true, geo.NewFrame(p), water.NewSailed(p)
	}
	if geo.Distance(d.frame.Origin(), p) > farM {
		d.far++
		d.linked = false
		return
	}
	s := t.Seconds(d.at)
	gone := geo.Distance(d.last, p)
	if d.linked && s >= 0 && s <= mostGapS && gone < closeM {
		return
	}
	if d.linked && s > 0 && s <= mostGapS && gone <= mostMS*s {
		x, y := d.frame.To(d.last)
		u, v := d.frame.To(p)
		d.field.draw([4]float64{x, y, u, v})
		d.sailed.Add(d.last, p, accM.Or(0))
	}
	d.linked, d.last, d.at = true, p, t
}

// Break ends a track: the next place is not joined to the last.
func (d *Draft) Break() { d.linked = false }

// Water returns the chart, marked as a draft: areas of water of unknown height at
// their shore, and the places sailed. An error says why there is none.
func (d *Draft) Water() (boat.Water, error) {
	if d.far > 0 {
		return boat.Water{}, fmt.Errorf("expected tracks of one water, got %d places more than %.0f km from the first: give the recordings of one lake", d.far, farM/1000)
	}
	shores := d.field.outlines()
	if len(shores) == 0 {
		return boat.Water{}, fmt.Errorf("expected a track with positions of a boat under way, at most %.0f s apart, got none", mostGapS)
	}
	out, err := d.checked(shores, true)
	if err != nil { // a shore that crosses itself when made plainer is kept as it was
		out, err = d.checked(shores, false)
	}
	return out, err
}

// checked returns the chart as it is read again from a file.
func (d *Draft) checked(shores []orb.Polygon, plain bool) (boat.Water, error) {
	w := boat.Water{Name: "draft from tracks", Draft: true, Sailed: d.sailed.Places()}
	for _, s := range shores {
		a := boat.Area{Kind: boat.Open}
		for _, r := range s {
			if plain {
				r = simplify.DouglasPeucker(plainM).Ring(r.Clone())
			}
			a.Rings = append(a.Rings, d.lonLats(r))
		}
		w.Areas = append(w.Areas, a)
	}
	for i, at := range w.Sailed {
		w.Sailed[i] = boat.LonLat{fine(at[0]), fine(at[1])}
	}
	var file bytes.Buffer
	if err := Write(&file, w); err != nil {
		return boat.Water{}, err
	}
	out, _, err := Read(&file)
	return out, err
}

func (d *Draft) lonLats(r orb.Ring) []boat.LonLat {
	out := make([]boat.LonLat, len(r))
	for i, at := range r {
		p := d.frame.From(at[0], at[1])
		out[i] = boat.LonLat{besideDateLine(fine(p.LonDeg)), fine(p.LatDeg)}
	}
	return out
}

// besideDateLine keeps an edge from lying on the date line, where it would read as a cut.
func besideDateLine(lonDeg float64) float64 {
	if math.Abs(lonDeg) == 180 {
		return 179.999999
	}
	return lonDeg
}

// fine rounds to some 10 cm, as RFC 7946 advises.
func fine(deg float64) float64 { return math.Round(deg*1e6) / 1e6 }
