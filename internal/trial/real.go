package trial

import (
	"fmt"
	"io"
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/replay"
)

// Recording is a log whose wind is known from elsewhere.
type Recording struct {
	Log, Truth io.Reader
	Settings   boat.Settings // for logs that carry none; the log's own wind is always left out
}

// Below this she does not sail so much as drift, and nearer the wind than
// sailLeastDeg no boat sails: she motors.
const (
	leastSailKn  = 1.0
	sailLeastDeg = 25.0
	nearS        = 6.0 // how far a row of truth may lie from the moment it is used for
)

// Real replays a recording as though it held no wind and scores what is believed
// against its truth, in every second in which she sails by the truth: its mode
// where it has one; else she makes a knot and lies 25 degrees or more off the wind.
// The truth is taken as its mean over a minute: what instruments show swings by the
// second. After and Known count from the beginning; there is no bound, and no shifts
// are judged. The truth is a CSV, plain or
// gzipped, with t (milliseconds since the epoch) or t_utc_s (seconds of the day), and
// twd, or twa and cog, degrees true. Motor counts coaching cues in the
// seconds in which she moves and no sail could move her so.
func Real(r Recording) (*Score, error) {
	raw, err := readTruth(r.Truth)
	if err != nil {
		return nil, err
	}
	m := &matcher{rows: smoothed(raw), score: &Score{Sessions: 1}, shift: math.NaN()}
	set := r.Settings
	set.IgnoreWind = true
	_, err = replay.Run(replay.Job{
		Log: r.Log, Settings: set, Heard: m.heard,
		Change: func(s boat.Settings) boat.Settings { s.IgnoreWind = true; return s },
	})
	if err != nil {
		return nil, fmt.Errorf("replaying the recording: %w", err)
	}
	if m.met == 0 {
		return nil, fmt.Errorf("expected the truth to be of the time of the recording, no second of it is: compare the first times of both")
	}
	m.lock()
	return m.score, nil
}

// matcher lays outputs beside the truth, both in the order of time.
type matcher struct {
	rows  []known
	at    int
	shift float64 // seconds to add to the truth's times to get those of the log
	score *Score
	met   int
	sails bool
	motor bool

	sailed   float64 // seconds
	lockedAt boat.Reading
}

func (m *matcher) heard(o boat.Output) {
	switch {
	case o.Status != nil:
		m.second(*o.Status)
	case o.Cue != nil && m.motor && coaches(o.Cue.Key):
		m.score.Motor++
	}
}

func (m *matcher) second(st boat.Status) {
	t := float64(st.T) / 1000
	if math.IsNaN(m.shift) { // the truth may be of the time of day alone
		m.shift = daySeconds * math.Round((t-m.rows[0].s)/daySeconds)
	}
	t -= m.shift
	for m.at+1 < len(m.rows) && math.Abs(m.rows[m.at+1].s-t) <= math.Abs(m.rows[m.at].s-t) {
		m.at++
	}
	k := m.rows[m.at]
	if math.Abs(k.s-t) > nearS {
		m.sails, m.motor = false, false
		return
	}
	m.met++
	m.sails, m.motor = k.sails()
	if !m.sails {
		return
	}
	m.sailed++
	if st.TWDKnown && !m.lockedAt.OK {
		m.lockedAt = boat.Some(m.sailed)
	}
	if math.IsNaN(k.twd) {
		return
	}
	mo := moment{st: st, twd: k.twd, twa: k.twa, slow: k.twd, after: true}
	if math.Abs(k.twa) < beatUnderDeg {
		mo.mode = boat.CloseHauled
	}
	m.score.take(mo)
}

// beatUnderDeg is where close-hauled ends, off the true wind (common practice, no source).
const beatUnderDeg = 60.0

// sails says whether she sails or motors by the truth; neither where it is not known.
func (k known) sails() (sails, motors bool) {
	if k.mode != "" {
		var m boat.Mode
		if err := m.UnmarshalText([]byte(k.mode)); err == nil {
			return m.Sailing(), m == boat.Motoring
		}
	}
	if math.IsNaN(k.twa) || !(k.sog >= leastSailKn) {
		return false, false
	}
	off := math.Abs(k.twa)
	return off >= sailLeastDeg, off < sailLeastDeg
}

func (m *matcher) lock() {
	if m.lockedAt.OK {
		m.score.Lock = []float64{m.lockedAt.Val}
	} else if m.sailed > 0 {
		m.score.Never = 1
	}
}
