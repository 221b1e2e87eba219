package feed

import (
	"context"
	"fmt"
	"net"
	"os"
	"sync"
	"time"

	"go.uber.org/zap"

	"helmcue/internal/boat"
	"helmcue/internal/nmea"
)

// Config is what a feed is made with; the zero value works.
type Config struct {
	Log  *zap.Logger      // nil: says nothing
	Now  func() boat.Time // the session's clock; nil: the machine's
	Pace float64          // file: 1 plays it as fast as it was recorded, 10 ten times; 0: at once, in its own time
}

// Status is how a feed is doing.
type Status struct {
	Source    string
	Connected bool      // there is a link, a socket or a file to read
	LastLine  boat.Time // when the last line arrived; 0: none yet
	Count     nmea.Count
	Problem   string // why it is not connected, for a person; empty while it is
}

// Feed is one source.
type Feed struct {
	src  Source
	cfg  Config
	conn net.PacketConn // udp
	door net.Listener   // listen
	file *os.File       // file

	mu     sync.Mutex // guards what follows; held for no call out
	dec    map[string]*nmea.Decoder
	status Status
}

// Open takes what can be had at once, so that a busy port or a missing file is
// an error at the start. Run, or Close, gives it back.
func Open(src Source, cfg Config) (*Feed, error) {
	if cfg.Log == nil {
		cfg.Log = zap.NewNop()
	}
	if cfg.Now == nil {
		cfg.Now = func() boat.Time { return boat.Time(time.Now().UnixMilli()) }
	}
	f := &Feed{src: src, cfg: cfg, dec: map[string]*nmea.Decoder{}}
	f.status.Source = src.String()
	var err error
	switch src.Kind {
	case "tcp", "serial": // may come later
	case "listen":
		f.door, err = net.Listen("tcp", src.Addr)
	case "udp":
		f.conn, err = net.ListenPacket("udp", src.Addr)
	case "file":
		f.file, err = os.Open(src.Addr)
	default:
		err = fmt.Errorf("expected one of %s", sourceForms)
	}
	if err != nil {
		return nil, fmt.Errorf("opening instruments at %s: %w", src, err)
	}
	return f, nil
}

// Addr returns where a feed listens, nil for those that do not.
func (f *Feed) Addr() net.Addr {
	switch {
	case f.conn != nil:
		return f.conn.LocalAddr()
	case f.door != nil:
		return f.door.Addr()
	}
	return nil
}

// Close gives back what Open took, where Run is not going to be called.
func (f *Feed) Close() error {
	switch {
	case f.conn != nil:
		return f.conn.Close()
	case f.door != nil:
		return f.door.Close()
	case f.file != nil:
		return f.file.Close()
	}
	return nil
}

// Run reads until ctx ends, and a file until its end, and calls emit with each
// input in order, T never decreasing for one sender. emit runs on Run's
// goroutine and must not block. It returns nil for both ways to end, and an
// error where the source can give no more.
func (f *Feed) Run(ctx context.Context, emit func(boat.Input)) error {
	var err error
	switch f.src.Kind {
	case "tcp":
		f.again(ctx, func() (bool, error) { return f.dial(ctx, emit) })
	case "serial":
		f.again(ctx, func() (bool, error) { return f.plug(ctx, emit) })
	case "listen":
		err = f.receive(ctx, emit)
	case "udp":
		err = f.udp(ctx, emit)
	default:
		err = f.play(ctx, emit)
	}
	f.connected(false, "")
	f.cfg.Log.Info("instruments stopped", zap.Stringer("source", f.src), zap.Stringer("lines", f.Status().Count))
	if err != nil && ctx.Err() == nil {
		return fmt.Errorf("reading instruments at %s: %w", f.src, err)
	}
	return nil
}

// Status may be called at any time from any goroutine.
func (f *Feed) Status() Status {
	f.mu.Lock()
	defer f.mu.Unlock()
	s := f.status
	s.Count.Unused = map[string]int{}
	for _, d := range f.dec {
		c := d.Count()
		s.Count.Lines += c.Lines
		s.Count.Kept += c.Kept
		for i, n := range c.Skipped {
			s.Count.Skipped[i] += n
		}
		for t, n := range c.Unused {
			s.Count.Unused[t] += n
		}
	}
	return s
}

func (f *Feed) connected(yes bool, problem string) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.status.Connected, f.status.Problem = yes, problem
}

// line decodes one line of one sender; at is 0 for a file.
func (f *Feed) line(sender, text string, at boat.Time) []boat.Input {
	now := f.cfg.Now()
	f.mu.Lock()
	defer f.mu.Unlock()
	f.status.LastLine = now
	d := f.dec[sender]
	if d == nil {
		if len(f.dec) >= maxSenders {
			return nil
		}
		d = nmea.NewDecoder()
		f.dec[sender] = d
	}
	return d.Line(text, at)
}

// maxSenders bounds the decoders: a boat has a handful of boxes.
const maxSenders = 16
