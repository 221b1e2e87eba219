// Package lesson sails simulated learners with a coach and without, in the same
// winds, and measures what the coaching is worth: way made good to windward, lengths
// lost in tacks, time in irons, and what is left of it when the voice goes quiet.
// Beside it stands an all-knowing coach who sees the truth and is held to the same
// budget of words: what could be gained at best by a voice alone.
//
// The calls you need: Sail for one lesson, Run for many on all cores, Table to show
// what came of them. It decides nothing and sets no bar: it measures.
package lesson
