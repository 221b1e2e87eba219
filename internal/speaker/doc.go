// Package speaker makes cues heard: on this machine's loudspeaker, or into a WAV
// file that holds what the sailor would have heard.
//
// Open returns a Player on the loudspeaker, or a silent one that keeps the same
// time where there is none and says why. Play hands it an utterance; what became
// of each (started, finished, dropped, failed) is told through Config.Told.
// Render writes a whole session to a file.
//
// One Reel decides for all of them: one utterance at a time, danger cuts in at
// once, and what cannot begin before it expires is dropped, never spoken late.
package speaker

// Describe says whether this program was built with the loudspeaker or without.
func Describe() string { return "built " + built }
