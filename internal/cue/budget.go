package cue

import (
	"math"

	"helmcue/internal/boat"
)

// The word budget outside turns. The shares leave room for the estimate of
// speaking time being short.
const (
	airShare    = 0.075 // of the time, spoken
	praiseShare = 0.9   // of that, beyond which praise is saved
	besideShare = 0.5   // the same for what is no word of the exercise under way
	airS        = 600.0 // looked at so far back
	airStartS   = 60.0  // credit at the start, of listening time
	lessonS     = 300.0 // the same for exercises, which have most to say at the start
)

// perMinute and perTen are the most corrections in a minute and in ten.
func perMinute(l boat.Level) int {
	if l == boat.Expert {
		return 2
	}
	return 4
}

func perTen(l boat.Level) int {
	if l == boat.Expert {
		return 10
	}
	return 20
}

// byBudget: a coach who talks all the time is not heard.
func byBudget(v *view, k candidate) string {
	if k.class >= turning || k.class == warning {
		return ""
	}
	k.cue.Level = v.Settings.Level
	minute, ten, air := 0, 0, speakS(k.cue)
	for _, s := range v.mem.said {
		ago := v.Now.Seconds(s.cue.T)
		if ago > airS {
			continue
		}
		air += s.seconds
		if s.correction {
			ten++
			if ago <= 60 {
				minute++
			}
		}
	}
	if k.correction() && (minute >= perMinute(v.Settings.Level) || ten >= perTen(v.Settings.Level)) {
		return "budget"
	}
	credit := airStartS
	if k.class == lesson {
		credit = lessonS
	}
	may := airShare * math.Min(airS, credit+v.Now.Seconds(v.mem.first))
	switch {
	case k.class == lesson: // what is to be practised, and how it went
	case v.Guide.Name != "" && k.class != confirming:
		may *= besideShare
	case !k.correction():
		may *= praiseShare
	}
	if air > may {
		return "air time"
	}
	return ""
}
