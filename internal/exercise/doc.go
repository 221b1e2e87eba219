// Package exercise is what a sailor practises on the water: a list of exercises
// (All), each with a short spoken introduction, a start and an end told by the
// boat's state, a score and a spoken result; and the Runner that leads through a
// plan of them. New makes a Runner, SetPlan gives it the plan, Step takes the boat
// at one moment, ten times a second, and returns what the coach is asked for and
// what is to be put out; Answer, Act and Heard take what people and the loudspeaker did.
//
// Everything begins by doing: after the introduction a try begins when the boat does
// what it is about. Two knocks say yes where one is asked for, and next after a
// result; three ask for quiet, and the exercise waits. The next step of a plan opens
// when enough of the last tries were good, three of four where nothing else is said.
//
// The package refuses to ask: nothing is introduced or asked for on an unknown wind
// or a doubtful side of it, near irons, while she is not sailing, when the phone is
// not heard, near the shore, over her wind limit; and without a chart of the water,
// or a person's word that there is room, it never says the moment of a turn and sets
// no mark. What it waits for instead stands in the text of what it puts out. Scores
// compare a sailor with herself: they hang on the wind believed and on her polar.
package exercise
