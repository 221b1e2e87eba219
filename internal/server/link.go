package server

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"net"
	"net/http"
	"sync/atomic"
	"time"

	"github.com/gorilla/websocket"
	"go.uber.org/zap"
	"golang.org/x/time/rate"

	"helmcue/internal/phonemsg"
)

// link is one page's web socket. Its fields are set before the hub knows it and
// not changed after, but for demoted and the queues.
type link struct {
	srv     *Server
	conn    *websocket.Conn
	log     *zap.Logger
	answers chan []byte // of the reader, who waits while it is full: the page is slowed, not cut
	out     chan []byte // of the hub, who never waits: the link is cut when it is full
	ctx     context.Context
	cancel  context.CancelCauseFunc
	readAll chan struct{} // closed when the reader is done

	role   phonemsg.Role
	boat   string
	token  string
	device *device

	demoted atomic.Bool // a newer page speaks for the boat

	// Of the reader alone:
	joined bool
	pace   *rate.Limiter
	bad    *rate.Limiter
	acked  int64
}

// cut is why a link was ended by the service: a close code of RFC 6455, 7.4.1,
// and a reason for the page.
type cut struct {
	code   int
	reason string
}

func (c cut) Error() string { return c.reason }

func (s *Server) serveLink(w http.ResponseWriter, r *http.Request) {
	if !s.live.enter() {
		refuse(w, http.StatusServiceUnavailable, phonemsg.Errorf(phonemsg.TooFast, "too many pages are open, or the service is ending: close some and reload"))
		return
	}
	defer s.live.leave()
	conn, err := s.upgrader.Upgrade(w, r, nil)
	if err != nil {
		s.cfg.Log.Info("a page could not connect", zap.String("from", r.RemoteAddr), zap.Error(err))
		return // the upgrader has answered
	}
	l := s.newLink(conn, r.RemoteAddr)
	written := make(chan struct{})
	go func() {
		defer close(written)
		l.write()
	}()
	err = l.read()
	if cause := context.Cause(l.ctx); cause != nil {
		err = cause // the read error only says that the connection was closed
	}
	l.gone(err)
	l.cancel(cut{websocket.CloseNormalClosure, "bye"})
	l.drain(err)
	close(l.readAll)
	<-written
}

func (s *Server) newLink(conn *websocket.Conn, from string) *link {
	lim := s.cfg.Limits
	l := &link{srv: s, conn: conn, log: s.cfg.Log.With(zap.String("from", from)), acked: -1,
		answers: make(chan []byte, 8), out: make(chan []byte, lim.Queue), readAll: make(chan struct{}),
		pace: rate.NewLimiter(rate.Limit(lim.PerSecond), lim.Burst), bad: rate.NewLimiter(1, lim.BadBurst)}
	l.ctx, l.cancel = context.WithCancelCause(s.base)
	return l
}

// drain reads what the page has sent meanwhile, up to the writer's end of the
// connection: closing over unread bytes would reset it, and the page would
// never learn why.
func (l *link) drain(why error) {
	var c cut
	switch {
	case errors.Is(why, websocket.ErrReadLimit):
		io.CopyN(io.Discard, l.conn.NetConn(), drainMost)
	case errors.As(why, &c), errors.Is(why, errBye):
		for {
			if _, _, err := l.conn.NextReader(); err != nil {
				return
			}
		}
	}
}

const (
	finishIn  = time.Second // for the last words and the page's answer
	drainMost = 1 << 20     // bytes of a frame that is too long anyhow
)

// write is the link's one writer. It owns the end of the connection.
func (l *link) write() {
	defer l.abort() // releases the reader
	ping := time.NewTicker(l.srv.cfg.Limits.Ping)
	defer ping.Stop()
	for {
		var err error
		select {
		case b := <-l.answers:
			err = l.put(b)
		case b := <-l.out:
			err = l.put(b)
		case <-ping.C:
			err = l.conn.WriteControl(websocket.PingMessage, nil, time.Now().Add(l.srv.cfg.Limits.Write))
		case <-l.ctx.Done():
			l.finish()
			return
		}
		if err != nil {
			l.cancel(err)
			return
		}
	}
}

// abort closes the connection below TLS, whose own goodbye would wait seconds
// for a page that does not read.
func (l *link) abort() {
	c := l.conn.NetConn()
	if t, ok := c.(interface{ NetConn() net.Conn }); ok {
		c = t.NetConn()
	}
	c.Close()
}

func (l *link) put(b []byte) error {
	l.conn.SetWriteDeadline(time.Now().Add(l.srv.cfg.Limits.Write))
	return l.conn.WriteMessage(websocket.TextMessage, b)
}

// finish writes what is queued, so that a page learns why, says goodbye, and
// gives the page a moment to do the same.
func (l *link) finish() {
	var c cut
	if !errors.As(context.Cause(l.ctx), &c) {
		return
	}
	end := time.Now().Add(finishIn)
	l.conn.SetWriteDeadline(end)
	for _, queue := range []chan []byte{l.answers, l.out} {
		for more := true; more; {
			select {
			case b := <-queue:
				more = l.conn.WriteMessage(websocket.TextMessage, b) == nil
			default:
				more = false
			}
		}
	}
	l.conn.WriteControl(websocket.CloseMessage, websocket.FormatCloseMessage(c.code, c.reason), end)
	select {
	case <-l.readAll:
	case <-time.After(time.Until(end)):
	}
}

// push queues a message of the hub, and cuts the link where the page does not keep up.
func (l *link) push(b []byte) {
	select {
	case l.out <- b:
	default:
		l.cancel(errSlow)
	}
}

// errSlow is no cut: a page that does not read cannot be told.
var errSlow = errors.New("the page does not keep up with what it is sent")

// pushState queues a state unless much is waiting: the next one replaces it.
func (l *link) pushState(b []byte) {
	if len(l.out) < cap(l.out)/2 {
		l.push(b)
	}
}

// reply answers from the reader.
func (l *link) reply(r phonemsg.Reply) {
	b, err := phonemsg.Encode(r)
	if err != nil {
		l.log.Error("a message could not be written", zap.Error(err))
		return
	}
	select {
	case l.answers <- b:
	case <-l.ctx.Done():
	}
}

func (l *link) fault(e *phonemsg.Error) { l.reply(phonemsg.Fault{Code: e.Code, Text: e.Text}) }

// refuse answers a request that is no web socket yet.
func refuse(w http.ResponseWriter, status int, e *phonemsg.Error) {
	b, err := phonemsg.Encode(phonemsg.Fault{Code: e.Code, Text: e.Text})
	if err != nil {
		b, _ = json.Marshal(e.Text)
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	w.Write(b)
}
