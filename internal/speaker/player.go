package speaker

import (
	"context"
	"errors"
	"sync"
	"time"

	"go.uber.org/zap"
)

const (
	beat    = 20 * time.Millisecond // how often Run looks after the device
	stalled = 2 * time.Second       // a device that takes no samples for so long is given up
	retry   = 10 * time.Second      // between looks for a sound card
)

// Config is what a Player needs.
type Config struct {
	Clips Clips
	Told  func(Event) // what became of utterances; called from Run's goroutine; may be nil
	Log   *zap.Logger // nil: no log
	Off   bool        // do not touch the loudspeaker
}

// Player speaks on this machine. Make it with Open, run it with Run.
type Player struct {
	cfg  Config
	open func() (output, error) // how to look for a loudspeaker again; nil: not at all
	told chan Event

	mu     sync.Mutex // guards the rest; a leaf: nothing is called under it that waits
	reel   Reel
	out    output        // nil without a loudspeaker
	reason string        // why there is no sound; empty where there is
	taken  time.Time     // when the device last took samples
	ahead  time.Duration // from what it takes to what is heard
}

// output is a way out for samples.
type output interface {
	start(fill func([]float32)) // begins to pull samples
	err() error                 // what broke, if anything
	ahead() time.Duration       // how much it has taken and not yet played
	stop()
}

// absent says that there is no sound card now; one may be plugged in later.
type absent string

func (a absent) Error() string { return string(a) }

// Open tries the loudspeaker. Without one the player is silent, keeps the time
// the words would have taken, and Silent says why; Run looks now and then
// whether a sound card came.
func Open(cfg Config) *Player {
	if cfg.Off {
		p := with(cfg, nil)
		p.reason = "switched off"
		return p
	}
	return with(cfg, openDevice)
}

func with(cfg Config, open func() (output, error)) *Player {
	if cfg.Log == nil {
		cfg.Log = zap.NewNop()
	}
	if cfg.Told == nil {
		cfg.Told = func(Event) {}
	}
	p := &Player{cfg: cfg, open: open, told: make(chan Event, 64), reel: Reel{Clips: cfg.Clips}}
	p.look()
	return p
}

// look opens the loudspeaker. A failure other than an absent card is final: the
// library allows one try in a process.
func (p *Player) look() {
	if p.open == nil {
		return
	}
	out, err := p.open()
	var later absent
	if !errors.As(err, &later) {
		p.open = nil
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if err != nil {
		p.reason = err.Error()
		return
	}
	p.out, p.reason = out, ""
}

// Silent returns why nothing is heard on this machine, or "" where it is.
func (p *Player) Silent() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.reason
}

// Delay is how long after Play the first sound of an utterance leaves the sound
// library, as last measured; what the device itself adds is not known. 0 where
// there is no sound.
func (p *Player) Delay() time.Duration {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.reason != "" {
		return 0
	}
	return p.ahead
}

// Play hands over an utterance; it never waits for sound. Clips are decoded here,
// in the caller's time, so that the device does not wait for that.
func (p *Player) Play(u Utterance) {
	pieces, err := lay(p.cfg.Clips, u)
	now := time.Now().UnixMilli()
	p.mu.Lock()
	defer p.mu.Unlock()
	if err != nil {
		p.reel.tell(u.ID, "failed", err.Error(), now)
		return
	}
	p.reel.put(&playing{Utterance: u, pieces: pieces}, now)
}

// fill is called by the device for its next samples.
func (p *Player) fill(out []float32) {
	now := time.Now()
	p.mu.Lock()
	p.taken = now
	if p.reason != "" { // given up: the clock paces the words until Run takes it back
		clear(out)
		p.mu.Unlock()
		return
	}
	ev := p.reel.Fill(out, now.Add(p.ahead).UnixMilli())
	p.mu.Unlock()
	p.pass(ev)
}

// pace lets the words pass unheard.
func (p *Player) pace(d time.Duration) {
	d = max(d, 0) // on a busy machine the first tick may lie before Run began to look
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

// Run plays until ctx ends. It returns when nothing of the player runs any more.
func (p *Player) Run(ctx context.Context) {
	p.begin()
	defer p.end()
	tick := time.NewTicker(beat)
	defer tick.Stop()
	last := time.Now()
	looked := last
	for {
		select {
		case <-ctx.Done():
			return
		case e := <-p.told:
			p.cfg.Told(e)
		case now := <-tick.C:
			p.watch(now)
			if p.Silent() != "" {
				p.pace(now.Sub(last))
				if now.Sub(looked) >= retry {
					looked = now
					p.search()
				}
			}
			last = now
		}
	}
}
