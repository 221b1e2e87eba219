// Package sim is a simulated small boat with a learner at the helm on a made-up
// lake: it makes the inputs a phone in the boat would send, and keeps the truth
// beside them.
//
// New makes a Sim of a named scene from a seed; Step lets 100 ms pass and returns
// the inputs of that time; Hear lets the learner hear a cue, to be answered late,
// imperfectly or not at all; Truth says how things really stood. The same scene,
// seed and cues give the same inputs on one kind of processor.
//
// The boat follows a closed form of speed over wind of its own, not the coach's
// polar: what the coach believes is never handed to it. It is no force model: it
// cannot capsize, knows no waves but as noise, and its lake has no shore.
package sim
