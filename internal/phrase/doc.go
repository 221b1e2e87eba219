// Package phrase turns a cue into the words that are spoken and the clips that
// speak them. Find does one cue; Book is the one list of what can be said, and
// All and Clips walk through it, so that a voice can be checked for missing and
// unused clips with Missing and Unused.
//
// A clip is one text spoken as a whole, named by Clip(text). Headings are
// rounded to 5 degrees and spoken as one clip after their stem, never digit by
// digit. The package refuses, with an error, a cue that the book has no words
// for at its level: silence is better than words nobody measured.
package phrase
