package cue

import "helmcue/internal/boat"

// How long words take, seconds. An estimate and not the clip's length, so that a
// replay without any voice decides as the live session did.
const (
	wordS    = 0.35
	pauseS   = 0.3
	headingS = 1.0
)

// speakS returns how long the cue's words take to say, about, in seconds.
func speakS(c boat.Cue) float64 {
	s := float64(wordS*float64(words(c))) + pauseS
	if c.Ref != "" {
		s += headingS
	}
	return s
}

// words returns how many words the cue has without a heading; where the levels
// differ, the longest.
func words(c boat.Cue) int {
	switch c.Key {
	case boat.SteerTo:
		return 1
	case boat.SitOut, boat.SitIn, boat.Straighten:
		return 2
	case boat.LetRun, boat.MindBoom, boat.Hold, boat.Back, boat.Dark, boat.System, boat.SheetIn, boat.EaseOut:
		return 3
	case boat.LetGo, boat.BuildSpeed, boat.TooSlow, boat.TurnNow, boat.Rest, boat.Shore, boat.OtherBoat,
		boat.Lifted, boat.Headed, boat.Good, boat.Look, boat.BearAway:
		return 4
	case boat.HeadUp, boat.Ease, boat.WindLost, boat.Bearing, boat.Say:
		return 5
	case boat.Trim:
		return 6
	case boat.InIrons, boat.PrepareTack, boat.PrepareGybe:
		return 7
	case boat.LuffTest, boat.DeadAir, boat.OverLimit:
		return 9
	}
	return 6
}
