package server

import (
	"context"
	"errors"
	"io"
	"time"

	"github.com/gorilla/websocket"
	"go.uber.org/zap"

	"helmcue/internal/boat"
	"helmcue/internal/phonemsg"
)

// errBye ends a link the page said bye on.
var errBye = errors.New("the page said bye")

// read is the link's one reader. It returns why the link ended.
func (l *link) read() error {
	lim := l.srv.cfg.Limits
	l.conn.SetReadLimit(lim.MaxFrame) // a longer frame ends the link with 1009, unread
	l.conn.SetReadDeadline(time.Now().Add(lim.JoinIn))
	l.conn.SetPongHandler(func(string) error { l.alive(); return nil })
	for {
		kind, r, err := l.conn.NextReader()
		if err != nil {
			return err
		}
		if kind != websocket.TextMessage {
			if err := l.refused(phonemsg.Errorf(phonemsg.Binary, "expected a text frame with JSON, got a binary one")); err != nil {
				return err
			}
			continue // NextReader throws the rest away
		}
		b, err := io.ReadAll(r)
		if err != nil {
			return err
		}
		l.alive()
		if err := l.take(b); err != nil {
			return err
		}
		if l.ctx.Err() != nil {
			return l.ctx.Err()
		}
		l.alive() // recording may have taken longer than a silent page is given
	}
}

// alive puts off the end of the link; before join only join does.
func (l *link) alive() {
	if l.joined && l.ctx.Err() == nil {
		l.conn.SetReadDeadline(time.Now().Add(l.srv.cfg.Limits.Pong))
	}
}

// take handles one message. An error ends the link; a refused message does not.
func (l *link) take(b []byte) error {
	if !l.pace.Allow() {
		return l.refused(phonemsg.Errorf(phonemsg.TooFast, "more than %g messages a second: send slower, or in batches", l.srv.cfg.Limits.PerSecond))
	}
	m, err := phonemsg.Decode(b)
	var e *phonemsg.Error
	if errors.As(err, &e) {
		if over := l.refused(e); over != nil || m.Type == "" {
			return over
		}
	}
	if !l.joined {
		return l.join(m)
	}
	if m.Type == "bye" {
		return errBye
	}
	if e := l.may(m); e != nil {
		return l.refused(e)
	}
	return l.accept(m)
}

// refused answers a bad message, and ends the link where they do not stop.
func (l *link) refused(e *phonemsg.Error) error {
	l.log.Debug("a message was refused", zap.Error(e))
	l.fault(e)
	if l.bad.Allow() {
		return nil
	}
	return l.end(websocket.ClosePolicyViolation, "too many bad messages: reload the page")
}

// end has the writer finish the link with a reason for the page.
func (l *link) end(code int, reason string) error {
	c := cut{code, reason}
	l.cancel(c)
	return c
}

// join lets the page in, or tells it why not and ends the link: a wrong token
// does not get right by trying.
func (l *link) join(m phonemsg.Msg) error {
	if m.Type != "join" {
		return l.refused(phonemsg.Errorf(phonemsg.NotJoined, "expected join first, got %s", m.Type))
	}
	role, name, ok := l.srv.cfg.Keys.Check(m.Join.Token)
	if !ok {
		l.fault(phonemsg.Errorf(phonemsg.BadToken, "this page is not paired, or no more: pair it again with a new code"))
		return l.end(websocket.ClosePolicyViolation, string(phonemsg.BadToken))
	}
	looksOn := role == phonemsg.Instructor && m.Join.Role == phonemsg.Viewer
	if m.Join.Role != role && !looksOn {
		l.fault(phonemsg.Errorf(phonemsg.Forbidden, "this page was paired as %s, it cannot join as %s", role, m.Join.Role))
		return l.end(websocket.ClosePolicyViolation, string(phonemsg.Forbidden))
	}
	if name == "" {
		name = m.Join.Boat
	}
	if name == "" && m.Join.Role == phonemsg.Sailor {
		return l.refused(&phonemsg.Error{Code: phonemsg.Missing, Field: "boat", Text: "expected boat, the name of the sailor's boat"})
	}
	l.role, l.boat, l.token, l.device = m.Join.Role, name, m.Join.Token, l.srv.devices.get(m.Join.Token)
	l.log = l.log.With(zap.String("boat", name), zap.String("role", string(l.role)))
	return l.welcome(m)
}

func (l *link) welcome(m phonemsg.Msg) error {
	cfg := &l.srv.cfg
	now := boat.Time(cfg.Now().UnixMilli())
	l.device.date(m, now)
	joined := phonemsg.Joined{V: phonemsg.Version, Session: cfg.Session, Boat: l.boat, Role: l.role,
		ServerTime: now, Voice: cfg.Voice, Phrases: cfg.Phrases}
	if l.role != phonemsg.Sailor {
		joined.Plans, joined.Exercises = cfg.Plans, cfg.Exercises
	}
	if cfg.Joined != nil {
		j := *m.Join
		j.Role = l.role
		joined.Settings = cfg.Joined(l.boat, j)
	}
	b, err := phonemsg.Encode(joined)
	if err != nil {
		return err
	}
	l.joined = true
	l.alive()
	var back bool
	if !l.srv.hub.ask(func(h *hub) { back = h.register(l, b) }) {
		return context.Canceled
	}
	l.log.Info("a page joined")
	if back {
		l.tellLink(boat.LinkBack)
	}
	return nil
}

// may says what the page's role forbids.
func (l *link) may(m phonemsg.Msg) *phonemsg.Error {
	switch m.Type {
	case "join":
		return phonemsg.Errorf(phonemsg.BadRequest, "this link has joined already: open another")
	case "hidden", "shown":
		return nil
	case "act":
		if l.role != phonemsg.Instructor {
			return phonemsg.Errorf(phonemsg.Forbidden, "only an instructor's page may act, this one is a %s's", l.role)
		}
		return nil
	}
	if l.role != phonemsg.Sailor {
		return phonemsg.Errorf(phonemsg.Forbidden, "only a sailor's page may send %s, this one is a %s's", m.Type, l.role)
	}
	if l.demoted.Load() {
		return phonemsg.Errorf(phonemsg.Replaced, "another page speaks for %s now: reload this one to take over", l.boat)
	}
	return nil
}

// accept hands the message on and acknowledges what was recorded.
func (l *link) accept(m phonemsg.Msg) error {
	if l.role != phonemsg.Sailor && m.Type != "act" {
		return nil // an instructor's page that is left or back is no input of any boat
	}
	cfg := &l.srv.cfg
	l.device.turn.Lock()
	defer l.device.turn.Unlock()
	ins, complaint := l.device.date(m, boat.Time(cfg.Now().UnixMilli()))
	if complaint != "" {
		l.reply(phonemsg.Note{Boat: l.boat, Note: boat.Note{T: boat.Time(cfg.Now().UnixMilli()), Code: "phone_clock", Text: complaint}})
	}
	targets := []string{l.boat}
	if m.Act != nil {
		targets = l.targets(m.Act.Boat)
		if len(targets) == 0 {
			return l.refused(&phonemsg.Error{Code: phonemsg.Missing, Field: "boat", Text: "no boat is known yet: wait for one to join"})
		}
	}
	for _, name := range targets {
		if len(ins) > 0 && !l.hand(name, ins) {
			return nil
		}
	}
	l.device.recorded(m)
	l.ack(m)
	return nil
}

// targets resolves whom an act is for: the boat named, else the page's own,
// else every boat.
func (l *link) targets(named string) (out []string) {
	switch {
	case named != "":
		return []string{named}
	case l.boat != "":
		return []string{l.boat}
	}
	l.srv.hub.ask(func(h *hub) { out = h.names() })
	return out
}

// hand gives inputs to the boat's session and tells the page where that failed:
// the fault is not the page's and costs it nothing.
func (l *link) hand(name string, ins []boat.Input) bool {
	err := l.srv.cfg.OnInput(name, ins)
	var e *phonemsg.Error
	switch {
	case err == nil:
		l.srv.hub.tell(func(h *hub) { h.craft(name).heard(ins, h.srv.cfg.Now(), l.role) })
		return true
	case errors.As(err, &e):
		l.fault(e)
	default:
		l.log.Error("inputs were not recorded", zap.String("for", name), zap.Error(err))
		l.fault(phonemsg.Errorf(phonemsg.NotRecorded, "the service could not record this: %v", err))
	}
	return false
}

// ack acknowledges also what was dropped as known: it is recorded.
func (l *link) ack(m phonemsg.Msg) {
	top, any := m.Seq, m.HasSeq
	for _, s := range m.Samples {
		if s.HasSeq {
			top, any = max(top, s.Seq), true
		}
	}
	if any {
		l.acked = max(l.acked, top)
		l.reply(phonemsg.Ack{Seq: l.acked, T: boat.Time(l.srv.cfg.Now().UnixMilli())})
	}
}

// tellLink makes an input of a change of the link itself.
func (l *link) tellLink(kind boat.Kind) {
	in := boat.Input{T: boat.Time(l.srv.cfg.Now().UnixMilli()), Kind: kind, Source: "service"}
	if err := l.srv.cfg.OnInput(l.boat, []boat.Input{in}); err != nil {
		l.log.Error("a change of the link was not recorded", zap.Stringer("kind", kind), zap.Error(err))
	}
}

// gone takes the link out of the hub and tells the engine that the boat lost her page.
func (l *link) gone(why error) {
	if !l.joined {
		l.log.Info("a page left before it joined", zap.NamedError("why", why))
		return
	}
	l.log.Info("a page left", zap.NamedError("why", why))
	var lost bool
	l.srv.hub.ask(func(h *hub) { lost = h.remove(l) })
	if lost {
		l.tellLink(boat.LinkLost)
	}
}
