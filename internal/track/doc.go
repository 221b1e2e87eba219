// Package track reads tracks that other devices and programs recorded, into
// samples: GPX, FIT (record messages) and CSV with a header row.
//
// GPX, FIT and CSV each read a whole file and return a Log: its inputs in order
// of time, and what was kept and left out and why. A file cut off in the middle
// gives all before the cut, and Log.Cut says so.
//
// Where a point has no speed or course over the ground, both are worked out from
// the positions of the last few seconds, and Log.Derived counts how many: they
// lag by about two seconds and are only as good as the positions. A course is
// left absent where she moved too little for it to mean anything.
//
// Points without a time, or earlier than one before, are left out and counted.
// Readings out of range are absent. CSV columns are listed at CSV.
package track
