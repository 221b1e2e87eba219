package debrief

import (
	"cmp"
	"slices"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Builder gathers a session as it streams by. It keeps one row a second, the
// cues and the manoeuvres: about a quarter of a kilobyte for each second.
type Builder struct {
	about Config
	set   boat.Settings
	rows  []row
	turns []boat.Manoeuvre
	cues  []Said
	heard map[int]string // by cue: what became of it; looked up, never ranged over
	own   map[int]bool   // cues of the phone's own that are among cues; looked up only
	told  bool           // something came back from a speaker at all
	marks []Mark

	practised []Practised
	planDone  bool

	place  geo.Position
	placed boat.Time
	hasPos bool
	heel   tally
	water  WaterSeen
	saw    seen
}

// seen is what the sensors offered at any time.
type seen struct {
	samples, position, heel, worn, log bool
}

// row is one second of the session.
type row struct {
	t         boat.Time
	mode      boat.Mode
	known     bool // the wind, with its side
	pos       geo.Position
	posOK     bool
	twaDeg    boat.Reading
	targetTWA boat.Reading
	targetKn  boat.Reading
	share     boat.Reading
	sogKn     boat.Reading
	heading   boat.Reading
	heelDeg   boat.Reading
	twdDeg    boat.Reading
	loDeg     boat.Reading
	hiDeg     boat.Reading
	twsKn     boat.Reading
}

// A position older than this is not where a later second was sailed.
const staleS = 5

// latest is the year 2286: a later time is no time of a session, and differences
// of such times do not fit.
const latest boat.Time = 1e13

// NewBuilder makes a Builder for one session.
func NewBuilder(c Config) *Builder {
	return &Builder{about: Config{Name: plain(c.Name), Voice: plain(c.Voice)}, heard: map[int]string{}, own: map[int]bool{}}
}

// Input takes the next input of the session.
func (b *Builder) Input(in boat.Input) {
	switch {
	case in.Kind == boat.SampleIn && in.Sample != nil:
		b.sample(in.T, *in.Sample)
	case in.Kind == boat.SettingsIn && in.Settings != nil:
		b.set = *in.Settings
		b.set.Boat = plain(b.set.Boat)
	case in.Kind == boat.SpokenIn && in.Spoken != nil:
		b.spoken(*in.Spoken)
		if own := in.Spoken.Own; own != nil && !b.own[own.ID] {
			b.own[own.ID] = true
			b.cue(*own, true)
		}
	case in.Kind == boat.ActIn && in.Act != nil && in.Act.Act == "mark":
		b.marks = append(b.marks, Mark{T: in.T, Text: plain(in.Act.Text)})
	}
}

func (b *Builder) sample(t boat.Time, s boat.Sample) {
	b.saw.samples = true
	if s.LatDeg.OK && s.LonDeg.OK {
		b.place = geo.Position{LatDeg: s.LatDeg.Val, LonDeg: s.LonDeg.Val}
		b.placed, b.hasPos, b.saw.position = t, true, true
	}
	if s.WaterKn.OK {
		b.saw.log = true
	}
	mount := s.Mount
	if mount == "" {
		mount = b.set.Mount
	}
	if mount == boat.Worn { // the lean is the body's
		b.saw.worn = true
		return
	}
	if s.HeelDeg.OK {
		b.saw.heel = true
		b.heel.add(s.HeelDeg)
	}
}

// replaced is what became of a cue in whose place the phone spoke by itself.
const replaced = "replaced"

// spoken keeps the best that became of a cue: one listener is enough.
func (b *Builder) spoken(s boat.Spoken) {
	b.told = true
	switch was := b.heard[s.ID]; s.What {
	case "started", "finished":
		b.heard[s.ID] = "heard"
	case "dropped", "failed":
		if was == "" {
			b.heard[s.ID] = s.What
		}
		if was == "" && s.Note == boat.PhoneSpoke {
			b.heard[s.ID] = replaced
		}
	}
}

// Output takes the next output of the session.
func (b *Builder) Output(o boat.Output) {
	switch {
	case o.Status != nil:
		b.status(*o.Status)
	case o.Manoeuvre != nil:
		m := *o.Manoeuvre
		m.Kind, m.To = plain(m.Kind), plain(m.To)
		b.turns = append(b.turns, m)
	case o.Exercise != nil:
		b.exercise(*o.Exercise)
	case o.Cue != nil:
		b.cue(*o.Cue, false)
	}
}

func (b *Builder) cue(c boat.Cue, own bool) {
	c.Words, c.Why, c.Key = plain(c.Words), plain(c.Why), boat.Key(plain(string(c.Key)))
	b.cues = append(b.cues, Said{Cue: c, Own: own, Pos: b.place, PosOK: b.fresh(c.T)})
}

// said lists the cues in the order of their time. Where the phone spoke by itself its
// own stand there, and not what the service would have said.
func (b *Builder) said() []Said {
	var out []Said
	for _, c := range b.cues {
		if c.Own || b.heard[c.ID] != replaced {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(x, y Said) int { return cmp.Compare(x.T, y.T) })
	return out
}

// status adds a row. One that does not come after the last row is left out:
// everything later looks rows up by time.
func (b *Builder) status(s boat.Status) {
	if n := len(b.rows); n > 0 && s.T <= b.rows[n-1].t || s.T < 0 || s.T > latest {
		return
	}
	r := row{
		t: s.T, mode: s.Mode, known: s.TWDKnown && s.TWDDeg.OK, pos: b.place, posOK: b.fresh(s.T),
		twaDeg: s.TWADeg, targetTWA: s.TargetTWA, targetKn: s.TargetKn, share: s.Share, sogKn: s.SOGKn,
		heading: s.Heading, heelDeg: b.heel.mean(), twdDeg: s.TWDDeg, loDeg: s.TWDLoDeg, hiDeg: s.TWDHiDeg, twsKn: s.TWSKn,
	}
	if !r.known { // angles to a wind that is not known judge nothing
		r.twaDeg, r.targetTWA, r.share, r.targetKn = boat.Reading{}, boat.Reading{}, boat.Reading{}, boat.Reading{}
	}
	if s.SetDeg.OK && s.DriftKn.OK {
		b.water = WaterSeen{s.SetDeg, s.DriftKn}
	}
	b.heel = tally{}
	b.rows = append(b.rows, r)
}

func (b *Builder) fresh(t boat.Time) bool {
	return b.hasPos && t.Seconds(b.placed) <= staleS
}
