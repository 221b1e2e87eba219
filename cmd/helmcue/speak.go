package main

import (
	"fmt"
	"os"
	"strings"

	"helmcue/internal/boat"
	"helmcue/internal/phrase"
	"helmcue/internal/replay"
	"helmcue/internal/speaker"
	"helmcue/voices"
)

// speaking gathers the cues of a replay, where --speak asks for them, and
// returns what writes the sound afterwards.
func (c *replayCmd) speaking(job *replay.Job) (func(replay.Summary) error, error) {
	if c.Speak == "" {
		if c.Voice != "" {
			return nil, usageError{hint(fmt.Errorf("--voice says nothing without --speak"), "add --speak F.wav")}
		}
		return func(replay.Summary) error { return nil }, nil
	}
	v, err := voices.Load(c.Voice)
	if err != nil {
		return nil, usageError{hint(err, "the voices are "+strings.Join(voices.Names(), " and "))}
	}
	var said []speaker.Timed
	before := job.Heard
	job.Heard = func(o boat.Output) {
		if before != nil {
			before(o)
		}
		if o.Cue != nil {
			if u, ok := utterance(*o.Cue); ok {
				said = append(said, u)
			}
		}
	}
	return func(s replay.Summary) error { return c.render(v, s, said) }, nil
}

func utterance(c boat.Cue) (speaker.Timed, bool) {
	l, err := phrase.Find(c)
	if err != nil {
		return speaker.Timed{}, false
	}
	return speaker.Timed{AtMS: int64(c.T), Utterance: speaker.Utterance{ID: c.ID, Clips: l.Clips, GapMS: l.GapMS,
		Twice: l.Twice, Danger: c.Urgency == boat.Danger, Expires: int64(c.Expires)}}, true
}

// tailMS leaves room for the last words.
const tailMS = 4000

func (c *replayCmd) render(v *voices.Voice, s replay.Summary, said []speaker.Timed) error {
	f, err := os.Create(c.Speak)
	if err != nil {
		return hint(err, "name a file in a folder you may write to with --speak")
	}
	ev, err := speaker.Render(f, v, [2]int64{int64(s.First), int64(s.Last) + tailMS}, said)
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err != nil {
		return err
	}
	dropped := 0
	for _, e := range ev {
		if e.What == "dropped" {
			dropped++
		}
	}
	fmt.Fprintf(os.Stderr, "%d cues spoken into %s by %s, %d dropped for something more urgent or because their time had passed\n",
		len(said)-dropped, c.Speak, v.Voice, dropped)
	return nil
}
