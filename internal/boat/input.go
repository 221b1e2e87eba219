package boat

// Input is one thing the engine is told. T orders inputs; Kind says which of
// the pointers is set (none for Tick, Hidden, Shown, LinkLost and LinkBack).
type Input struct {
	T      Time   `json:"t"`
	Sent   Time   `json:"sent,omitzero"` // the sender's own clock, where it gave one
	Kind   Kind   `json:"kind"`
	Source string `json:"source,omitzero"` // phone, nmea, sim, file, instructor, service

	Sample   *Sample   `json:"sample,omitempty"`
	WindFix  *WindFix  `json:"wind_fix,omitempty"`
	Settings *Settings `json:"settings,omitempty"`
	Answer   *Answer   `json:"answer,omitempty"`
	Act      *Act      `json:"act,omitempty"`
	Spoken   *Spoken   `json:"spoken,omitempty"`
	Lull     *Lull     `json:"lull,omitempty"`
}

// FromCommand is the Source of what the person who replays a log gave by hand: it
// holds even when the log's own wind is to be ignored.
const FromCommand = "command"

// Kind is which thing an Input is.
type Kind int

// The kinds of input.
const (
	Tick Kind = iota // nothing but time went by
	SampleIn
	WindFixIn
	SettingsIn
	AnswerIn
	ActIn
	SpokenIn
	Hidden   // the page was left: the phone is deaf from here
	Shown    // the page is back
	LinkLost // no sign of the phone any more
	LinkBack
	LullIn // another boat lost way
)

func kindNames() []string {
	return []string{"tick", "sample", "wind_fix", "settings", "answer", "act", "spoken",
		"hidden", "shown", "link_lost", "link_back", "lull"}
}

// Kinds returns every kind of input.
func Kinds() []Kind { return all[Kind](len(kindNames())) }

func (k Kind) String() string { return name(kindNames(), int(k)) }

// MarshalText writes the name used in recordings.
func (k Kind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// UnmarshalText reads the name used in recordings.
func (k *Kind) UnmarshalText(b []byte) error { return set(k, "kind of input", kindNames(), b) }

// Sample is one set of readings, any of which may be absent. A sentence from an
// instrument is a Sample with the few readings it carries.
type Sample struct {
	Seq        int64   `json:"seq,omitzero"`
	LatDeg     Reading `json:"lat,omitzero"` // -90..90
	LonDeg     Reading `json:"lon,omitzero"` // -180..180
	AccM       Reading `json:"acc,omitzero"` // stated accuracy of the position, metres
	SOGKn      Reading `json:"sog,omitzero"` // over the ground
	COGDeg     Reading `json:"cog,omitzero"` // over the ground, true, 0..360
	HeadingDeg Reading `json:"hdg,omitzero"` // of the bow, 0..360, from HeadingRef
	HeadingRef Ref     `json:"hdgRef,omitzero"`
	VarDeg     Reading `json:"var,omitzero"`   // magnetic variation an instrument states, east positive
	HeelDeg    Reading `json:"heel,omitzero"`  // starboard side down positive, -180..180
	PitchDeg   Reading `json:"pitch,omitzero"` // bow up positive, -90..90
	YawDps     Reading `json:"yaw,omitzero"`   // degrees a second, clockwise positive
	Mount      Mount   `json:"mount,omitzero"`
	Batt       Reading `json:"batt,omitzero"` // share left, 0..1
	WaterKn    Reading `json:"stw,omitzero"`  // through the water
	AWADeg     Reading `json:"awa,omitzero"`  // apparent wind angle off the bow, -180..180, starboard positive
	AWSKn      Reading `json:"aws,omitzero"`  // apparent wind speed
	TWADeg     Reading `json:"twa,omitzero"`  // true wind angle as an instrument computed it, off the bow
	TWSKn      Reading `json:"tws,omitzero"`  // true wind speed as an instrument computed it
	TWDDeg     Reading `json:"twd,omitzero"`  // true wind direction as an instrument computed it, from, true
}

// WindFix is one statement about the wind from outside the boat's motion.
type WindFix struct {
	DirDeg Reading `json:"dir,omitzero"` // from, 0..360, from Ref; absent for head_to_wind: the bow is the wind
	Ref    Ref     `json:"ref,omitzero"` // true where absent
	SDDeg  Reading `json:"sd,omitzero"`  // standard deviation; absent: by method
	Kn     Reading `json:"kn,omitzero"`
	Method string  `json:"method"` // hand, pointed, head_to_wind, meter, chase, forecast
	LatDeg Reading `json:"lat,omitzero"`
	LonDeg Reading `json:"lon,omitzero"`
}

// Settings is everything the sailor or instructor chose. Each Settings input
// replaces the one before as a whole.
type Settings struct {
	Boat       string      `json:"boat,omitzero"`    // name
	LengthM    float64     `json:"length_m"`         // overall, metres; 0 means DefaultLengthM
	Jib        bool        `json:"jib"`              // carries a jib
	Polar      *PolarTable `json:"polar,omitempty"`  // nil: the built-in generic hull
	Level      Level       `json:"level"`            // how much is said
	LimitKn    float64     `json:"limit_kn"`         // the sailor's wind limit; 0 means DefaultLimitKn
	Mount      Mount       `json:"mount,omitzero"`   // where samples do not say
	IgnoreWind bool        `json:"ignore_wind"`      // drop all wind readings and fixes found in the log
	DelayS     float64     `json:"delay_s,omitzero"` // measured from cue to ear; 0 means not measured
	Seed       uint64      `json:"seed,omitzero"`    // for the choice among equal words
	Plan       *Plan       `json:"plan,omitempty"`   // exercises; nil: free sailing
	Water      *Water      `json:"water,omitempty"`  // chart; nil: nothing is known of the water
}

// Values that hold where Settings says nothing.
const (
	DefaultLengthM = 4.2
	DefaultLimitKn = 15.0
)

// PolarTable is boat speed by true wind speed and angle, as loaded and checked
// by package polar: wind speeds and angles strictly ascending, SpeedKn[i][j]
// for TWSKn[i] and TWADeg[j].
type PolarTable struct {
	Name    string      `json:"name,omitzero"`
	TWSKn   []float64   `json:"tws_kn"`
	TWADeg  []float64   `json:"twa_deg"`
	SpeedKn [][]float64 `json:"speed_kn"`
}

// Answer is the sailor's answer without words. Two knocks: repeat, or yes.
// Three: quiet for two minutes. Done is the page's "I did it".
type Answer struct {
	Knocks int  `json:"knocks,omitzero"`
	Done   bool `json:"done,omitzero"`
}

// Act is what an instructor did.
type Act struct {
	Act    string `json:"act"`             // say, mark, quiet, resume, tack, gybe, plan, exercise, settings
	Phrase string `json:"phrase,omitzero"` // say: the key of a prepared phrase; plan, exercise: its name
	Text   string `json:"text,omitzero"`   // mark: a word for the moment; exercise: start, skip or stop
	From   string `json:"from,omitzero"`
}

// PhoneSpoke is the Spoken.Note of a cue that was dropped because the phone, its link
// gone, spoke by itself: its own cues stand in Spoken.Own.
const PhoneSpoke = "the phone spoke by itself"

// Spoken is what became of a cue that was handed out.
type Spoken struct {
	ID    int    `json:"id"`
	Where string `json:"where,omitzero"` // boat (this machine's loudspeaker) or phone
	What  string `json:"what"`           // started, finished, dropped, failed
	Note  string `json:"note,omitzero"`
	Own   *Cue   `json:"own,omitempty"` // a cue of the phone's own engine, which this engine never handed out
}
