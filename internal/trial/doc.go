// Package trial sails seeded sessions of the simulator through the engine and
// scores what the engine believed of the wind against the truth: how far off, how
// soon known, how honest about it, and how near to the best that any filter could
// have done on that session (bound.go).
//
// The calls you need: Sail for one session, Run for a whole list on all cores,
// Table and Store to show and keep what came of it, and Real for a recording whose
// truth is known from elsewhere.
//
// It refuses a truth file without times and directions. It decides nothing and
// sets no bar: it measures.
package trial
