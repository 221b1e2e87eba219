package speaker

import (
	"time"

	"go.uber.org/zap"
)

// A loudspeaker can go in two ways. The library opens a context without
// complaint on a machine without a card, tells by Err some time later, and its
// players then never finish: that is final. Or the device stops taking samples
// (a sleeping wireless one): that is over when it takes some again.

const asleep = "the loudspeaker takes no sound"

func (p *Player) begin() {
	p.mu.Lock()
	out := p.out
	p.taken = time.Now()
	p.mu.Unlock()
	if out != nil {
		out.start(p.fill)
	}
}

func (p *Player) end() {
	p.mu.Lock()
	out := p.out
	p.mu.Unlock()
	if out != nil {
		out.stop()
	}
}

// watch gives a device up, or takes it back.
func (p *Player) watch(now time.Time) {
	p.mu.Lock()
	out, was := p.out, p.reason
	idle := now.Sub(p.taken)
	p.mu.Unlock()
	if out == nil {
		return
	}
	if err := out.err(); err != nil {
		p.give(err.Error(), "no sound on this machine: cues are shown, and spoken by the phone's page; connect a loudspeaker and start again")
		out.stop()
		return
	}
	ahead := out.ahead()
	switch {
	case was == "" && idle > stalled:
		p.give(asleep, "no sound on this machine for now: see whether the loudspeaker is awake")
	case was != "" && idle <= stalled:
		p.take(out)
	case was == "":
		p.mu.Lock()
		p.ahead = ahead
		p.mu.Unlock()
	}
}

// give goes on without sound. A device that is only asleep is kept.
func (p *Player) give(reason, what string) {
	p.cfg.Log.Warn(what, zap.String("why", reason))
	p.mu.Lock()
	defer p.mu.Unlock()
	p.reason = reason
	if reason != asleep {
		p.out = nil
	}
}

func (p *Player) take(out output) {
	p.cfg.Log.Info("the loudspeaker is back")
	p.mu.Lock()
	defer p.mu.Unlock()
	p.out, p.reason = out, ""
}

// search looks whether a sound card came.
func (p *Player) search() {
	if p.open == nil {
		return
	}
	p.look()
	if p.Silent() == "" {
		p.cfg.Log.Info("a loudspeaker was found: cues are spoken on this machine")
		p.begin()
	}
}
