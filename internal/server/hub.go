package server

import (
	"context"
	"slices"
	"time"

	"github.com/gorilla/websocket"
	"go.uber.org/zap"

	"helmcue/internal/boat"
	"helmcue/internal/phonemsg"
)

// tokensEvery is after how many rounds of states links are ended whose token
// was revoked.
const tokensEvery = 4

// hub owns boats and links. Only its goroutine touches them; others send
// functions.
type hub struct {
	srv   *Server
	do    chan func(*hub)
	ended chan struct{}

	crafts map[string]*craft
	links  map[*link]bool
}

func newHub(s *Server) *hub {
	return &hub{srv: s, do: make(chan func(*hub), 256), ended: make(chan struct{}),
		crafts: map[string]*craft{}, links: map[*link]bool{}}
}

func (h *hub) run(ctx context.Context) {
	defer close(h.ended)
	tick := time.NewTicker(h.srv.cfg.Limits.State)
	defer tick.Stop()
	for n := 1; ; {
		select {
		case f := <-h.do:
			f(h)
		case <-tick.C:
			h.states()
			if n++; n%tokensEvery == 0 {
				h.endRevoked()
			}
		case <-ctx.Done():
			return
		}
	}
}

// tell has the hub run f, soon; false where the hub has ended.
func (h *hub) tell(f func(*hub)) bool {
	select {
	case h.do <- f:
		return true
	case <-h.ended:
		return false
	}
}

// ask has the hub run f and waits for it; false where the hub has ended.
func (h *hub) ask(f func(*hub)) bool {
	done := make(chan struct{})
	if !h.tell(func(h *hub) { f(h); close(done) }) {
		return false
	}
	select {
	case <-done:
		return true
	case <-h.ended:
		return false
	}
}

func (h *hub) craft(name string) *craft {
	c := h.crafts[name]
	if c == nil {
		c = &craft{name: name}
		h.crafts[name] = c
	}
	return c
}

// names returns the boats in a fixed order, so that no line moves on a page.
func (h *hub) names() []string {
	var names []string
	for n := range h.crafts {
		names = append(names, n)
	}
	slices.Sort(names)
	return names
}

// register takes a link in and sends it joined: a page that reads joined misses
// nothing from then on. It returns whether the boat's page had been lost. An
// older page of the same boat is told that it no longer speaks.
func (h *hub) register(l *link, joined []byte) (wasLost bool) {
	l.push(joined)
	h.links[l] = true
	if l.role != phonemsg.Sailor {
		return false
	}
	c := h.craft(l.boat)
	wasLost = c.lost
	if old := c.page; old != nil {
		old.demoted.Store(true)
		h.fault(old, phonemsg.Replaced, "another page speaks for "+l.boat+" now: reload this one to take over")
	}
	c.page, c.lost, c.hadPage, c.deaf = l, false, true, false
	c.heardAt = h.srv.cfg.Now()
	return wasLost
}

// remove forgets a link and returns whether the boat lost its page with it.
func (h *hub) remove(l *link) (lost bool) {
	delete(h.links, l)
	if l.role != phonemsg.Sailor {
		return false
	}
	c := h.craft(l.boat)
	if c.page != l {
		return false
	}
	c.page, c.lost = nil, true
	return true
}

func (h *hub) publish(name string, out boat.Output, line Line) {
	c := h.craft(name)
	switch {
	case out.Status != nil:
		c.status, c.statusAt = out.Status, h.srv.cfg.Now()
	case out.Manoeuvre != nil:
		c.turned(*out.Manoeuvre)
	case out.Cue != nil:
		c.told = &phonemsg.Told{Words: out.Cue.Words, Why: out.Cue.Why, T: out.Cue.T, ID: out.Cue.ID}
		h.send(c, phonemsg.Cue{Boat: name, Cue: *out.Cue, Clips: line.Clips, GapMS: line.GapMS, Repeat: line.Repeat})
	case out.Exercise != nil:
		c.exercise = out.Exercise
	case out.Note != nil:
		h.send(c, phonemsg.Note{Boat: name, Note: *out.Note})
	}
}

// send reaches the boat's own page, instructors and viewers.
func (h *hub) send(c *craft, r phonemsg.Reply) {
	b, err := phonemsg.Encode(r)
	if err != nil {
		h.srv.cfg.Log.Error("a message could not be written", zap.Error(err))
		return
	}
	for l := range h.links {
		if l == c.page || l.role != phonemsg.Sailor {
			l.push(b)
		}
	}
}

// own reaches the boat's own page alone. An instrument's reading is left out where
// much is waiting: the next one replaces it.
func (h *hub) own(c *craft, r phonemsg.Input) {
	if c.page == nil {
		return
	}
	b, err := phonemsg.Encode(r)
	if err != nil {
		h.srv.cfg.Log.Error("a message could not be written", zap.Error(err))
		return
	}
	if r.Input.Kind == boat.SampleIn {
		c.page.pushState(b)
		return
	}
	c.page.push(b)
}

func (h *hub) states() {
	for _, name := range h.names() {
		c := h.crafts[name]
		b, err := phonemsg.Encode(h.state(c))
		if err != nil {
			h.srv.cfg.Log.Error("a state could not be written", zap.Error(err))
			continue
		}
		for l := range h.links {
			if l.role != phonemsg.Sailor || l.boat == name {
				l.pushState(b)
			}
		}
	}
}

func (h *hub) state(c *craft) phonemsg.State {
	now := h.srv.cfg.Now()
	st := phonemsg.State{Boat: c.name, Told: c.told, Turns: c.turns, Exercise: c.exercise, Health: c.health(now)}
	if c.status != nil {
		st.Status = *c.status
	} else {
		st.Status.T = boat.Time(now.UnixMilli())
	}
	if h.srv.cfg.Enrich != nil {
		h.srv.cfg.Enrich(&st)
	}
	return st
}

func (h *hub) endRevoked() {
	for l := range h.links {
		if _, _, ok := h.srv.cfg.Keys.Check(l.token); !ok {
			h.fault(l, phonemsg.BadToken, "this page is not paired any more: pair it again with a new code")
			l.cancel(cut{websocket.ClosePolicyViolation, string(phonemsg.BadToken)})
		}
	}
}

func (h *hub) fault(l *link, c phonemsg.Code, text string) {
	b, err := phonemsg.Encode(phonemsg.Fault{Code: c, Text: text})
	if err != nil {
		h.srv.cfg.Log.Error("a message could not be written", zap.Error(err))
		return
	}
	l.push(b)
}
