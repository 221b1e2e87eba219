// Package clock maps a phone's clock to the service's time line.
//
// A message can only be late, never early, so the phone's offset is the least
// (received - sent) there was, allowed to grow slowly because clocks drift.
// Samples that waited while the link was down are late by minutes and so never
// move the estimate: they keep their own time, mapped.
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
	// driftPPM bounds how fast the estimate may grow: ordinary quartz is within
	// 100 parts per million, 0.36 s an hour (common practice, no source).
	driftPPM = 100
	// oddMS is how far from the estimate a message's offset must be to be odd.
	// It must exceed the spread of ordinary network delay.
	oddMS = 1500
	// agreeMS and agreeForMS: odd messages that agree within the first for the
	// second mean that the phone's clock was set anew.
	agreeMS    = 700
	agreeForMS = 4000
	// wrongMS is when a phone's clock is wrong enough to tell the sailor.
	wrongMS = 5 * 60 * 1000
)

// Estimator holds what is known about one sender's clock. The zero value is
// ready to use.
type Estimator struct {
	known    bool
	offset   float64   // service minus sender, ms
	received boat.Time // latest arrival, never falls
	sent     boat.Time // latest sent that was mapped, on the present offset
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

// Observe takes a message sent at sent by the sender's clock, and received at
// received by the service's. A received that falls back counts as the latest.
func (e *Estimator) Observe(sent, received boat.Time) {
	received = max(received, e.received)
	took := float64(received - sent)
	if !e.known {
		e.known, e.offset, e.received = true, took, received
		return
	}
	grown := e.offset + float64(float64(received-e.received)*(driftPPM*1e-6))
	e.received = received
	if took >= grown-oddMS && took <= grown+oddMS {
		e.offset = min(grown, took)
		e.odd = odd{}
		return
	}
	e.offset = grown
	e.observeOdd(sent, took)
}

// observeOdd follows a run of odd messages and adopts their offset when they
// have agreed for long enough, by both clocks. Late messages do not agree: a
// waiting batch arrives faster than it was sent.
func (e *Estimator) observeOdd(sent boat.Time, took float64) {
	o := &e.odd
	lo, hi := min(o.lo, took), max(o.hi, took)
	if o.since == 0 || hi-lo > agreeMS {
		*o = odd{since: e.received, sentAt: sent, lo: took, hi: took}
		return
	}
	o.lo, o.hi = lo, hi
	if e.received-o.since < agreeForMS || sent-o.sentAt < agreeForMS/2 {
		return
	}
	e.offset, e.odd = o.lo, odd{}
	e.sent = sent // mapped stays: the time line itself does not step back
	e.resets++
}

// Map returns sent on the service's time line. It is never later than the
// latest arrival, and never falls while sent does not, until the sender's clock
// is set anew. Before the first Observe it returns sent.
func (e *Estimator) Map(sent boat.Time) boat.Time {
	if !e.known {
		return sent
	}
	at := sent + boat.Time(e.offset)
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

// OffsetS returns the service's clock minus the sender's, in seconds, and
// whether anything was observed.
func (e *Estimator) OffsetS() (float64, bool) { return e.offset / 1000, e.known }

// Resets returns how often the sender's clock was found to be set anew.
func (e *Estimator) Resets() int { return e.resets }

// Complaint returns one sentence for the sailor where the sender's clock is
// minutes off, else "". The mapping holds all the same.
func (e *Estimator) Complaint() string {
	if !e.known || (e.offset < wrongMS && e.offset > -wrongMS) {
		return ""
	}
	off, how := e.offset/60000, "behind"
	if off < 0 {
		off, how = -off, "ahead of"
	}
	return fmt.Sprintf("the phone's clock is %.0f minutes %s this machine's: times are corrected, but set it right", off, how)
}
