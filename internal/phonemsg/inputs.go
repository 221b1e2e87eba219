package phonemsg

import (
	"math"
	"strconv"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// ClockMap turns a time by the sender's clock into one on the session's time
// line. Package clock makes one for each phone; nil takes the sender's clock as
// the time line, as for a log.
type ClockMap func(sent boat.Time) boat.Time

// ToInputs returns what the engine is to be told, in the order of the message,
// each with the sender's clock in Sent. Types that are no business of the
// engine (join, bye) give none. received is used where the message has no time.
// An instructor's wind becomes a wind fix of method chase; level and limit stay
// acts: see Change.
func ToInputs(m Msg, received boat.Time, clock ClockMap) []boat.Input {
	in := func(kind boat.Kind, sent boat.Time) boat.Input {
		at := sent
		switch {
		case sent == 0 && clock != nil:
			at = received
		case clock != nil:
			at = clock(sent)
		}
		return boat.Input{T: at, Sent: sent, Kind: kind, Source: "phone"}
	}
	switch m.Type {
	case "sample", "samples":
		out := make([]boat.Input, len(m.Samples))
		for i := range m.Samples {
			out[i] = in(boat.SampleIn, m.Samples[i].T)
			out[i].Sample = wrapped(m.Samples[i].Sample)
		}
		return out
	case "hidden":
		return []boat.Input{in(boat.Hidden, m.T)}
	case "shown":
		return []boat.Input{in(boat.Shown, m.T)}
	}
	one := in(boat.Tick, m.T)
	switch {
	case m.WindFix != nil:
		one.Kind, one.WindFix = boat.WindFixIn, m.WindFix
	case m.Answer != nil:
		one.Kind, one.Answer = boat.AnswerIn, m.Answer
	case m.Spoken != nil:
		one.Kind, one.Spoken = boat.SpokenIn, dated(m.Spoken, clock)
	case m.Delay != nil:
		one.Kind = boat.ActIn
		one.Act = &boat.Act{Act: soundDelay, Text: strconv.FormatFloat(m.Delay.S, 'f', -1, 64), From: "phone"}
	case m.Act != nil:
		acted(&one, m.Act)
	default:
		return nil
	}
	return []boat.Input{one}
}

// wrapped brings the 360 that compasses and receivers may send to 0.
func wrapped(s boat.Sample) *boat.Sample {
	for _, r := range []*boat.Reading{&s.COGDeg, &s.HeadingDeg, &s.TWDDeg} {
		if r.OK {
			r.Val = geo.Wrap360(r.Val)
		}
	}
	return &s
}

// dated brings the times of a cue of the phone's own engine to the session's line.
func dated(s *boat.Spoken, clock ClockMap) *boat.Spoken {
	if s.Own == nil || clock == nil {
		return s
	}
	out, own := *s, *s.Own
	own.T, own.Expires = clock(own.T), clock(own.Expires)
	out.Own = &own
	return &out
}

// soundDelay is the act that a page's sound_delay becomes.
const soundDelay = "sound_delay"

func acted(in *boat.Input, a *Act) {
	in.Source = "instructor"
	if a.Act == "wind" {
		in.Kind = boat.WindFixIn
		in.WindFix = &boat.WindFix{DirDeg: a.DirDeg, Ref: a.Ref, SDDeg: a.SDDeg, Kn: a.Kn, Method: "chase"}
		return
	}
	in.Kind = boat.ActIn
	in.Act = &boat.Act{Act: a.Act, Phrase: a.Phrase, Text: a.Text, From: "instructor"}
	switch a.Act {
	case "level":
		in.Act.Text = a.Level
	case "limit":
		in.Act.Text = strconv.FormatFloat(a.Kn.Val, 'f', -1, 64)
	}
}

// Change returns the settings after an act that changes them (an instructor's level
// or limit, a phone's sound delay), whose Text holds the new value, and whether it
// was one. The caller hands the result
// to the engine as a settings input, since settings are replaced as a whole.
func Change(s boat.Settings, a boat.Act) (boat.Settings, bool) {
	switch a.Act {
	case "level":
		return s, s.Level.UnmarshalText([]byte(a.Text)) == nil
	case "limit":
		kn, err := strconv.ParseFloat(a.Text, 64)
		if err != nil || !(kn > 0) || math.IsInf(kn, 0) {
			return s, false
		}
		s.LimitKn = kn
		return s, true
	case soundDelay:
		sec, err := strconv.ParseFloat(a.Text, 64)
		if err != nil || !(sec >= 0 && sec <= maxDelayS) {
			return s, false
		}
		s.DelayS = sec
		return s, true
	}
	return s, false
}
