package app

import (
	"context"
	"sync"

	"go.uber.org/zap"

	"helmcue/internal/boat"
	"helmcue/internal/phrase"
	"helmcue/internal/speaker"
	"helmcue/voices"
)

// voice is this machine's loudspeaker and whose cues it speaks: those of the one
// boat it sails in.
type voice struct {
	v      *voices.Voice
	player *speaker.Player
	boat   string
	events chan speaker.Event
}

func openVoice(cfg Config, boat string) (*voice, error) {
	v, err := voices.Load(cfg.Voice)
	if err != nil {
		return nil, err
	}
	o := &voice{v: v, boat: boat, events: make(chan speaker.Event, 64)}
	o.player = speaker.Open(speaker.Config{Clips: newClipCache(v), Told: o.told, Log: cfg.Log, Off: cfg.Sound == "off"})
	return o, nil
}

func (o *voice) name() string { return o.v.Voice }

// speaksFor says whether a boat's cues are heard on this machine.
func (o *voice) speaksFor(boat string) bool { return boat == o.boat && o.player.Silent() == "" }

func (o *voice) say(c boat.Cue, l phrase.Line) {
	o.player.Play(speaker.Utterance{ID: c.ID, Clips: l.Clips, GapMS: l.GapMS, Twice: l.Twice,
		Danger: c.Urgency == boat.Danger, Expires: int64(c.Expires)})
}

// told is called by the player and must not wait for a seat, which may be
// handing the player its next words.
func (o *voice) told(e speaker.Event) {
	select {
	case o.events <- e:
	default:
	}
}

// run plays, and hands what became of each cue to spoke, until ctx ends.
func (o *voice) run(ctx context.Context, spoke func(string, boat.Spoken)) {
	var wg sync.WaitGroup
	wg.Add(1)
	go func() {
		defer wg.Done()
		o.player.Run(ctx)
	}()
	defer wg.Wait()
	for {
		select {
		case <-ctx.Done():
			return
		case e := <-o.events:
			spoke(o.boat, boat.Spoken{ID: e.ID, Where: "boat", What: e.What, Note: e.Note})
		}
	}
}

// clipCache keeps the clips used lately decoded: all of them would be seventeen
// megabytes, and a session uses a few dozen.
type clipCache struct {
	v *voices.Voice

	mu    sync.Mutex
	known map[string][]float32
	order []string
}

const clipsKept = 48

func newClipCache(v *voices.Voice) *clipCache {
	return &clipCache{v: v, known: map[string][]float32{}}
}

// Samples implements speaker.Clips.
func (c *clipCache) Samples(clip string) ([]float32, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if x, ok := c.known[clip]; ok {
		return x, nil
	}
	x, err := c.v.Samples(clip)
	if err != nil {
		return nil, err
	}
	if len(c.order) >= clipsKept {
		delete(c.known, c.order[0])
		c.order = c.order[1:]
	}
	c.known[clip] = x
	c.order = append(c.order, clip)
	return x, nil
}

// sound says in a sentence where cues are heard.
func (o *voice) sound(log *zap.Logger) string {
	if why := o.player.Silent(); why != "" {
		log.Info("this machine is silent", zap.String("why", why))
		return "Cues are shown, and spoken by the phone's page; this machine is silent: " + why
	}
	return "Cues for " + o.boat + " are spoken on this machine's loudspeaker, in " + o.v.About + "."
}
