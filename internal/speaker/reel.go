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

// Clips gives a clip's samples: mono at Rate, full scale 1, no silence at its
// ends. The samples are played where they lie and must not be changed.
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

// Add queues an utterance at nowMS. Danger drops what is being said and what
// waits, unless that is danger itself; the second saying of anything gives way
// to danger, and to everything as long as it has not begun.
func (r *Reel) Add(u Utterance, nowMS int64) {
	pieces, err := lay(r.Clips, u)
	if err != nil {
		r.tell(u.ID, "failed", err.Error(), nowMS)
		return
	}
	r.put(&playing{Utterance: u, pieces: pieces}, nowMS)
}

// put is Add for what is laid out already.
func (r *Reel) put(p *playing, nowMS int64) {
	if p.expired(nowMS) { // it must not silence anything else either
		r.drop(p, nowMS, late(nowMS-p.Expires))
		return
	}
	if p.Danger {
		r.clear(nowMS)
	}
	if len(r.queue) >= maxQueue {
		r.drop(p, nowMS, "too much waits to be said")
		return
	}
	if c := r.cur; c != nil && c.said > 0 && (p.Danger || c.silent()) {
		r.cut()
		r.tell(c.ID, "finished", "", nowMS)
	}
	r.queue = append(r.queue, p)
}

// clear makes way for danger.
func (r *Reel) clear(nowMS int64) {
	if c := r.cur; c != nil && !c.Danger && c.said == 0 {
		r.cut()
		r.drop(c, nowMS, "cut off by something urgent")
	}
	kept := r.queue[:0]
	for _, p := range r.queue {
		if p.Danger {
			kept = append(kept, p)
			continue
		}
		r.drop(p, nowMS, "something urgent came first")
	}
	r.queue = kept
}

// cut ends what is being said, fading.
func (r *Reel) cut() {
	r.tail = make([]float32, fadeMS*Rate/1000)
	n := r.cur.copy(r.tail)
	r.tail = r.tail[:n]
	for i := range r.tail {
		r.tail[i] *= float32(n-i) / float32(n)
	}
	r.cur = nil
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
		if r.cur == nil && !r.next(nowMS+int64(i)*1000/Rate) {
			break
		}
		i += r.cur.copy(out[i:])
		if r.cur.done() {
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
		if p.expired(at) {
			r.drop(p, at, late(at-p.Expires))
			continue
		}
		r.cur = p
		r.tell(p.ID, "started", "", at)
		return true
	}
	return false
}

// end finishes the current utterance, or says it again where nothing waits. The
// second saying may begin after the expiry: it adds nothing new, and "let the
// sheet go" dies after one second, before it could ever be said twice.
func (r *Reel) end(at int64) {
	p := r.cur
	r.cur = nil
	if p.said == 0 && p.Twice && len(r.queue) == 0 {
		r.cur = p.again()
		return
	}
	r.tell(p.ID, "finished", "", at)
}

func (r *Reel) drop(p *playing, at int64, why string) { r.tell(p.ID, "dropped", why, at) }

func (r *Reel) tell(id int, what, note string, at int64) {
	r.events = append(r.events, Event{ID: id, What: what, Note: note, AtMS: at})
}

func late(ms int64) string { return fmt.Sprintf("%d ms too late to be of use", ms) }
