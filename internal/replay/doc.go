// Package replay puts a log through the engine as fast as it goes and writes
// what came out, one JSON object a line. It is, beside app, the other place
// where rooms are wired together: app is for a live session, replay for a log.
//
// Run does the whole; it refuses a log whose form is not known, and says at the
// end how many lines were kept, skipped and why.
package replay
