package server

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"sync/atomic"
	"time"

	"github.com/gorilla/websocket"
	"go.uber.org/zap"
	"golang.org/x/time/rate"

	"helmcue/internal/phonemsg"
)

// link is one page's web socket. Its fields are set before the hub knows it and
// not changed after, but for demoted and the queue.
type link struct {
	srv    *Server
	conn   *websocket.Conn
	log    *zap.Logger
	out    chan []byte
	cancel context.CancelCauseFunc

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
	ctx, cancel := context.WithCancelCause(s.base)
	lim := s.cfg.Limits
	l := &link{srv: s, conn: conn, log: s.cfg.Log.With(zap.String("from", r.RemoteAddr)),
		out: make(chan []byte, lim.Queue), cancel: cancel, acked: -1,
		pace: rate.NewLimiter(rate.Limit(lim.PerSecond), lim.Burst), bad: rate.NewLimiter(1, lim.BadBurst)}
	written := make(chan struct{})
	go func() {
		defer close(written)
		l.write(ctx)
	}()
	err = l.read()
	if cause := context.Cause(ctx); cause != nil {
		err = cause // the read error only says that the connection was closed
	}
	l.gone(err)
	cancel(cut{websocket.CloseNormalClosure, "bye"})
	<-written
}

// write is the link's one writer. It owns the end of the connection.
func (l *link) write(ctx context.Context) {
	defer l.conn.Close() // releases the reader
	lim := l.srv.cfg.Limits
	ping := time.NewTicker(lim.Ping)
	defer ping.Stop()
	for {
		select {
		case b := <-l.out:
			l.conn.SetWriteDeadline(time.Now().Add(lim.Write))
			if err := l.conn.WriteMessage(websocket.TextMessage, b); err != nil {
				l.cancel(err)
				return
			}
		case <-ping.C:
			if err := l.conn.WriteControl(websocket.PingMessage, nil, time.Now().Add(lim.Write)); err != nil {
				l.cancel(err)
				return
			}
		case <-ctx.Done():
			l.finish(context.Cause(ctx))
			return
		}
	}
}

// finish writes what is queued, so that a page learns why, and closes. All of
// it within a second: the page may be the one that does not read.
func (l *link) finish(why error) {
	var c cut
	if !errors.As(why, &c) {
		return
	}
	end := time.Now().Add(time.Second)
	l.conn.SetWriteDeadline(end)
	for {
		select {
		case b := <-l.out:
			if l.conn.WriteMessage(websocket.TextMessage, b) != nil {
				return
			}
		default:
			l.conn.WriteControl(websocket.CloseMessage, websocket.FormatCloseMessage(c.code, c.reason), end)
			return
		}
	}
}

// push queues a message, and cuts the link where the page does not keep up.
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

func (l *link) reply(r phonemsg.Reply) {
	b, err := phonemsg.Encode(r)
	if err != nil {
		l.log.Error("a message could not be written", zap.Error(err))
		return
	}
	l.push(b)
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
