// Package boat is the vocabulary of the core: what comes into the engine (Input
// and what it carries), what goes out of it (Output and what it carries), and
// the values that pass between its stages (State, Wind, Target, Turn).
//
// Everything here is a plain value. Directions are degrees true, 0 to 360,
// clockwise from north, unless a name or comment says otherwise; angles off the
// bow or off the wind are -180 to 180, starboard positive; speeds are knots and
// say so in their names. A reading that is absent is absent, never zero: see
// Reading. The package computes nothing about sailing and looks at no clock.
package boat
