package boat

import "slices"

// Plan is a list of exercises, sailed in order: the next opens when enough tries of
// the one before were good. Package exercise says what the names mean.
type Plan struct {
	Name  string `json:"name"`
	Title string `json:"title,omitzero"`
	// CallTurns says that whoever chose the plan answers for the room: the coach may
	// then say the moment of a tack that an exercise asks for. Without it, and
	// without a chart, the sailor chooses the moment.
	CallTurns bool       `json:"call_turns,omitzero"`
	Steps     []PlanStep `json:"steps"`
}

// PlanStep is one exercise of a plan. A zero means what the exercise itself brings.
type PlanStep struct {
	Exercise string  `json:"exercise"`
	Good     int     `json:"good,omitzero"`    // so many good tries
	Of       int     `json:"of,omitzero"`      // among the last so many open the next step
	Minutes  float64 `json:"minutes,omitzero"` // of trying, before it rests for a while
	Lengths  float64 `json:"lengths,omitzero"` // boat lengths: what the exercise measures in them
	Seconds  float64 `json:"seconds,omitzero"` // how long a try lasts, where the exercise is one of time
}

// Equal says whether two plans ask for the same. A nil plan equals only nil.
func (p *Plan) Equal(q *Plan) bool {
	if p == nil || q == nil {
		return p == q
	}
	return p.Name == q.Name && p.Title == q.Title && p.CallTurns == q.CallTurns && slices.Equal(p.Steps, q.Steps)
}

// Guide is what an exercise under way asks of the coach. The zero Guide asks nothing.
type Guide struct {
	Name   string   // of the exercise
	Prompt *Prompt  // to be spoken as soon as it may be
	Turn   TurnWish // to be prepared
	Mute   Mute     // what the coach keeps to himself meanwhile
}

// Prompt is a cue that an exercise would have spoken. Its headings are true; the
// coach turns them into what the sailor's compass shows, and holds back an order
// that is not safe.
type Prompt struct {
	ID      int // counts up; a new one is a new wish
	Key     Key
	Variant string
	TrueDeg Reading // of headings and bearings, 0..360
	Amount  Reading // of changes, degrees
	Since   Time
	WhyCode string
	Why     string
}

// TurnWish is a turn that an exercise would have made. Kind is empty for none.
type TurnWish struct {
	ID   int    // counts up; a new one is a new wish
	Kind string // tack or gybe
	Call bool   // say the moment too; else it is prepared, and the sailor chooses it
	Why  string
}

// Mute is what the coach keeps to himself. Danger, warnings and the way out of
// irons are never muted.
type Mute struct {
	Helm  bool // corrections of the course
	Sheet bool // corrections of the sheet
	All   bool // everything
}
