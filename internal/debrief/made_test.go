package debrief

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// made is a session made up second by second, with numbers easy to check by hand.
type made struct {
	Session
	t    boat.Time
	at   geo.Position
	lean float64
	now  boat.Status
}

const start boat.Time = 1_770_000_000_000

// newMade begins close-hauled on starboard in a wind from 270: best angle 45,
// four knots expected and sailed, heel 10.
func newMade() *made {
	m := &made{t: start, at: geo.Position{LatDeg: 47, LonDeg: -30}, lean: 10}
	m.Config = Config{Name: "Tuesday afternoon", Voice: "a voice"}
	m.in(boat.Input{Kind: boat.SettingsIn, Settings: &boat.Settings{Boat: "Wren", LengthM: 4}})
	m.now = boat.Status{
		Mode: boat.CloseHauled, TWDKnown: true, TWDDeg: boat.Some(270), TWDLoDeg: boat.Some(262), TWDHiDeg: boat.Some(278),
		TWSKn: boat.Some(9), TWADeg: boat.Some(45), TargetTWA: boat.Some(45), TargetKn: boat.Some(4), Share: boat.Some(1), SOGKn: boat.Some(4),
	}
	return m
}

func (m *made) in(in boat.Input) {
	in.T = m.t
	m.Inputs = append(m.Inputs, in)
}

// sail lets seconds pass as things stand, with a sample and a status in each.
func (m *made) sail(seconds int) {
	for range seconds {
		m.t += 1000
		heading := geo.Wrap360(270 - m.now.TWADeg.Or(90))
		mps := float64(m.now.Share.Or(1)*m.now.TargetKn.Or(3)) * geo.KnotMS
		m.at.LatDeg += mps * math.Cos(geo.Rad(heading)) / 111_000
		m.at.LonDeg += mps * math.Sin(geo.Rad(heading)) / 76_000
		m.in(boat.Input{Kind: boat.SampleIn, Sample: &boat.Sample{
			LatDeg: boat.Some(m.at.LatDeg), LonDeg: boat.Some(m.at.LonDeg), HeelDeg: boat.Some(m.lean),
		}})
		s := m.now
		s.T, s.Heading = m.t, boat.Some(heading)
		m.out(boat.Output{Status: &s})
	}
}

func (m *made) out(o boat.Output) { m.Outputs = append(m.Outputs, o) }

func (m *made) at45(share float64) { m.set(boat.CloseHauled, 45, share) }
func (m *made) angle(deg float64)  { m.now.TWADeg = boat.Some(deg) }
func (m *made) set(mode boat.Mode, twa, share float64) {
	m.now.Mode, m.now.TWADeg, m.now.Share = mode, boat.Some(twa), boat.Some(share)
}

// say makes a cue now; ids count up.
func (m *made) say(key boat.Key, words string, amount boat.Reading) int {
	id := 1
	for _, o := range m.Outputs {
		if o.Cue != nil {
			id++
		}
	}
	m.out(boat.Output{Cue: &boat.Cue{T: m.t, ID: id, Key: key, Words: words, Amount: amount, Urgency: boat.Steer, Why: "because of its numbers"}})
	return id
}

// tack turns through the wind in ten seconds and loses that many metres.
func (m *made) tack(lost float64) {
	from, to := m.t, "port"
	if m.now.TWADeg.Val < 0 {
		to = "starboard"
	}
	twa := m.now.TWADeg.Val
	m.now.Mode = boat.Tacking
	for i := range 10 {
		m.now.TWADeg = boat.Some(twa * (1 - float64(i+1)/5))
		m.now.Share = boat.Some(0.5)
		m.sail(1)
	}
	m.set(boat.CloseHauled, -twa, 1)
	settled := m.t
	m.out(boat.Output{Manoeuvre: &boat.Manoeuvre{
		T: m.t, Kind: "tack", Start: from, Eye: from + 5000, Settled: &settled, TurnDeg: boat.Some(92),
		RecoveredS: boat.Some(9), LostM: boat.Some(lost), LostLen: boat.Some(99), To: to,
	}})
}
