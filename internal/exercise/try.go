package exercise

import "helmcue/internal/boat"

// try is one attempt at an exercise: a small state machine that the boat drives.
type try interface {
	// step takes the next moment and returns what the try wants in it.
	step(s *Sight) move
}

// move is what a try wants at one moment. A prompt or a turn is wished for once, at
// the moment it comes up; whether it was spoken shows in the sights that follow.
type move struct {
	text   string        // what it waits for or measures, for people
	begun  bool          // from here on it counts
	prompt *boat.Prompt  // ID and Since are the runner's to fill
	turn   boat.TurnWish // likewise, and Call
	mute   boat.Mute
	end    *end
}

// end is what came of a try.
type end struct {
	void   bool // it does not count
	good   bool
	why    string // for people, with the numbers
	result string // the variant of the result that is spoken; empty: by good alone
	score  map[string]float64
}

func void(why string) move            { return move{end: &end{void: true, why: why}} }
func failed(result, why string) move  { return move{begun: true, end: &end{result: result, why: why}} }
func waiting(text string) move        { return move{text: text} }
func (m move) muted(w boat.Mute) move { m.mute = w; return m }

// spoke returns the cue with the key that was spoken since the last moment.
func (s *Sight) spoke(k boat.Key) (boat.Cue, bool) {
	for _, c := range s.said {
		if c.Key == k {
			return c, true
		}
	}
	return boat.Cue{}, false
}
