package phonemsg

import (
	"encoding/json"
	"fmt"

	"helmcue/internal/boat"
)

// Reply is a message from the service to a page: Joined, Ack, State, Cue, Note,
// Input or Fault.
type Reply interface{ kind() string }

// Joined answers join.
type Joined struct {
	V          int           `json:"v"`
	Session    string        `json:"session"`
	Boat       string        `json:"boat"`
	Role       Role          `json:"role"`
	Settings   boat.Settings `json:"settings"`
	ServerTime boat.Time     `json:"serverTime"` // the service's clock when it answered
	Voice      string        `json:"voice"`      // folder under /voices/
	Phrases    []Phrase      `json:"phrases"`    // what an instructor may have said

	Plans     []Phrase `json:"plans,omitempty"`     // of exercises, by name and title; not to sailors
	Exercises []Phrase `json:"exercises,omitempty"` // by name and title; not to sailors
}

// Phrase is one prepared phrase: its key for act.phrase, and how it sounds.
type Phrase struct {
	Key   string `json:"key"`
	Words string `json:"words"`
}

// Ack says that this sample and all sent before it on this link are recorded.
// Seq is the highest seq recorded on the link; T is the service's clock when it
// answered, by which a page goes on comparing the two clocks.
type Ack struct {
	Seq int64     `json:"seq"`
	T   boat.Time `json:"t"`
}

// State is what the engine believes about a boat, twice a second.
type State struct {
	Boat string `json:"boat"`
	boat.Status
	Told   *Told        `json:"told,omitempty"`
	At     *boat.LonLat `json:"at,omitempty"` // where she was when last heard of; absent where never told
	Health Health       `json:"health"`
	Turns  Turns        `json:"turns"`

	Exercise *boat.Exercise `json:"exercise,omitempty"` // the last that was put out, where a plan is sailed
}

// Told is the last cue the boat was given.
type Told struct {
	Words string    `json:"words"`
	Why   string    `json:"why"`
	T     boat.Time `json:"t"`
	ID    int       `json:"id"`
}

// Health is how well the boat is heard and can hear.
type Health struct {
	Link     string       `json:"link"`             // ok, quiet (nothing for a few seconds) or lost
	Deaf     bool         `json:"deaf"`             // the page is hidden
	AccM     boat.Reading `json:"acc,omitzero"`     // stated accuracy of the position, metres
	Batt     boat.Reading `json:"batt,omitzero"`    // share left, 0..1
	Sound    string       `json:"sound"`            // where the last cue was heard: phone, boat, failed or empty: not known
	Compass  bool         `json:"compass"`          // a heading came in the last seconds
	WindAgeS boat.Reading `json:"windAge,omitzero"` // seconds since the last fact about the wind
}

// Turns counts the turns since the session began. Lengths are boat lengths lost.
type Turns struct {
	Tacks int          `json:"tacks"`
	Gybes int          `json:"gybes"`
	Best  boat.Reading `json:"bestLengths,omitzero"`
	Last  boat.Reading `json:"lastLengths,omitzero"`
}

// Cue is a cue to be shown and played: Clips in order, GapMS of silence between.
type Cue struct {
	Boat string `json:"boat"`
	boat.Cue
	Clips  []string `json:"clips"`
	GapMS  int      `json:"gapMs"`
	Repeat bool     `json:"repeat"` // said again because the sailor asked
}

// Note is something worth showing that nobody needs to hear.
type Note struct {
	Boat string `json:"boat"`
	boat.Note
}

// Input is what others than the page itself told the service's engine (a wind, an
// act, settings, an instrument's reading), for the engine in the page. Times are by the service's clock.
type Input struct {
	Boat  string     `json:"boat"`
	Input boat.Input `json:"input"`
}

// Fault tells the page what was refused, and why. It is the error message.
type Fault struct {
	Code Code   `json:"code"`
	Text string `json:"text"`
}

func (Joined) kind() string { return "joined" }
func (Ack) kind() string    { return "ack" }
func (State) kind() string  { return "state" }
func (Cue) kind() string    { return "cue" }
func (Note) kind() string   { return "note" }
func (Input) kind() string  { return "input" }
func (Fault) kind() string  { return "error" }

// Encode writes a reply as one JSON object whose first field is its type.
// Lists that are nil are written as empty ones, so that pages need not ask.
func Encode(r Reply) ([]byte, error) {
	switch v := r.(type) {
	case Joined:
		if v.Phrases == nil {
			v.Phrases = []Phrase{}
		}
		r = v
	case Cue:
		if v.Clips == nil {
			v.Clips = []string{}
		}
		r = v
	}
	body, err := json.Marshal(r)
	if err != nil {
		return nil, fmt.Errorf("writing a %s message: %w", r.kind(), err)
	}
	return append([]byte(`{"type":"`+r.kind()+`",`), body[1:]...), nil
}

// PairRequest is what a page posts to /pair. Boat names the sailor's boat where
// the code was not made for one.
type PairRequest struct {
	Code string `json:"code"`
	Boat string `json:"boat,omitempty"`
}

// PairReply is the token a page got for its code. It goes into every join.
type PairReply struct {
	Token string `json:"token"`
	Role  Role   `json:"role"`
	Boat  string `json:"boat"`
}
