// Package clock maps a phone's clock to the service's time line.
//
// A message can only be late, never early, so offset and drift of a phone's clock
// are those of the line under all (received - sent) of the last twenty minutes.
// Samples that waited while the link was down are late by minutes and so never
// move the estimate; they keep their own time, mapped by the line of their day:
// across a gap the offset is taken to have drifted evenly from where it was before
// to where it is found afterwards.
//
// Observe every message when it arrives, then Map its times. An Estimator
// serves one sender and one goroutine. It refuses to follow a single odd time:
// a clock that was set anew is believed once several seconds of messages agree.
package clock

import (
	"fmt"

	"helmcue/internal/boat"
)

const (
	// oddMS is how far from the estimate a message's offset must be to be odd.
	// It must exceed the spread of ordinary network delay.
	oddMS = 1500
	// agreeMS and agreeForMS: odd messages that agree within the first for the
	// second mean that the phone's clock was set anew.
	agreeMS    = 700
	agreeForMS = 4000
	// gapMS is a silence after which the line is drawn anew: the clock may have
	// drifted otherwise meanwhile.
	gapMS = 5 * 60 * 1000
	// knotsMost is how many ends of gaps are remembered, for what still comes of them.
	knotsMost = 32
	// wrongMS is when a phone's clock is wrong enough to tell the sailor.
	wrongMS = 5 * 60 * 1000
)

// Estimator holds what is known about one sender's clock. The zero value is
// ready to use.
type Estimator struct {
	line     line
	knots    []point   // before each gap, the oldest first: where the line then ended
	received boat.Time // latest arrival, never falls
	sent     boat.Time // latest sent that was mapped, on the present clock
	mapped   boat.Time // what it was mapped to
	odd      odd
	resets   int
}

// odd is a run of messages whose offsets differ from the estimate.
type odd struct {
	since  boat.Time // arrival of the first, 0 where there is no run
	sentAt boat.Time
	lo, hi float64 // range of their offsets, ms
}

func (e *Estimator) known() bool { return len(e.line.low) > 0 }

// Observe takes a message sent at sent by the sender's clock, and received at
// received by the service's. A received that falls back counts as the latest.
func (e *Estimator) Observe(sent, received boat.Time) {
	e.received = max(received, e.received)
	p := point{sent, float64(e.received - sent)}
	if !e.known() {
		e.line.add(p)
		return
	}
	silent := max(sent-e.line.last().sent, 0)
	room := oddMS + float64(driftPPM*1e-6*float64(silent))
	if off := p.took - e.line.at(sent); off < -room || off > room {
		e.observeOdd(p)
		return
	}
	e.odd = odd{}
	if silent > gapMS {
		e.knot()
	}
	e.line.add(p)
}

// knot ends the line before a gap.
func (e *Estimator) knot() {
	end := e.line.last().sent
	e.knots = append(e.knots, point{end, e.line.at(end)})
	if len(e.knots) > knotsMost {
		e.knots = e.knots[1:]
	}
	e.line = line{}
}

// observeOdd follows a run of odd messages and adopts their offset when they
// have agreed for long enough, by both clocks. Late messages do not agree: a
// waiting batch arrives faster than it was sent.
func (e *Estimator) observeOdd(p point) {
	o := &e.odd
	lo, hi := min(o.lo, p.took), max(o.hi, p.took)
	if o.since == 0 || hi-lo > agreeMS {
		*o = odd{since: e.received, sentAt: p.sent, lo: p.took, hi: p.took}
		return
	}
	o.lo, o.hi = lo, hi
	if e.received-o.since < agreeForMS || p.sent-o.sentAt < agreeForMS/2 {
		return
	}
	e.knots, e.line = nil, line{} // times of the old clock mean nothing on the new one
	e.line.add(point{p.sent, o.lo})
	e.odd = odd{}
	e.sent = p.sent // mapped stays: the time line itself does not step back
	e.resets++
}

// offset returns the offset at a time of the sender's, also one long past.
func (e *Estimator) offset(sent boat.Time) float64 {
	first := e.line.low[0].sent
	if len(e.knots) == 0 || sent >= first {
		return e.line.at(sent)
	}
	after := point{first, e.line.at(first)}
	for i := len(e.knots) - 1; i >= 0; i-- {
		k := e.knots[i]
		if sent >= k.sent {
			return k.took + float64(slope(k, after)*float64(sent-k.sent))
		}
		after = k
	}
	return after.took
}

// Map returns sent on the service's time line. It is never later than the
// latest arrival, and never falls while sent does not, until the sender's clock
// is set anew. Before the first Observe it returns sent.
func (e *Estimator) Map(sent boat.Time) boat.Time {
	if !e.known() {
		return sent
	}
	at := sent + boat.Time(e.offset(sent))
	if at > e.received+oddMS {
		return e.received // an odd time from the future must not become the latest
	}
	at = min(at, e.received)
	if sent < e.sent {
		return at
	}
	at = max(at, e.mapped)
	e.sent, e.mapped = sent, at
	return at
}

// OffsetS returns the service's clock minus the sender's, in seconds, for what is
// sent now, and whether anything was observed.
func (e *Estimator) OffsetS() (float64, bool) {
	if !e.known() {
		return 0, false
	}
	return e.line.at(e.line.last().sent) / 1000, true
}

// DriftPPM returns how much faster the service's clock runs than the sender's, in
// parts per million, -300 to 300, and whether it was heard for long enough to say.
func (e *Estimator) DriftPPM() (float64, bool) {
	if !e.line.long() {
		return 0, false
	}
	return e.line.slope * 1e6, true
}

// Resets returns how often the sender's clock was found to be set anew.
func (e *Estimator) Resets() int { return e.resets }

// Complaint returns one sentence for the sailor where the sender's clock is
// minutes off, else "". The mapping holds all the same.
func (e *Estimator) Complaint() string {
	off, known := e.OffsetS()
	if off *= 1000; !known || (off < wrongMS && off > -wrongMS) {
		return ""
	}
	off, how := off/60000, "behind"
	if off < 0 {
		off, how = -off, "ahead of"
	}
	return fmt.Sprintf("the phone's clock is %.0f minutes %s this machine's: times are corrected, but set it right", off, how)
}
