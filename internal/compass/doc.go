// Package compass learns how wrong the boat's compass is from her own motion,
// together with what else turns her course over the ground away from her bow:
// leeway and current; and how late the receiver's course comes.
//
// New makes an Estimator. Bow gives it what the compass shows, Course what the
// receiver sends, Lean the angle to the wind where somebody knows it. Deviation is
// what to add to what the compass shows, At how far that may be trusted.
//
// The model is the one that compass adjusters use, with the coefficients named as
// they name them, cut after the first harmonic:
//
//	course − shown heading = A + B sin h + C cos h + leeway + the turn by the current
//
// One fact is a quarter of a minute of steady heading. On one tack the terms cannot
// be told apart, and a current looks like B and C as long as her speed stays the
// same. So nothing is fitted: each term has a prior, all are estimated together,
// and only that part of the compass error is taken out of which the facts, not the
// prior, say how large it is. What stays in doubt is in the standard deviation.
//
// It knows no wind of its own and refuses what proves nothing: turns, crawling,
// courses that point far from the bow.
package compass
