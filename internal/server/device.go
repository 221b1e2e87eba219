package server

import (
	"sync"

	"helmcue/internal/boat"
	"helmcue/internal/clock"
	"helmcue/internal/phonemsg"
)

// remembered is how many messages of one phone are known again: what was sent
// and recorded but not yet acknowledged when a link broke, with room to spare.
const remembered = 8192

// devices keeps what must outlive a link, by token: a phone that comes back has
// the same clock and resends the same samples.
type devices struct {
	mu  sync.Mutex
	all map[string]*device
}

func (d *devices) get(token string) *device {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.all == nil {
		d.all = map[string]*device{}
	}
	if d.all[token] == nil {
		d.all[token] = &device{seen: map[sentID]bool{}}
	}
	return d.all[token]
}

// device is one paired phone.
type device struct {
	// turn is held from looking whether a message was recorded before until it is:
	// two pages of one phone may send the same at once.
	turn       sync.Mutex
	mu         sync.Mutex
	clock      clock.Estimator
	seen       map[sentID]bool
	order      []sentID
	complained bool
}

// sentID names a sample, or another message with a seq, of one phone. A page that
// was reloaded counts from the start again, so seq alone does not.
type sentID struct {
	seq int64
	t   boat.Time
}

// date drops what was recorded before and maps the times of the
// rest. complaint is set once where the phone's clock is far off.
func (d *device) date(m phonemsg.Msg, received boat.Time) (ins []boat.Input, complaint string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if m.T != 0 {
		d.clock.Observe(m.T, received)
	}
	if m.HasSeq && len(m.Samples) == 0 && d.seen[sentID{m.Seq, m.T}] {
		return nil, ""
	}
	if len(m.Samples) > 0 {
		m.Samples = d.fresh(m.Samples)
		for _, s := range m.Samples {
			d.clock.Observe(s.T, received)
		}
	}
	if c := d.clock.Complaint(); c != "" && !d.complained {
		d.complained, complaint = true, c
	}
	return phonemsg.ToInputs(m, received, d.clock.Map), complaint
}

func (d *device) fresh(list []phonemsg.Sample) []phonemsg.Sample {
	out := make([]phonemsg.Sample, 0, len(list))
	within := map[sentID]bool{}
	for _, s := range list {
		id := sentID{s.Seq, s.T}
		if s.HasSeq && (d.seen[id] || within[id]) {
			continue
		}
		within[id] = true
		out = append(out, s)
	}
	return out
}

// recorded remembers what a message brought, so that it is known when it comes
// again.
func (d *device) recorded(m phonemsg.Msg) {
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, s := range m.Samples {
		if s.HasSeq {
			d.remember(sentID{s.Seq, s.T})
		}
	}
	if m.HasSeq && len(m.Samples) == 0 {
		d.remember(sentID{m.Seq, m.T})
	}
}

func (d *device) remember(id sentID) {
	if d.seen[id] {
		return
	}
	if len(d.order) == remembered {
		delete(d.seen, d.order[0])
		d.order = d.order[1:]
	}
	d.seen[id] = true
	d.order = append(d.order, id)
}
