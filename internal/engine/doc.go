// Package engine is the coach's whole mind as a pure function over time-stamped
// inputs: New makes an Engine, Step takes one boat.Input and returns what it
// caused, in order of time. The engine never looks at a clock, never waits and
// never fails; the same inputs give the same outputs, live, in replay and in the
// phone's own copy.
//
// Time moves only by inputs. Between two inputs the engine still thinks once a
// second of input time, so that a silence is noticed and a status line stands
// for every second. An input that comes late (its time lies before one already
// seen) is heard with its own time by the filter, but it moves nothing back and
// no cue is made from it.
package engine
