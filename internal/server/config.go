package server

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"net/http"
	"sync"
	"time"

	"github.com/gorilla/websocket"
	"go.uber.org/zap"

	"helmcue/internal/boat"
	"helmcue/internal/phonemsg"
)

// Keys exchanges pairing codes and knows tokens. Package pairing has it.
type Keys interface {
	Redeem(req phonemsg.PairRequest, from string) (phonemsg.PairReply, error)
	Check(token string) (role phonemsg.Role, boat string, ok bool)
}

// Config is what the server needs. OnInput, Keys, Hosts and Pages must be set.
type Config struct {
	// OnInput hands inputs to the session of a boat and returns once they are
	// recorded; an error is told to the page, which sends again. It is called
	// from many goroutines, one for each link. A *phonemsg.Error reaches the
	// page as it is.
	OnInput func(boat string, ins []boat.Input) error
	// Joined is told of every page that joined, and in which role and with what,
	// and returns the boat's settings.
	Joined func(boat string, j phonemsg.Join) boat.Settings
	// Enrich may complete a state before it is sent, twice a second for each
	// boat. It runs in the hub: it must be quick and must not call the server.
	Enrich func(*phonemsg.State)

	// Plan works out what to know before going; nil: there is no chart. It may be
	// called from many goroutines.
	Plan func(Outing) (any, error)

	// Shore reads a chart that was drawn and says what was made of it; nil: charts
	// are not checked here. The error is for the person who drew it. It may be called
	// from many goroutines.
	Shore func(chart io.Reader) (ShoreReply, error)

	Keys    Keys
	Hosts   func() []string // names and addresses this machine answers to
	Pages   fs.FS           // x.html is served as /x
	Clips   fs.FS           // <voice>/<clip>.mp3 and <voice>/manifest.json
	RootDER []byte          // nil where people brought their own certificate
	RootPEM []byte
	TLSPort int // where Plain sends people; 0: 443
	Session string
	Voice   string
	Phrases []phonemsg.Phrase

	Plans, Exercises []phonemsg.Phrase // that an instructor may choose from, by name and title

	Log    *zap.Logger      // nil: silent
	Now    func() time.Time // nil: time.Now
	Limits Limits           // zero fields: DefaultLimits
}

// Limits bounds what one page may do to the service.
type Limits struct {
	MaxFrame  int64         // bytes in one message
	PerSecond float64       // messages, sustained
	Burst     int           // messages
	BadBurst  int           // refused messages before the link is cut; one a second is forgiven
	Queue     int           // messages waiting to be written before the link is cut
	MaxLinks  int           // pages at once
	JoinIn    time.Duration // from connecting to join
	Ping      time.Duration // between signs of life asked for
	Pong      time.Duration // without a sign of life the link is lost
	Write     time.Duration // for one message
	State     time.Duration // between two states of each boat
}

// DefaultLimits returns what Config.Limits fills in.
func DefaultLimits() Limits {
	return Limits{MaxFrame: 64 << 10, PerSecond: 30, Burst: 120, BadBurst: 20, Queue: 64, MaxLinks: 64,
		JoinIn: 10 * time.Second, Ping: 4 * time.Second, Pong: 12 * time.Second, Write: 5 * time.Second, State: 500 * time.Millisecond}
}

func (l Limits) filled() Limits {
	d := DefaultLimits()
	fill(&l.MaxFrame, d.MaxFrame)
	fill(&l.PerSecond, d.PerSecond)
	fill(&l.Burst, d.Burst)
	fill(&l.BadBurst, d.BadBurst)
	fill(&l.Queue, d.Queue)
	fill(&l.MaxLinks, d.MaxLinks)
	fill(&l.JoinIn, d.JoinIn)
	fill(&l.Ping, d.Ping)
	fill(&l.Pong, d.Pong)
	fill(&l.Write, d.Write)
	fill(&l.State, d.State)
	return l
}

func fill[T int | int64 | float64 | time.Duration](v *T, d T) {
	if *v <= 0 {
		*v = d
	}
}

// Line is how a cue is to be played: clips in order with GapMS of silence
// between them. Repeat says that the sailor asked to hear it again.
type Line struct {
	Clips  []string
	GapMS  int
	Repeat bool
}

// Server is one service to pages. Make it with New.
type Server struct {
	cfg      Config
	hub      *hub
	devices  devices
	upgrader websocket.Upgrader
	born     time.Time
	kept     func() shelf // read once, when first asked for

	base context.Context // ends every link
	stop context.CancelCauseFunc
	live live
}

// New checks the configuration. Nothing runs until Run.
func New(cfg Config) (*Server, error) {
	switch {
	case cfg.OnInput == nil:
		return nil, errors.New("server: expected OnInput, got none: inputs would be lost")
	case cfg.Keys == nil:
		return nil, errors.New("server: expected Keys, got none: nobody could join")
	case cfg.Hosts == nil:
		return nil, errors.New("server: expected Hosts, got none: every request would be refused")
	case cfg.Pages == nil:
		return nil, errors.New("server: expected Pages, got none")
	}
	if cfg.Log == nil {
		cfg.Log = zap.NewNop()
	}
	if cfg.Now == nil {
		cfg.Now = time.Now
	}
	if cfg.TLSPort == 0 {
		cfg.TLSPort = 443
	}
	cfg.Limits = cfg.Limits.filled()
	s := &Server{cfg: cfg, born: cfg.Now()}
	s.base, s.stop = context.WithCancelCause(context.Background())
	s.hub = newHub(s)
	s.kept = sync.OnceValue(func() shelf { return keep(cfg.Pages, cfg.Clips, cfg.Voice) })
	s.live.max = cfg.Limits.MaxLinks
	s.upgrader = websocket.Upgrader{HandshakeTimeout: 10 * time.Second, CheckOrigin: sameOrigin}
	return s, nil
}

// Run owns the hub until ctx ends, then cuts every link and waits for it. Call
// it once.
func (s *Server) Run(ctx context.Context) error {
	stopped := make(chan struct{})
	go func() {
		defer close(stopped)
		s.hub.run(s.base)
	}()
	<-ctx.Done()
	s.live.close()
	s.stop(cut{websocket.CloseGoingAway, "the service is ending"})
	s.live.wait()
	<-stopped
	return nil
}

// Publish hands an output of the boat's engine to the pages. line is used for
// cues. After Run has ended it does nothing.
func (s *Server) Publish(name string, out boat.Output, line Line) {
	s.hub.tell(func(h *hub) { h.publish(name, out, line) })
}

// Tell hands what the boat's engine was told by others (a wind, an act, settings, an
// instrument's reading) to her own page, whose engine must know it too.
func (s *Server) Tell(name string, in boat.Input) {
	s.hub.tell(func(h *hub) { h.own(h.craft(name), phonemsg.Input{Boat: name, Input: in}) })
}

// HTTPServer returns an http.Server for Handler or Plain with limits on slow
// and large headers; log gets its complaints.
func HTTPServer(h http.Handler, log *zap.Logger) *http.Server {
	srv := &http.Server{Handler: h, ReadHeaderTimeout: 10 * time.Second, IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 16 << 10}
	if log != nil {
		// Debug, not more: every phone that does not trust the root yet complains here.
		srv.ErrorLog, _ = zap.NewStdLogAt(log, zap.DebugLevel)
	}
	return srv
}

// live counts links, so that Run can wait for them.
type live struct {
	max int

	mu     sync.Mutex
	n      int
	closed bool
	wg     sync.WaitGroup
}

func (l *live) enter() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.closed || l.n >= l.max {
		return false
	}
	l.n++
	l.wg.Add(1)
	return true
}

func (l *live) leave() {
	l.mu.Lock()
	l.n--
	l.mu.Unlock()
	l.wg.Done()
}

func (l *live) close() {
	l.mu.Lock()
	l.closed = true
	l.mu.Unlock()
}

func (l *live) count() int {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.n
}

func (l *live) wait() { l.wg.Wait() }
