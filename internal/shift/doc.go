// Package shift tells a shift of the wind from the swings about its mean and from
// the helm, and a lift from a header, relative to the mean on this tack.
//
// New makes a Watch; Step gives it one Sight after another in order of time and
// returns the boat.Shift that holds. Asked tells it that the sailor was asked to
// try how close she will go.
//
// What it looks at is her heading while she is close-hauled, where the sailor
// follows the luff and so the wind; with an instrument, the wind itself on any
// course. It knows nothing of the wind from a heading that was asked for, from a
// reach without an instrument, from a turn or the twenty seconds after one, and
// then it says nothing.
//
// The test: headings are meant over blocks of five seconds. What a block brings
// that the one before did not foretell is nearly independent from block to block
// (a first-order autoregression; Box and Jenkins, Time Series Analysis, from
// memory), and is summed in a two-sided cumulative-sum test (Page 1954, from
// memory) whose bar follows from the mean time between false calls by Siegmund's
// approximation. A departure is then judged by her speed: kept, the wind did it;
// lost when higher or gained when lower, as much as her polar says, the helm did.
package shift
