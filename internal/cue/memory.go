package cue

import (
	"math"

	"helmcue/internal/boat"
)

// Times of the coach's own silence, seconds.
const (
	rememberS  = 600.0 // what was said is kept for the budgets
	startS     = 20.0  // after she gets under way
	idleS      = 20.0  // so long a rest makes a new start
	breatherS  = 180.0 // so long a rest ends a stretch of work
	shockS     = 60.0  // after irons, a capsize or much heel
	quietS     = 120.0 // asked for by the sailor
	steepDeg   = 30.0  // heel that frightens
	beginFocus = 45.0
	focusS     = 20.0
)

// said is a cue that was handed out, with how long its words take.
type said struct {
	cue        boat.Cue
	class      class
	seconds    float64
	correction bool
	heard      bool // a loudspeaker began it
	again      float64
}

// memory is what the coach remembers of the session. Times are 0 for never.
type memory struct {
	first     boat.Time // first call
	now       boat.Time
	said      []said
	busyTill  boat.Time // a cue is being spoken
	waitTill  boat.Time // silence after the last
	quietTill boat.Time // the sailor or instructor asked for it
	shockTill boat.Time
	steep     spell
	started   boat.Time // since when she is under way
	idleSince boat.Time
	sailed    boat.Time // last seen sailing on a known wind
	turned    boat.Time // last seen in a turn
	mode      boat.Mode
	lastMode  boat.Mode // the one before mode
	beat      boat.Time // last seen close-hauled
	workS     float64   // of sailing since the last breather
	asked     *ask
	answers   [weight + 1]int // requests answered, by what they work on
	focus     aim
	focusFrom boat.Time
	lastGood  boat.Time
	repeat    boat.Time // when the sailor asked to hear the last cue again
	doneAt    boat.Time // when the sailor said it was done
	sayings   []saying
	plan      plan
	notes     []boat.Note
	chartSaid bool
	lull      *boat.Lull // where she lost way, until it is handed on
	limitCode string     // why it blows over the limit
	limitWhy  string
}

// observe brings the memory up to the present situation.
func (m *memory) observe(v *view) {
	now := v.Now
	dt := 0.0
	if m.first == 0 {
		m.first, m.idleSince, m.mode, m.lastMode = now, now, v.Mode, v.Mode
	} else {
		dt = math.Min(now.Seconds(m.now), 2)
	}
	m.now = now
	m.forget()
	m.noteMode(v)
	if v.Mode.Sailing() && v.Wind.Known {
		m.sailed = now
	}
	if v.inTurn() {
		m.turned = now
	}
	m.noteWork(v, dt)
	m.noteShock(v)
	if m.quietTill != 0 && now >= m.quietTill {
		m.quietTill = 0
		m.note("quiet_over", "the quiet that was asked for is over")
	}
}

// noteShock lets silence follow a fright. A single reading of much heel, a wave or
// a knock, holds words back only while it lasts.
func (m *memory) noteShock(v *view) {
	m.steep.see(v.Now, math.Abs(v.State.HeelDeg.Or(0)) > steepDeg && v.State.Mount != boat.Worn)
	switch {
	case v.Mode == boat.Capsized || v.Mode == boat.Irons || m.steep.lasted(v.Now, 0.5):
		m.shockTill = v.Now.After(shockS)
	case m.steep.on:
		m.shockTill = max(m.shockTill, v.Now.After(1))
	}
}

func (m *memory) noteMode(v *view) {
	if v.Mode != m.mode {
		m.lastMode, m.mode = m.mode, v.Mode
	}
	if v.Mode == boat.CloseHauled {
		m.beat = v.Now
	}
}

func (m *memory) noteWork(v *view, dt float64) {
	if !v.moving() && v.Mode != boat.Irons {
		if m.idleSince == 0 {
			m.idleSince = v.Now
		}
		if v.Now.Seconds(m.idleSince) >= breatherS {
			m.workS = 0
		}
		return
	}
	m.workS += dt
	if m.started == 0 || m.idleSince != 0 && v.Now.Seconds(m.idleSince) >= idleS {
		m.started = v.Now
		m.chart(v)
	}
	m.idleSince = 0
}

// chart says once that nothing is known of the water.
func (m *memory) chart(v *view) {
	if !m.chartSaid && !v.Water.Charted {
		m.chartSaid = true
		m.note("no_chart", "there is no chart of this water: the coach starts no tack, gybe or course by itself, and its silence is no all-clear")
	}
}

func (m *memory) note(code, text string) {
	m.notes = append(m.notes, boat.Note{T: m.now, Code: code, Text: text})
}

func (m *memory) forget() {
	first := 0
	for first < len(m.said) && m.now.Seconds(m.said[first].cue.T) > rememberS {
		first++
	}
	m.said = m.said[first:]
}

// last returns the last cue that any of the keys named, or any at all without keys.
func (m *memory) last(keys ...boat.Key) (said, bool) {
	for i := len(m.said) - 1; i >= 0; i-- {
		if len(keys) == 0 {
			return m.said[i], true
		}
		for _, k := range keys {
			if m.said[i].cue.Key == k {
				return m.said[i], true
			}
		}
	}
	return said{}, false
}

// since returns the seconds since one of the keys (any without keys) was last
// said, or more than is remembered.
func (m *memory) since(keys ...boat.Key) float64 {
	s, ok := m.last(keys...)
	if !ok {
		return 2 * rememberS
	}
	return m.now.Seconds(s.cue.T)
}

// saidSince says whether one of the keys was said at t or later.
func (m *memory) saidSince(t boat.Time, keys ...boat.Key) bool {
	s, ok := m.last(keys...)
	return ok && s.cue.T >= t
}

// widen is how much wider the dead band of rules that work on a stands: by half
// once three of their requests were answered.
func (m *memory) widen(a aim) float64 {
	if m.answers[a] >= 3 {
		return 1.5
	}
	return 1
}

// keep remembers a cue that is being handed out.
func (m *memory) keep(k candidate, v *view) {
	s := said{cue: k.cue, class: k.class, seconds: speakS(k.cue), correction: k.correction(), again: k.again}
	m.said = append(m.said, s)
	m.busyTill = v.Now.After(v.delayS() + s.seconds)
	wait := k.wait * v.tauFactor()
	if v.light {
		wait *= 2
	}
	m.waitTill = m.busyTill.After(wait)
	if a, _ := pull(k.cue); (a == sheet || a == helm) && k.correction() && (a != m.focus || v.Now >= m.focusEnd(v)) {
		m.focus, m.focusFrom = a, v.Now
	}
	if k.cue.Key == boat.Good || k.cue.Key == boat.Hold {
		m.lastGood = v.Now
	}
}

func (m *memory) focusEnd(v *view) boat.Time {
	if m.focus == nothing {
		return 0
	}
	if v.beginner() {
		return m.focusFrom.After(beginFocus)
	}
	return m.focusFrom.After(focusS)
}
