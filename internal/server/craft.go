package server

import (
	"time"

	"helmcue/internal/boat"
	"helmcue/internal/phonemsg"
)

const (
	quietAfter   = 3 * time.Second // without a message, at ten samples a second
	compassStale = 5 * time.Second
)

// craft is what the hub knows about one boat.
type craft struct {
	name     string
	page     *link // the page that speaks for her, nil where there is none
	hadPage  bool
	lost     bool // had a page, and has none now
	heardAt  time.Time
	status   *boat.Status
	statusAt time.Time
	told     *phonemsg.Told
	turns    phonemsg.Turns
	exercise *boat.Exercise

	deaf      bool
	accM      boat.Reading
	batt      boat.Reading
	sound     string
	compassAt time.Time
	windAt    time.Time
}

// heard takes note of what a page told about itself. An instructor's acts say
// nothing about the sailor's page.
func (c *craft) heard(ins []boat.Input, now time.Time, by phonemsg.Role) {
	if by == phonemsg.Sailor {
		c.heardAt = now
	}
	for _, in := range ins {
		switch in.Kind {
		case boat.SampleIn:
			c.sampled(in.Sample, now)
		case boat.Hidden:
			c.deaf = true
		case boat.Shown:
			c.deaf = false
		case boat.WindFixIn:
			c.windAt = now
		case boat.SpokenIn:
			c.spoken(in.Spoken)
		case boat.ActIn:
			if endsExercises(in.Act) {
				c.exercise = nil
			}
		}
	}
}

// endsExercises says whether an act ends whatever was practised. The engine has
// nothing more to say of it then, and the last word must not stand for ever.
func endsExercises(a *boat.Act) bool {
	return a != nil && (a.Act == "exercise" && a.Text == "stop" || a.Act == "plan" && a.Phrase == "")
}

func (c *craft) sampled(s *boat.Sample, now time.Time) {
	if s.AccM.OK {
		c.accM = s.AccM
	}
	if s.Batt.OK {
		c.batt = s.Batt
	}
	if s.HeadingDeg.OK {
		c.compassAt = now
	}
}

// spoken keeps where sound was last heard; a dropped cue says nothing about that.
func (c *craft) spoken(s *boat.Spoken) {
	switch s.What {
	case "failed":
		c.sound = "failed"
	case "started", "finished":
		c.sound = s.Where
	}
}

func (c *craft) turned(m boat.Manoeuvre) {
	if m.Kind == "gybe" {
		c.turns.Gybes++
		return
	}
	c.turns.Tacks++
	c.turns.Last = m.LostLen
	if m.LostLen.OK && (!c.turns.Best.OK || m.LostLen.Val < c.turns.Best.Val) {
		c.turns.Best = m.LostLen
	}
}

func (c *craft) health(now time.Time) phonemsg.Health {
	h := phonemsg.Health{Link: c.link(now), Deaf: c.deaf, AccM: c.accM, Batt: c.batt, Sound: c.sound,
		Compass: !c.compassAt.IsZero() && now.Sub(c.compassAt) < compassStale}
	if !c.windAt.IsZero() {
		h.WindAgeS = boat.Some(max(0, now.Sub(c.windAt).Seconds())).Round(1)
	}
	return h
}

// link is judged by the page where there is or was one, and by the engine's own
// signs of life for a boat heard through instruments.
func (c *craft) link(now time.Time) string {
	at := c.heardAt
	if !c.hadPage {
		at = c.statusAt
	}
	switch {
	case c.lost:
		return "lost"
	case now.Sub(at) > quietAfter:
		return "quiet"
	}
	return "ok"
}
