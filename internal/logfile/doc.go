// Package logfile reads any log of a session as inputs for the engine, whichever
// form it is in. The form is told from the content, never from a name: own
// recording, NMEA 0183 lines, JSON lines as a page sends them, GPX, FIT, CSV.
//
// Open looks at the beginning; then NextLine returns the inputs of one line of
// the log after the other, or Next one input after the other. Both end with
// io.EOF. JSON lines and NMEA are read as they come: a call returns as soon as
// its line is there, so that another program can wait for the answer to each
// line. A track is read whole by Open.
//
// A line that cannot be used costs that line alone: Report says how many were
// kept and skipped and why. The package refuses content of no known form, a log
// in which nothing can be used, and lines beyond a megabyte. Of an own recording
// it returns what went into the engine, settings too, and not what came out.
package logfile
