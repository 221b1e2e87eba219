package cue

import (
	"fmt"

	"helmcue/internal/boat"
)

// saying is an instructor's phrase that waits to be spoken.
type saying struct {
	phrase string
	t      boat.Time
}

const sayingS = 20.0

// instructorSays speaks the phrases that an instructor chose, oldest first. One
// that could not be spoken in time is dropped and noted, never said late.
type instructorSays struct{}

func (*instructorSays) propose(v *view) (candidate, bool) {
	m := v.mem
	for len(m.sayings) > 0 && v.Now.Seconds(m.sayings[0].t) > sayingS {
		m.note("say_dropped", fmt.Sprintf("%q could not be said within %.0f s", m.sayings[0].phrase, sayingS))
		m.sayings = m.sayings[1:]
	}
	if len(m.sayings) == 0 {
		return candidate{}, false
	}
	s := m.sayings[0]
	k := candidate{class: turning, since: s.t, life: 5, wait: 4, again: 0}
	k.cue = boat.Cue{Key: boat.Say, Variant: s.phrase, Conf: 1, WhyCode: "instructor", Why: "the instructor said so"}
	k.done = func() { m.sayings = m.sayings[1:] }
	return k, true
}

// Act takes what an instructor did: say (Phrase is the key of a prepared phrase),
// quiet, resume, tack or gybe. Other acts are no matter of the coach.
func (c *Coach) Act(t boat.Time, a boat.Act) {
	m := &c.mem
	m.now = max(m.now, t)
	switch a.Act {
	case "say":
		if a.Phrase != "" {
			m.sayings = append(m.sayings, saying{phrase: a.Phrase, t: m.now})
		}
	case "quiet":
		m.hush("the instructor")
	case "resume":
		m.quietTill = 0
		m.note("quiet_over", "the instructor ended the quiet")
	case "tack", "gybe":
		m.request(a.Act)
	}
}

// Answer takes the sailor's answer: two knocks repeat the last cue while it still
// holds, three ask for two minutes of quiet, Done says that the last request was
// carried out. Any other number of knocks is ignored.
func (c *Coach) Answer(t boat.Time, a boat.Answer) {
	m := &c.mem
	m.now = max(m.now, t)
	switch a.Knocks {
	case 2:
		m.repeat = m.now
	case 3:
		m.hush("the sailor")
	}
	if a.Done {
		m.doneAt = m.now
	}
}

func (m *memory) hush(who string) {
	m.quietTill, m.repeat = m.now.After(quietS), 0
	m.plan = plan{}
	m.note("quiet", fmt.Sprintf("%s asked for quiet: only danger is called for %.0f s", who, quietS))
}

// Spoken takes what became of a cue: started, finished, dropped or failed. A cue
// that nobody heard is not waited for: no praise for an answer to silence. It is
// no reason to say it at once again, so that a dead loudspeaker gets no flood.
func (c *Coach) Spoken(t boat.Time, id int, what string) {
	m := &c.mem
	m.now = max(m.now, t)
	for i := len(m.said) - 1; i >= 0; i-- {
		s := &m.said[i]
		if s.cue.ID != id {
			continue
		}
		switch what {
		case "started":
			s.heard = true
		case "dropped", "failed":
			if !s.heard && m.asked != nil && m.asked.id == id {
				m.asked = nil
			}
		}
		return
	}
}
