package boat

// Key names a cue by what it asks. See Keys for all of them.
type Key string

// The keys, in the order of the cue book.
const (
	LetGo       Key = "let_go"
	Ease        Key = "ease"
	Trim        Key = "trim"
	Back        Key = "back"
	LuffTest    Key = "luff_test"
	Hold        Key = "hold"
	SitOut      Key = "sit_out"
	SitIn       Key = "sit_in"
	HeadUp      Key = "head_up"
	BearAway    Key = "bear_away"
	SteerTo     Key = "steer"
	Straighten  Key = "straighten"
	Look        Key = "look"
	BuildSpeed  Key = "build_speed"
	TooSlow     Key = "too_slow"
	PrepareTack Key = "prepare_tack"
	PrepareGybe Key = "prepare_gybe"
	TurnNow     Key = "turn_now"
	SheetIn     Key = "sheet_in"
	EaseOut     Key = "ease_out"
	LetRun      Key = "let_run"
	Good        Key = "good"
	InIrons     Key = "irons"
	MindBoom    Key = "mind_boom"
	Lifted      Key = "lifted"
	Headed      Key = "headed"
	DeadAir     Key = "dead_air"
	OverLimit   Key = "over_limit"
	Shore       Key = "shore"
	OtherBoat   Key = "other_boat"
	Bearing     Key = "bearing"
	Dark        Key = "dark"
	Rest        Key = "rest"
	WindLost    Key = "wind_lost"
	System      Key = "system"
	Intro       Key = "intro"
	Result      Key = "result"
	Say         Key = "say"
)

// Keys returns every key, in the order of the cue book.
func Keys() []Key {
	return []Key{LetGo, Ease, Trim, Back, LuffTest, Hold, SitOut, SitIn, HeadUp, BearAway, SteerTo,
		Straighten, Look, BuildSpeed, TooSlow, PrepareTack, PrepareGybe, TurnNow, SheetIn, EaseOut,
		LetRun, Good, InIrons, MindBoom, Lifted, Headed, DeadAir, OverLimit, Shore, OtherBoat,
		Bearing, Dark, Rest, WindLost, System, Intro, Result, Say}
}

// Size is how much sheet a trim cue asks for.
type Size string

// The sizes; the zero Size names none.
const (
	Hair   Size = "hair"
	Little Size = "little"
	More   Size = "more"
)

// Cue is one thing to be said. Amount is degrees: a change for head_up,
// bear_away, lifted and headed; a heading or bearing, 0..360 from Ref, for
// steer, prepare_tack, prepare_gybe and bearing.
type Cue struct {
	T       Time    `json:"t"`
	ID      int     `json:"id"` // counts up from 1 in each session
	Key     Key     `json:"key"`
	Variant string  `json:"variant,omitzero"` // which of the key's phrases, as package phrase names them
	Words   string  `json:"words"`
	Amount  Reading `json:"amount,omitzero"`
	Size    Size    `json:"size,omitzero"`
	Side    string  `json:"side,omitzero"` // port or starboard
	Ref     Ref     `json:"ref,omitzero"`  // with every heading or bearing
	Level   Level   `json:"level"`
	Urgency Urgency `json:"urgency"`
	Expires Time    `json:"expires"` // not to be begun after this
	Conf    float64 `json:"conf"`    // 0..1, how sure the rule is that this is right
	WhyCode string  `json:"why_code"`
	Why     string  `json:"why"`
}
