package app

import (
	"time"

	"helmcue/internal/boat"
	"helmcue/internal/phonemsg"
)

// A phone with a coach of its own speaks while the link is gone and keeps what it
// hears. Meanwhile time stands still in the seat's engine, so that it can hear all
// of it later in its right order and know what it would have known. What it would
// have said then was said, or not, by the phone: those cues are recorded as dropped
// and reach nobody. The phone's own are recorded beside them, in its spoken.
const (
	fresh    = boat.Time(2000) // a sample this young: the phone has caught up
	tooLate  = boat.Time(3000) // what an engine says of a time this far back is not spoken
	awayMost = 4 * time.Hour   // longer, and the recording ends without it
	quietest = 3 * time.Second // without a sample, the phone speaks by itself
)

// alone is what a seat knows about a phone that can speak by itself.
type alone struct {
	can     bool // its page has a coach of its own
	away    bool // time stands still
	waiting []boat.Input
	others  time.Time // last sample of another source
}

// joins tells the seat what its phone can do.
func (s *seat) joins(j phonemsg.Join) {
	can := j.OwnEngine()
	select {
	case s.can <- can:
	case <-s.done:
	}
}

// hold says whether the seat's engine waits for its phone. It does not where this
// machine's loudspeaker is in the boat, which must say that the phone is lost, nor
// where instruments go on telling of her.
func (s *seat) hold() bool {
	return s.alone.can && !s.speaksHere && time.Since(s.alone.others) > linkSilent
}

// order takes an input in its turn.
func (s *seat) order(in boat.Input) {
	if in.Kind == boat.SampleIn && in.Source != "phone" {
		s.alone.others = time.Now()
		s.release()
	}
	switch {
	case in.Kind == boat.LinkLost && s.hold():
		s.alone.away = true
	case !s.alone.away:
		s.deliver(in)
	case in.Kind == boat.LinkBack: // what it kept comes next
	case in.Source != "phone":
		s.alone.waiting = append(s.alone.waiting, in)
	default:
		s.catchUp(in)
	}
}

// catchUp takes what a phone that is back tells of the time it was away.
func (s *seat) catchUp(in boat.Input) {
	w := s.alone.waiting
	for len(w) > 0 && w[0].T <= in.T {
		s.deliver(w[0])
		w = w[1:]
	}
	s.alone.waiting = w
	s.deliver(in)
	if in.Kind == boat.SampleIn && in.T >= s.now()-fresh {
		s.release()
	}
}

// release lets time go on.
func (s *seat) release() {
	for _, in := range s.alone.waiting {
		s.deliver(in)
	}
	s.alone.waiting, s.alone.away = nil, false
}

// deliver hands an input to the engine, what changes settings as such, and what the
// phone cannot know to the phone.
func (s *seat) deliver(in boat.Input) {
	s.ready(in)
	if in.Source != "phone" && (in.Kind == boat.ActIn || in.Kind == boat.WindFixIn || in.Kind == boat.LullIn || in.Kind == boat.SampleIn && s.alone.can) {
		s.told(s.name, in)
	}
	if in.Kind == boat.ActIn && in.Act != nil {
		s.changed(in)
	}
	s.step(in)
}

// past says whether an output is of a time the phone was alone in.
func (s *seat) past(out boat.Output) bool {
	return s.alone.away && s.now()-out.Time() > tooLate
}

// unsaid records that a cue of such a time was not spoken from here.
func (s *seat) unsaid(c boat.Cue, t boat.Time) {
	s.step(boat.Input{T: t, Kind: boat.SpokenIn, Source: "service", Spoken: &boat.Spoken{
		ID: c.ID, What: "dropped", Note: boat.PhoneSpoke}})
}
