package engine

import (
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/cue"
	"helmcue/internal/geo"
)

// askedS is how long after a cue about the helm her heading shows what was asked
// for and not where the wind is: taken as evidence it would prove the coach right
// whatever he said.
const askedS = 60.0

// request is the last heading that was asked for, and whether she sails it. One who
// does not hear, as in the log of a boat that was sailed without the coach, is not led
// by what is said: her headings stay evidence.
type request struct {
	at   boat.Time // 0: none
	from boat.Reading
	turn float64      // degrees asked for, clockwise positive; 0: not told by degrees
	to   boat.Reading // or the true heading
	sum  float64      // of her turn so far, over the seconds in which an answer shows
	n    float64
}

const (
	answerFromS = 8.0 // a hand is this slow, and she has turned
	answerTillS = 20.0
	leastPart   = 0.25 // of what was asked, in the mean, to count as an answer
	leastAnswer = 1.5  // degrees
	steersTo    = 12.0 // degrees
)

// ask remembers what a cue asks of the helm.
func (r *request) ask(c boat.Cue, sit cue.Situation) {
	*r = request{at: sit.Now, from: sit.State.HeadingDeg}
	way := math.Copysign(1, sit.TWADeg.Or(0))
	switch {
	case !sit.TWADeg.OK:
	case c.Key == boat.HeadUp:
		r.turn = way * c.Amount.Or(5)
	case c.Key == boat.BearAway:
		r.turn = -way * c.Amount.Or(5)
	case c.Key == boat.SteerTo && c.Amount.OK:
		r.to = boat.Some(sit.State.FromCompass(c.Amount.Val, c.Ref))
	}
}

// watch follows her heading after a request.
func (r *request) watch(sit cue.Situation) {
	ago := sit.Now.Seconds(r.at)
	if h := sit.State.HeadingDeg; h.OK && r.from.OK && ago >= answerFromS && ago <= answerTillS {
		r.sum += geo.Diff(r.from.Val, h.Val)
		r.n++
	}
}

// answered says whether she did what was asked. What cannot be told is taken as done.
func (r *request) answered() bool {
	if r.n == 0 || r.turn == 0 && !r.to.OK {
		return true
	}
	turned := r.sum / r.n
	if r.to.OK {
		return math.Abs(geo.Diff(geo.Wrap360(r.from.Val+turned), r.to.Val)) <= steersTo
	}
	return turned*math.Copysign(1, r.turn) >= math.Max(leastAnswer, leastPart*math.Abs(r.turn))
}

// leads says whether her heading now is one that was asked for.
func (r *request) leads(now boat.Time) bool {
	ago := now.Seconds(r.at)
	return r.at != 0 && ago < askedS && (ago <= answerTillS || r.answered())
}
