package debrief

import (
	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Report is a session reviewed. Times of day are boat.Time; how long something
// took is seconds.
type Report struct {
	Name    string
	Boat    string
	Voice   string
	LengthM float64 // overall, the unit of "lengths"
	Start   boat.Time
	End     boat.Time

	SailedS  float64 // under way by sail
	MotoredS float64
	UnsureS  float64 // under way, but how was not known
	KnownS   float64 // of SailedS, with the wind known
	Wind     WindSeen
	Water    WaterSeen
	Target   OnTarget
	Turns    []Turn
	Said     []Said
	Marks    []Mark
	Costs    []Cost // what metres went on, most first

	Well     string // what went well, one sentence
	MostCost string // what cost most, one sentence
	Practise string // one thing to practise next, one sentence

	Exercises []Practised
	Next      string // which exercise comes next, one sentence; empty where none was sailed

	Missing []string

	rows []row
}

// WindSeen is the wind of the session: its mean direction in the first and last
// third of the time it was known (from, true, 0..360) and its mean speed.
type WindSeen struct {
	FirstDeg boat.Reading
	LastDeg  boat.Reading
	Kn       boat.Reading
}

// WaterSeen is the current as it was last told: where it went, true, 0..360, and how
// fast. Both are absent where none was sure.
type WaterSeen struct {
	SetDeg  boat.Reading
	DriftKn boat.Reading
}

// OnTarget counts seconds on and off target, tacks and gybes left out.
type OnTarget struct {
	SpeedS       float64 // with a speed to compare with
	SpeedOnS     float64 // of these, at nine tenths of it or more
	UpwindS      float64 // close-hauled with the wind known
	UpwindOnS    float64 // of these, within 5 degrees of the best angle
	UpwindHighS  float64 // closer to the wind than that
	UpwindLowS   float64 // further off than that
	LongestFastS float64 // longest run without a break at eight tenths of the speed or more
	LongestFastT boat.Time
}

// Turn is one tack or gybe with its loss in lengths of this boat, absent where
// it was not scored or ran on into another course.
type Turn struct {
	boat.Manoeuvre
	LostLengths boat.Reading
}

// Said is one cue, where the boat was then and what came of it.
type Said struct {
	boat.Cue
	Own     bool // the phone's, which spoke by itself
	Pos     geo.Position
	PosOK   bool
	Answer  Answer
	Because string // the numbers that Answer rests on, for people
}

// Mark is a moment that the instructor marked.
type Mark struct {
	T    boat.Time
	Text string
}

// Report reviews what was taken so far. The Builder may go on afterwards.
func (b *Builder) Report() Report {
	r := Report{
		Name: b.about.Name, Boat: b.set.Boat, Voice: b.about.Voice, LengthM: b.set.LengthM,
		Water: b.water, Marks: append([]Mark(nil), b.marks...), rows: b.rows[:len(b.rows):len(b.rows)],
	}
	if !(r.LengthM > 0) {
		r.LengthM = boat.DefaultLengthM
	}
	r.span()
	for _, m := range b.turns {
		r.Turns = append(r.Turns, turn(m, r.LengthM))
	}
	r.sum()
	r.weigh()
	r.Said = b.said()
	r.answers(b.told, b.heard)
	r.sentences()
	r.Exercises, r.Next = append([]Practised(nil), b.practised...), b.next()
	r.missing(b.saw, b.told, b.set.Polar == nil)
	return r
}

func (r *Report) span() {
	if n := len(r.rows); n > 0 {
		r.Start, r.End = r.rows[0].t, r.rows[n-1].t
	}
}

// A turn further round than this ran on into another course: against keeping on
// it says nothing about the turn.
const ranOnDeg = 140

func turn(m boat.Manoeuvre, lengthM float64) Turn {
	t := Turn{Manoeuvre: m}
	if m.TurnDeg.OK && m.TurnDeg.Val > ranOnDeg {
		return t
	}
	if t.LostLengths = m.LostLen; m.LostM.OK { // the same length throughout, also where settings came late
		t.LostLengths = boat.Some(m.LostM.Val / lengthM)
	}
	return t
}

// underWayKn is the speed from which she is not merely swinging or drifting.
const underWayKn = 1.0

// sum counts the seconds.
func (r *Report) sum() {
	var first, last []float64
	var kn tally
	known := 0
	for _, w := range r.rows {
		if w.known {
			known++
		}
	}
	at := 0
	for i, w := range r.rows {
		s := r.lasts(i)
		if w.mode == boat.Motoring {
			r.MotoredS += s
		}
		if w.mode == boat.Unknown && w.sogKn.Or(0) >= underWayKn {
			r.UnsureS += s
		}
		if w.mode.Sailing() || w.mode == boat.Irons {
			r.SailedS += s
			if w.known {
				r.KnownS += s
			}
		}
		if !w.known {
			continue
		}
		at++
		kn.add(w.twsKn)
		if 3*at <= known || known < 3 {
			first = append(first, w.twdDeg.Val)
		}
		if 3*at > 2*known {
			last = append(last, w.twdDeg.Val)
		}
	}
	r.Wind = WindSeen{FirstDeg: direction(first), LastDeg: direction(last), Kn: kn.mean()}
}

// lasts returns for how many seconds row i stands: until the next, two at most,
// so that a gap counts for nothing.
func (r *Report) lasts(i int) float64 {
	if i+1 >= len(r.rows) {
		return 1
	}
	if s := r.rows[i+1].t.Seconds(r.rows[i].t); s > 0 && s <= 2 {
		return s
	}
	return 1
}
