package boat

import (
	"encoding/json"
	"fmt"
)

// Output is one thing the engine says; exactly one pointer is set.
type Output struct {
	Status    *Status
	Cue       *Cue
	Manoeuvre *Manoeuvre
	Exercise  *Exercise
	Note      *Note
	Lull      *Lull
}

// Status is what the engine believes, once a second of input time.
type Status struct {
	T         Time    `json:"t"`
	Mode      Mode    `json:"mode"`
	TWDDeg    Reading `json:"twd"`       // from, true, 0..360
	TWDSDDeg  Reading `json:"twd_sd"`    //
	TWDLoDeg  Reading `json:"twd_lo"`    // 90 % interval, clockwise from lo to hi
	TWDHiDeg  Reading `json:"twd_hi"`    //
	TWDKnown  bool    `json:"twd_known"` // false while the side, or the wind at all, is not known
	TWDOther  Reading `json:"twd_other"` // the mirror solution, where there is one
	TWSKn     Reading `json:"tws"`
	TWSSDKn   Reading `json:"tws_sd"`
	TWADeg    Reading `json:"twa"` // -180..180, starboard positive
	TargetTWA Reading `json:"target_twa"`
	TargetKn  Reading `json:"target_kn"`
	Share     Reading `json:"share"` // speed over target
	Heading   Reading `json:"heading"`
	SOGKn     Reading `json:"sog"`
	SetDeg    Reading `json:"set,omitzero"`   // where the current goes, true, 0..360; absent while none is sure
	DriftKn   Reading `json:"drift,omitzero"` // how fast it goes
}

// Manoeuvre is one finished tack or gybe and how it went.
type Manoeuvre struct {
	T          Time    `json:"t"`
	Kind       string  `json:"kind"` // tack or gybe
	Start      Time    `json:"start"`
	Eye        Time    `json:"eye"` // bow (tack) or stern (gybe) crosses the true wind
	Settled    *Time   `json:"settled"`
	TurnDeg    Reading `json:"turn_deg"`      // from settled heading to settled heading, unsigned
	OverDeg    Reading `json:"overshoot_deg"` // beyond the settled new heading, unsigned
	EntryKn    Reading `json:"entry_kn"`
	LeastKn    Reading `json:"least_kn"`
	ExitKn     Reading `json:"exit_kn"`
	RecoveredS Reading `json:"recovered_s"` // from the start to 95 % of target
	LostM      Reading `json:"lost_m"`      // metres made good lost against keeping on
	LostLen    Reading `json:"lost_lengths"`
	To         string  `json:"to,omitzero"` // the new tack: port or starboard
}

// Exercise is where an exercise stands. It is put out when that changes.
type Exercise struct {
	T     Time               `json:"t"`
	Name  string             `json:"name"`
	Phase string             `json:"phase"`           // as package exercise names them
	Title string             `json:"title,omitzero"`  // the exercise, for people
	Text  string             `json:"text,omitzero"`   // for people: what it waits for, or what came of a try
	Plan  string             `json:"plan,omitzero"`   // its name; empty for an exercise alone
	Step  int                `json:"step,omitzero"`   // of the plan, from 1
	Steps int                `json:"steps,omitzero"`  // in the plan
	Tries int                `json:"tries,omitzero"`  // finished, of this step
	Good  int                `json:"good,omitzero"`   // of these
	Score map[string]float64 `json:"score,omitempty"` // encoding/json writes the keys sorted
}

// Note is something a person may want to know and nobody needs to hear.
type Note struct {
	T    Time   `json:"t"`
	Code string `json:"code"`
	Text string `json:"text"`
}

// Lull is a place where a boat lost way on a straight course, her heel going with it.
// One boat's engine puts it out, and the engines of the others take it in.
type Lull struct {
	T  Time   `json:"t"`
	At LonLat `json:"at"`
}

// Type returns the output's name in lines and messages.
func (o Output) Type() string {
	switch {
	case o.Status != nil:
		return "state"
	case o.Cue != nil:
		return "cue"
	case o.Manoeuvre != nil:
		return "manoeuvre"
	case o.Exercise != nil:
		return "exercise"
	case o.Note != nil:
		return "note"
	case o.Lull != nil:
		return "lull"
	}
	return ""
}

// Time returns when the output was made.
func (o Output) Time() Time {
	switch {
	case o.Status != nil:
		return o.Status.T
	case o.Cue != nil:
		return o.Cue.T
	case o.Manoeuvre != nil:
		return o.Manoeuvre.T
	case o.Exercise != nil:
		return o.Exercise.T
	case o.Note != nil:
		return o.Note.T
	case o.Lull != nil:
		return o.Lull.T
	}
	return 0
}

// MarshalJSON writes the output as one object whose first field is its type.
func (o Output) MarshalJSON() ([]byte, error) {
	var body []byte
	var err error
	switch {
	case o.Status != nil:
		body, err = json.Marshal(o.Status)
	case o.Cue != nil:
		body, err = json.Marshal(o.Cue)
	case o.Manoeuvre != nil:
		body, err = json.Marshal(o.Manoeuvre)
	case o.Exercise != nil:
		body, err = json.Marshal(o.Exercise)
	case o.Note != nil:
		body, err = json.Marshal(o.Note)
	case o.Lull != nil:
		body, err = json.Marshal(o.Lull)
	default:
		return nil, fmt.Errorf("an output must carry a value, this one is empty")
	}
	if err != nil {
		return nil, err
	}
	return append([]byte(`{"type":"`+o.Type()+`",`), body[1:]...), nil
}

// UnmarshalJSON reads what MarshalJSON wrote. An unknown type is an error.
func (o *Output) UnmarshalJSON(b []byte) error {
	var head struct {
		Type string `json:"type"`
	}
	if err := json.Unmarshal(b, &head); err != nil {
		return err
	}
	*o = Output{}
	switch head.Type {
	case "state":
		o.Status = new(Status)
		return json.Unmarshal(b, o.Status)
	case "cue":
		o.Cue = new(Cue)
		return json.Unmarshal(b, o.Cue)
	case "manoeuvre":
		o.Manoeuvre = new(Manoeuvre)
		return json.Unmarshal(b, o.Manoeuvre)
	case "exercise":
		o.Exercise = new(Exercise)
		return json.Unmarshal(b, o.Exercise)
	case "note":
		o.Note = new(Note)
		return json.Unmarshal(b, o.Note)
	case "lull":
		o.Lull = new(Lull)
		return json.Unmarshal(b, o.Lull)
	}
	return fmt.Errorf("expected an output of type state, cue, manoeuvre, exercise, note or lull, got %q", head.Type)
}
