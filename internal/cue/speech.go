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
// differ, the most.
func words(c boat.Cue) int {
	switch c.Key {
	case boat.SteerTo:
		return 1
	case boat.SitOut, boat.SitIn, boat.Straighten:
		return 2
	case boat.LetRun, boat.MindBoom, boat.Hold, boat.Back, boat.System, boat.SheetIn, boat.EaseOut, boat.Bearing:
		return 3
	case boat.LetGo, boat.BuildSpeed, boat.TooSlow, boat.TurnNow, boat.Rest, boat.Shore, boat.OtherBoat,
		boat.Lifted, boat.Headed, boat.Good, boat.BearAway, boat.Dark:
		return 4
	case boat.HeadUp, boat.WindLost, boat.Look:
		return 5
	case boat.Ease, boat.Trim, boat.Say:
		return 6
	case boat.PrepareTack, boat.PrepareGybe:
		return wordsBefore(c)
	case boat.InIrons:
		return wordsInIrons(c.Variant)
	case boat.LuffTest, boat.DeadAir, boat.OverLimit:
		return 9
	case boat.Intro:
		return 10
	case boat.Result:
		return 4
	}
	return 6
}

func wordsBefore(c boat.Cue) int {
	switch {
	case c.Level == boat.Beginner:
		return 7
	case c.Key == boat.PrepareTack:
		return 3
	}
	return 5
}

func wordsInIrons(step string) int {
	switch step {
	case "stuck":
		return 6
	case "jib":
		return 3
	}
	return 5
}
