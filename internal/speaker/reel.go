package speaker

import (
	"fmt"

	"helmcue/internal/loudness"
)

// Rate is samples a second, mono.
const Rate = loudness.Rate

const (
	fadeMS   = 5   // a cut-off voice fades so long, lest it click
	againMS  = 250 // between an utterance and its second saying
	maxQueue = 4   // more than this waiting means that the arbiter is broken
)

// Clips gives a clip's samples: mono at Rate, full scale 1, no silence at its ends.
type Clips interface {
	Samples(clip string) ([]float32, error)
}

// Utterance is a cue to be spoken. Times are milliseconds on the caller's clock.
type Utterance struct {
	ID      int
	Clips   []string
	GapMS   int   // silence between clips
	Danger  bool  // cuts in
	Twice   bool  // say it again where nothing else waits
	Expires int64 // not to be begun after this; 0: never expires
}

// Event is what became of an utterance.
type Event struct {
	ID   int
	What string // started, finished, dropped, failed
	Note string // why, for dropped and failed
	AtMS int64
}

// Reel turns utterances into samples. It looks at no clock and is for one
// goroutine: Add hands it an utterance, Fill takes the next samples. The zero
// Reel plays silence; set Clips before the first Add.
type Reel struct {
	Clips Clips

	cur    *playing
	queue  []*playing
	tail   []float32 // of what was cut off, fading
	events []Event
}

// playing is an utterance laid out as samples.
type playing struct {
	Utterance
	samples []float32
	at      int
	said    int
}

// Add queues an utterance at nowMS. Danger drops what is being said and what
// waits, unless that is danger itself.
func (r *Reel) Add(u Utterance, nowMS int64) {
	samples, err := r.lay(u)
	if err != nil {
		r.tell(u.ID, "failed", err.Error(), nowMS)
		return
	}
	p := &playing{Utterance: u, samples: samples}
	if u.Danger {
		r.clear(nowMS)
	}
	if len(r.queue) >= maxQueue {
		r.tell(u.ID, "dropped", "too much waits to be said", nowMS)
		return
	}
	r.queue = append(r.queue, p)
}

func (r *Reel) lay(u Utterance) ([]float32, error) {
	if len(u.Clips) == 0 {
		return nil, fmt.Errorf("expected at least one clip, got none")
	}
	var out []float32
	for i, c := range u.Clips {
		x, err := r.Clips.Samples(c)
		if err != nil {
			return nil, err
		}
		if i > 0 {
			out = append(out, make([]float32, u.GapMS*Rate/1000)...)
		}
		out = append(out, x...)
	}
	return out, nil
}

// clear makes way for danger.
func (r *Reel) clear(nowMS int64) {
	if r.cur != nil && !r.cur.Danger {
		r.tell(r.cur.ID, "dropped", "cut off by something urgent", nowMS)
		n := min(fadeMS*Rate/1000, len(r.cur.samples)-r.cur.at)
		r.tail = make([]float32, n)
		for i := range r.tail {
			r.tail[i] = r.cur.samples[r.cur.at+i] * float32(n-i) / float32(n)
		}
		r.cur = nil
	}
	kept := r.queue[:0]
	for _, p := range r.queue {
		if p.Danger {
			kept = append(kept, p)
			continue
		}
		r.tell(p.ID, "dropped", "something urgent came first", nowMS)
	}
	r.queue = kept
}

// Busy says whether anything is being said or waits.
func (r *Reel) Busy() bool { return r.cur != nil || len(r.queue) > 0 || len(r.tail) > 0 }

// Fill writes the next len(out) samples, the first of which is heard at nowMS,
// and returns what happened in them and since the last call.
func (r *Reel) Fill(out []float32, nowMS int64) []Event {
	clear(out)
	n := copy(out, r.tail)
	r.tail = r.tail[n:]
	for i := n; i < len(out); {
		at := nowMS + int64(i)*1000/Rate
		if r.cur == nil && !r.next(at) {
			break
		}
		k := copy(out[i:], r.cur.samples[r.cur.at:])
		r.cur.at += k
		i += k
		if r.cur.at == len(r.cur.samples) {
			r.end(nowMS + int64(i)*1000/Rate)
		}
	}
	ev := r.events
	r.events = nil
	return ev
}

// next begins the first waiting utterance that has not expired.
func (r *Reel) next(at int64) bool {
	for len(r.queue) > 0 {
		p := r.queue[0]
		r.queue = r.queue[1:]
		if p.Expires != 0 && at > p.Expires && p.said == 0 {
			r.tell(p.ID, "dropped", fmt.Sprintf("%d ms too late to be of use", at-p.Expires), at)
			continue
		}
		r.cur = p
		if p.said == 0 {
			r.tell(p.ID, "started", "", at)
		}
		return true
	}
	return false
}

// end finishes the current utterance, or says it again where nothing waits.
func (r *Reel) end(at int64) {
	p := r.cur
	r.cur = nil
	p.said++
	if p.said == 1 && p.Twice && len(r.queue) == 0 {
		again := &playing{Utterance: p.Utterance, said: 1}
		again.samples = append(make([]float32, againMS*Rate/1000), p.samples...)
		r.cur = again
		return
	}
	r.tell(p.ID, "finished", "", at)
}

func (r *Reel) tell(id int, what, note string, at int64) {
	r.events = append(r.events, Event{ID: id, What: what, Note: note, AtMS: at})
}
