package cue

import (
	"helmcue/internal/boat"
)

// class orders candidates: a larger one goes first.
type class int

const (
	praising class = iota
	teaching
	lesson // what an exercise has to say
	steering
	warning
	confirming
	turning // the phases of a turn, and the instructor's own words
	danger
)

// urgency is what the listener is told of the class. A confirmation is praise
// that cannot wait.
func (c class) urgency() boat.Urgency {
	return []boat.Urgency{boat.Praise, boat.Teach, boat.Teach, boat.Steer, boat.Warning, boat.Praise, boat.InTurn, boat.Danger}[c]
}

// candidate is a cue that a rule would have spoken now. The rule fills the cue's
// Key, Variant, Amount, Size, Ref, Conf, WhyCode and Why; the arbiter the rest.
type candidate struct {
	cue   boat.Cue
	class class
	since boat.Time // since when the reason holds: the longer, the earlier its turn
	life  float64   // seconds it may still be begun
	wait  float64   // seconds of silence after it, before scaling by the boat
	again float64   // seconds before the same key (and variant, for system) may come again
	over  float64   // how many dead bands off; 0 where the rule has no dead band
	done  func()    // called when it is spoken; may be nil
}

// aim is what an order works on, so that opposite orders and changes of focus
// are seen.
type aim int

const (
	nothing aim = iota
	sheet
	helm
	weight
)

// pull returns what a cue works on and which way: sheet in, up to the wind and
// weight out are +1. Orders of one step after another (irons) have no way.
func pull(c boat.Cue) (aim, int) {
	switch c.Key {
	case boat.Trim, boat.SheetIn:
		return sheet, 1
	case boat.Ease, boat.EaseOut, boat.LetGo:
		return sheet, -1
	case boat.LuffTest, boat.Back, boat.Hold:
		return sheet, 0
	case boat.HeadUp:
		return helm, 1
	case boat.BearAway:
		return helm, -1
	case boat.SteerTo, boat.Straighten:
		return helm, 0
	case boat.SitOut:
		return weight, 1
	case boat.SitIn:
		return weight, -1
	}
	return nothing, 0
}

// opposite says whether two cues order opposite things.
func opposite(a, b boat.Cue) bool {
	aimA, wayA := pull(a)
	aimB, wayB := pull(b)
	return aimA == aimB && wayA*wayB < 0
}

// correction says whether the cue counts against the budget of corrections.
func (c candidate) correction() bool { return c.class == steering || c.class == teaching }
