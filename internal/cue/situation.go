package cue

import "helmcue/internal/boat"

// Situation is everything the rules may look at, at one moment. The engine
// fills it; rules read it and change nothing.
type Situation struct {
	Now       boat.Time
	Settings  boat.Settings // defaults already filled in
	State     boat.State
	Wind      boat.Wind
	TWADeg    boat.Reading // of the bow to the believed wind, -180..180; absent unless Wind.Known
	Target    boat.Target
	Share     boat.Reading // speed over the speed expected at this angle
	Mode      boat.Mode
	ModeSince boat.Time
	Turn      boat.Turn
	Finished  []boat.Manoeuvre // finished since the last call
	Scored    []boat.Manoeuvre // turns old enough for a word since the last call; their scores may yet be refined
	TauS      float64          // the boat's time constant: how long speed takes to answer, seconds
	Shift     boat.Shift       // how far the wind has gone from its mean on this tack
	Guide     boat.Guide       // what an exercise under way asks for
	Water     Water            // what is known of the water
	Deaf      bool             // the phone is hidden or its link lost: say nothing that needs fresh samples
}
