// Package sim is a simulated small boat with a learner at the helm on a made-up
// lake: it makes the inputs a phone in the boat would send, and keeps the truth
// beside them.
//
// Make makes a Sim under Conditions: the wind and its shifts, the water, the boat,
// the phone and its faults, the learner and theirs, the course. New makes one of the
// named scenes, of the Catalogue of the evaluation or of the Further ones; Prepare tries
// the boat once for many seeds, Prepared.Under takes her to other conditions. Step lets
// 100 ms pass and returns the inputs of that time; Hear lets the learner hear a cue, to be answered late, imperfectly, the wrong way or not at all;
// Truth says how things really stood; Polar what the boat can do. The same conditions,
// seed and cues give the same inputs on one kind of processor, and a cue heard changes
// neither the weather nor the phone's errors.
//
// The boat is sailed by forces (package force), and her polar comes of trying every
// sheet on every course: no table is shared with the coach, and what the coach
// believes is never handed to it. The learner finds the wind by the luff, with errors
// by skill, forgets what was said and keeps a part of it.
//
// It is no lake: waves are noise on the phone and slow nobody, gusts come
// everywhere at once, other boats and the shore are missing, no one rolls a boat through
// a tack in light air or steers out of a capsize, she runs without a spinnaker and so
// best almost dead before a breeze, and the learner is a guess at how people learn,
// measured on nobody.
package sim
