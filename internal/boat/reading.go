package boat

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
)

// Time is milliseconds since the Unix epoch, UTC, on the session's one time
// line. The feeds map every sender's clock to it before the engine sees it.
type Time int64

// Seconds returns how long after u the time t is, in seconds.
func (t Time) Seconds(u Time) float64 { return float64(t-u) / 1000 }

// After returns the time s seconds after t, rounded to a millisecond.
func (t Time) After(s float64) Time { return t + Time(math.Round(s*1000)) }

// Reading is a number that may be absent. The zero Reading is absent.
type Reading struct {
	Val float64
	OK  bool
}

// Some returns a present reading, or an absent one where v is NaN or infinite.
func Some(v float64) Reading {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return Reading{}
	}
	return Reading{Val: v, OK: true}
}

// Or returns the value, or v where the reading is absent.
func (r Reading) Or(v float64) float64 {
	if r.OK {
		return r.Val
	}
	return v
}

// Round returns the reading rounded to a multiple of step, which must be > 0.
// Steps below one are given as their inverse would be written: 0.1, 0.01.
func (r Reading) Round(step float64) Reading {
	if !r.OK {
		return r
	}
	if step < 1 {
		inv := math.Round(1 / step)
		return Some(math.Round(float64(r.Val*inv)) / inv)
	}
	return Some(math.Round(r.Val/step) * step)
}

// IsZero makes encoding/json's omitzero leave absent readings out.
func (r Reading) IsZero() bool { return !r.OK }

// MarshalJSON writes the number, or null where absent.
func (r Reading) MarshalJSON() ([]byte, error) {
	if !r.OK {
		return []byte("null"), nil
	}
	v := r.Val
	if v == 0 {
		v = 0 // minus zero reads as a different line and means nothing
	}
	return json.Marshal(v)
}

// UnmarshalJSON takes a finite number or null.
func (r *Reading) UnmarshalJSON(b []byte) error {
	*r = Reading{}
	if bytes.Equal(b, []byte("null")) {
		return nil
	}
	// encoding/json hands over one whole valid value; parsing it as JSON once
	// more would take a third of the time a recording takes to read.
	if len(b) == 0 || b[0] != '-' && (b[0] < '0' || b[0] > '9') {
		return fmt.Errorf("expected a number or null, got %.40s", b)
	}
	v, err := strconv.ParseFloat(string(b), 64)
	if err != nil {
		return fmt.Errorf("expected a number or null, got %.40s", b)
	}
	*r = Some(v)
	return nil
}
