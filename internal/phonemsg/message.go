package phonemsg

import (
	"encoding/json"
	"fmt"
	"math"

	"helmcue/internal/boat"
)

// Version is the join.v this service speaks.
const Version = 1

// MaxBatch is how many samples one samples message may carry.
const MaxBatch = 600

// Role is what a page may do: a sailor sends samples and hears cues, an
// instructor acts on any boat, a viewer looks.
type Role string

// The roles.
const (
	Sailor     Role = "sailor"
	Instructor Role = "instructor"
	Viewer     Role = "viewer"
)

// Roles returns every role.
func Roles() []Role { return []Role{Sailor, Instructor, Viewer} }

// Msg is one message from a page. Type says which; T is the sender's own clock,
// zero where the type carries none. Of the rest only what the type needs is set.
type Msg struct {
	Type    string
	T       boat.Time
	Seq     int64 // the page's own count of what it sent, where HasSeq
	HasSeq  bool
	Join    *Join
	Samples []Sample // one for sample, any number for samples
	WindFix *boat.WindFix
	Answer  *boat.Answer
	Spoken  *boat.Spoken
	Act     *Act
	Delay   *SoundDelay
}

// Join opens a link.
type Join struct {
	V     int             `json:"v"`
	Role  Role            `json:"role"`
	Token string          `json:"token"`
	Boat  string          `json:"boat"`
	Mount boat.Mount      `json:"mount"`
	Caps  json.RawMessage `json:"caps"` // what the page's device can do; free form but for engine: see OwnEngine
}

// OwnEngine says whether the page has a coach of its own, which speaks while the
// link is gone.
func (j Join) OwnEngine() bool {
	var caps struct {
		Engine bool `json:"engine"`
	}
	return json.Unmarshal(j.Caps, &caps) == nil && caps.Engine
}

// Sample is one set of readings with the sender's clock. HasSeq tells a seq of
// zero from none.
type Sample struct {
	T      boat.Time
	HasSeq bool
	boat.Sample
}

// Act is what an instructor did. Boat names the learner it is for; empty means
// the boat the instructor's page joined with.
type Act struct {
	Act    string       `json:"act"` // one of Acts
	Boat   string       `json:"boat"`
	Phrase string       `json:"phrase"` // say: the key of a prepared phrase; plan, exercise: its name
	Text   string       `json:"text"`   // mark: a word for the moment; exercise: start, skip or stop
	DirDeg boat.Reading `json:"dir"`    // wind: from, 0..360, from Ref
	Ref    boat.Ref     `json:"ref"`
	SDDeg  boat.Reading `json:"sd"`
	Kn     boat.Reading `json:"kn"`    // wind: speed; limit: the new wind limit
	Level  string       `json:"level"` // level: beginner, improver, expert
}

// SoundDelay is how long a sound takes from the page to the sailor's ear.
type SoundDelay struct {
	S float64 `json:"s"` // seconds, 0..3
}

// Acts returns every act an instructor has.
func Acts() []string {
	return []string{"say", "wind", "mark", "quiet", "resume", "tack", "gybe", "level", "limit", "plan", "exercise"}
}

// WindMethods returns every way a wind fix may have been taken.
func WindMethods() []string {
	return []string{"hand", "pointed", "head_to_wind", "meter", "chase", "forecast"}
}

// Types returns every type a page may send.
func Types() []string {
	return []string{"join", "sample", "samples", "wind_fix", "answer", "hidden", "shown", "spoken", "sound_delay", "act", "bye"}
}

// millis is a time on the wire: pages may send fractions (a high-resolution
// clock), the service keeps whole milliseconds.
type millis struct {
	at boat.Time
	ok bool
}

// lastTime is 2100-01-01, beyond which a clock is nonsense and sums overflow sooner or later.
const lastTime = 4102444800000

func (m *millis) UnmarshalJSON(b []byte) error {
	var v *float64
	if err := json.Unmarshal(b, &v); err != nil {
		return fmt.Errorf("expected milliseconds since the epoch, got %.40s", b)
	}
	if v == nil {
		return nil
	}
	if *v < 0 || *v >= lastTime {
		return outOfRange("t", "milliseconds since 1970, before the year 2100", *v)
	}
	*m = millis{boat.Time(math.Round(*v)), true}
	return nil
}
