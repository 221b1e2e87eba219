package speaker

import (
	"context"
	"sync"
	"time"

	"go.uber.org/zap"
)

// Config is what a Player needs.
type Config struct {
	Clips Clips
	Told  func(Event) // what became of utterances; called from the player's goroutine
	Log   *zap.Logger
	Off   bool // do not touch the loudspeaker
}

// Player speaks on this machine. Make it with Open, run it with Run.
type Player struct {
	cfg    Config
	out    output
	reason string // why there is no sound; empty where there is

	mu   sync.Mutex // guards reel; a leaf: nothing is called under it that waits
	reel Reel
	told chan Event
}

// output is a way out for samples.
type output interface {
	start(fill func([]float32)) // begins to pull samples
	err() error                 // what broke, if anything
	stop()
}

// Open tries the loudspeaker. Without one the player is silent, keeps the time
// the words would have taken, and Silent says why.
func Open(cfg Config) *Player {
	if cfg.Log == nil {
		cfg.Log = zap.NewNop()
	}
	p := &Player{cfg: cfg, reel: Reel{Clips: cfg.Clips}, told: make(chan Event, 64)}
	if cfg.Off {
		p.reason = "switched off"
		return p
	}
	out, err := openDevice()
	if err != nil {
		p.reason = err.Error()
		return p
	}
	p.out = out
	return p
}

// Silent returns why nothing is heard on this machine, or "" where it is.
func (p *Player) Silent() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.reason
}

// Play hands over an utterance; it never waits. Decoding happens here, in the
// caller's time, so that the device never waits for it.
func (p *Player) Play(u Utterance) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.reel.Add(u, time.Now().UnixMilli())
}

// Run plays until ctx ends. It returns when nothing of the player runs any more.
func (p *Player) Run(ctx context.Context) {
	if p.out != nil {
		p.out.start(p.fill)
		defer p.out.stop()
	}
	tick := time.NewTicker(20 * time.Millisecond)
	defer tick.Stop()
	last := time.Now()
	for {
		select {
		case <-ctx.Done():
			return
		case e := <-p.told:
			p.cfg.Told(e)
		case now := <-tick.C:
			p.watch()
			if p.Silent() != "" {
				p.pace(now.Sub(last))
			}
			last = now
		}
	}
}

// watch notices a device that went away: oto opens a context without complaint
// on a machine without a card, tells by Err some time later, and its players
// then never finish.
func (p *Player) watch() {
	if p.out == nil || p.Silent() != "" {
		return
	}
	err := p.out.err()
	if err == nil {
		return
	}
	p.cfg.Log.Warn("no sound on this machine: cues are shown, and spoken by the phone's page; connect a loudspeaker and start again", zap.Error(err))
	p.mu.Lock()
	p.reason = err.Error()
	p.mu.Unlock()
}

// fill is called by the device for its next samples.
func (p *Player) fill(out []float32) {
	p.mu.Lock()
	if p.reason != "" { // the device failed: the clock paces the words now
		clear(out)
		p.mu.Unlock()
		return
	}
	ev := p.reel.Fill(out, time.Now().UnixMilli())
	p.mu.Unlock()
	p.pass(ev)
}

// pace lets the words pass unheard.
func (p *Player) pace(d time.Duration) {
	n := min(int(d.Seconds()*Rate), Rate)
	p.mu.Lock()
	ev := p.reel.Fill(make([]float32, n), time.Now().Add(-d).UnixMilli())
	p.mu.Unlock()
	p.pass(ev)
}

// pass queues events for Run; where nobody takes them they are lost rather than
// hold up the device.
func (p *Player) pass(ev []Event) {
	for _, e := range ev {
		select {
		case p.told <- e:
		default:
			p.cfg.Log.Warn("what the loudspeaker did was not taken in time", zap.Int("cue", e.ID), zap.String("what", e.What))
		}
	}
}
