package cue

import (
	"math"

	"helmcue/internal/boat"
)

// Coach decides what is said. Make it with New; it is for one goroutine.
type Coach struct {
	mem   memory
	past  trace
	rules []rule
	limit limitWatch
	twa   boat.Reading // of the view, kept between seconds
	id    int
}

// rule proposes at most one candidate. It is asked at every call, so that it can
// see how long its reason holds, also while nothing may be said.
type rule interface {
	propose(v *view) (candidate, bool)
}

// New makes a Coach that has said nothing yet. The seed decides between choices
// that are equally right.
func New(seed uint64) *Coach { return &Coach{rules: rules(seed)} }

// rules lists every rule. Their order decides between candidates of the same
// class and age, so it is part of the behaviour.
func rules(seed uint64) []rule {
	return []rule{
		&letGo{},
		&mindBoom{},
		&shoreRule{},
		&irons{},
		&instructorSays{},
		&exerciseRule{},
		&turnWord{},
		&straighten{},
		&letRun{},
		&requestedTurn{},
		&confirm{},
		&overLimit{},
		&deadAirRule{},
		&darkRule{},
		&bearingRule{},
		&windLost{},
		&system{},
		&weightRule{},
		&steerRule{},
		&courseAfterTurn{},
		&sheetRule{},
		&shiftRule{},
		&closenessRule{},
		&trimSearch{},
		&luffTest{},
		&rest{},
		&lookAround{turn: int(seed % 3)},
		&goodTack{},
		&praise{},
	}
}

// Decide returns the cues to speak now, at most one, with everything filled in
// but Words. Call it about ten times a second, at least once a second, with
// ascending Now; a call with an earlier Now than the last says nothing.
func (c *Coach) Decide(s Situation) []boat.Cue {
	if s.Now < c.mem.now {
		return nil
	}
	v := &view{Situation: s, mem: &c.mem, past: &c.past, second: c.past.add(s)}
	if v.second {
		c.twa = meanAngle(c.past.in(s.Now, span{2.5, 0}), twaOf)
	}
	v.twa = c.twa
	v.light = s.Target.OK && math.Max(s.Target.HereKn, s.Target.BeatKn) < lightKn
	v.heavy = c.limit.see(v)
	c.mem.observe(v)
	var candidates []candidate
	for _, r := range c.rules {
		if k, ok := r.propose(v); ok {
			candidates = append(candidates, k)
		}
	}
	k, ok := arbitrate(v, candidates)
	if !ok {
		return nil
	}
	return []boat.Cue{c.speak(v, k)}
}

// speak hands the candidate out as a cue.
func (c *Coach) speak(v *view, k candidate) boat.Cue {
	c.id++
	k.cue.ID, k.cue.T, k.cue.Level = c.id, v.Now, v.Settings.Level
	k.cue.Urgency, k.cue.Expires = k.class.urgency(), v.Now.After(k.life)
	if k.class == danger || k.correction() {
		c.mem.asked = nil
	}
	c.mem.keep(k, v)
	c.mem.ask(k, v)
	if k.done != nil {
		k.done()
	}
	return k.cue
}

// Lull returns where she lost way on a straight course, her heel going with it, once
// for each time.
func (c *Coach) Lull() (boat.Lull, bool) {
	l := c.mem.lull
	c.mem.lull = nil
	if l == nil {
		return boat.Lull{}, false
	}
	return *l, true
}

// Notes returns what has come up since the last call that a person may want to
// know and nobody needs to hear, oldest first.
func (c *Coach) Notes() []boat.Note {
	n := c.mem.notes
	c.mem.notes = nil
	return n
}
