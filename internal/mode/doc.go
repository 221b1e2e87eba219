// Package mode tells the ways of sailing apart: close-hauled, reaching, running,
// turning, and the ways in which a coach has nothing to say (waiting, stopped,
// drifting, motoring, irons, capsized, unknown).
//
// New makes a Judge; Step gives it one Sight after another in order of time and
// returns the mode. A mode is held until the evidence for another has lasted, so
// that no cue hangs on one reading. Where the wind is not known it says Unknown
// rather than guess how she sails.
package mode
