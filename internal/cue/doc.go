// Package cue is the coach: it decides what is said, when, and above all when
// nothing is. New makes a Coach; Decide looks at one Situation, about ten times a
// second with ascending Now, and returns the cues to speak now (mostly none) with
// everything filled in but the words. Answer, Act and Spoken tell the Coach what
// sailor, instructor and loudspeaker did; Notes hands out what is worth writing
// down but not worth saying.
//
// Every rule is a small type in a file of its own that proposes one candidate;
// rules lists them all. The arbiter (arbiter.go) orders the candidates, and the
// gates (gates.go) hold back what must not be said now. Times, thresholds and
// waits are common practice of instructors, no source, unless a comment names one.
//
// It refuses to guess: on an unknown wind it gives no order that has a side or
// needs an angle, it gives no order to a boat that is not sailing, and it starts
// no tack, gybe or course of its own: it does not know the water. A silence is
// never an all-clear.
package cue
