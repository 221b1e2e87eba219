package lesson

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/phrase"
	"helmcue/internal/sim"
	"helmcue/voices"
)

// Log is a lesson as it truly was.
type Log struct {
	Setup   Setup
	Start   boat.Time
	LengthM float64
	VarDeg  float64     // magnetic variation, east positive
	Truths  []sim.Truth // a tenth of a second apart, the first one after Start
	Cues    []Spoken
}

// Spoken is a cue with how things stood when it was begun.
type Spoken struct {
	boat.Cue
	Seconds float64   // its clips last
	Now     sim.Truth // not what the engine believed
}

// Over is the truths from a to b seconds after the time, before it negative.
func (l *Log) Over(t boat.Time, a, b float64) []sim.Truth {
	at := int(math.Round(10 * t.Seconds(l.Start)))
	lo, hi := max(0, at+int(10*a)), max(0, min(len(l.Truths), at+int(10*b)))
	return l.Truths[min(lo, hi):hi]
}

// Eye is how many seconds after the time the bow or stern crosses the wind; ok is
// false where she does not cross it within ten seconds before or after.
func (l *Log) Eye(t boat.Time) (after float64, ok bool) {
	best := math.Inf(1)
	ts := l.Over(t, -10, 10)
	for i := 1; i < len(ts); i++ {
		if ts[i-1].TWADeg*ts[i].TWADeg <= 0 {
			if d := ts[i].T.Seconds(t); math.Abs(d) < math.Abs(best) {
				best = d
			}
		}
	}
	return best, !math.IsInf(best, 1)
}

func meanOf(ts []sim.Truth, f func(sim.Truth) float64) float64 {
	sum := 0.0
	for _, x := range ts {
		sum += f(x)
	}
	return sum / float64(max(1, len(ts)))
}

// mouth knows how long words take.
type mouth struct{ voice *voices.Voice }

func newMouth() (mouth, error) {
	v, err := voices.Load("")
	return mouth{v}, err
}

// seconds is how long the clips of a cue last, and its words.
func (m mouth) seconds(c boat.Cue) (float64, string, error) {
	line, err := phrase.Find(c)
	if err != nil {
		return 0, "", fmt.Errorf("cue %s: %w", c.Key, err)
	}
	s := 0.0
	for _, name := range line.Clips {
		clip, ok := m.voice.Clips[name]
		if !ok {
			return 0, "", fmt.Errorf("cue %s: the voice has no clip %q", c.Key, name)
		}
		s += clip.Seconds
	}
	return s, line.Words, nil
}
