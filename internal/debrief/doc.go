// Package debrief makes the review of a session: what was sailed, how each tack
// went, what it cost, which cues were answered, and three plain sentences.
//
// Feed a Builder every input and output of the session in their order and ask it
// for the Report; Build does so for a session held in memory. WriteHTML writes a
// report as one page that needs nothing beside it.
//
// It judges only what it can see. Where the wind, the heel or the position was
// not known it says so and leaves the number out; where an answer to a cue cannot
// be seen (a sheet moves unseen) it says that it cannot tell. It lays no blame:
// it speaks of lengths, metres and seconds.
//
// Times are counted from the start of the session, because the engine knows only
// UTC and the sailor's clock shows something else.
package debrief
