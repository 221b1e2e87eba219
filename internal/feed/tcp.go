package feed

import (
	"bufio"
	"context"
	"errors"
	"io"
	"net"
	"time"

	"go.uber.org/zap"

	"helmcue/internal/boat"
)

// Times of a TCP link. A link that says nothing for idle is taken as dead: every
// instrument repeats its sentences each few seconds.
const (
	dialTime  = 5 * time.Second
	idle      = 60 * time.Second
	firstWait = 500 * time.Millisecond
	maxWait   = 30 * time.Second
)

// again links, and when the link ends links again with growing waits, until ctx ends.
func (f *Feed) again(ctx context.Context, link func() (heard bool, err error)) {
	wait, told := firstWait, false
	for ctx.Err() == nil {
		heard, err := link()
		if ctx.Err() != nil {
			return
		}
		if heard {
			wait, told = firstWait, false
		}
		f.connected(false, err.Error())
		if !told { // once, not at every try
			f.cfg.Log.Warn("no link to the instruments, trying again", zap.Stringer("source", f.src), zap.Error(err))
			told = true
		}
		if !sleep(ctx, wait) {
			return
		}
		wait = min(2*wait, maxWait)
	}
}

// dial reads one connection until it ends; heard says that a line came.
func (f *Feed) dial(ctx context.Context, emit func(boat.Input)) (heard bool, err error) {
	d := net.Dialer{Timeout: dialTime}
	conn, err := d.DialContext(ctx, "tcp", f.src.Addr)
	if err != nil {
		return false, err
	}
	defer conn.Close()
	defer closeAtEnd(ctx, conn)()
	f.connected(true, "")
	f.cfg.Log.Info("linked to the instruments", zap.Stringer("source", f.src))
	return f.read(patient{conn}, "", emit)
}

// read hands on every line of one sender until its end, which is an error.
func (f *Feed) read(from io.Reader, sender string, emit func(boat.Input)) (heard bool, err error) {
	r := bufio.NewReaderSize(from, maxLine)
	for {
		text, err := readLine(r)
		if err != nil {
			return heard, describe(err)
		}
		heard = true
		for _, in := range f.line(sender, text, f.cfg.Now()) {
			emit(in)
		}
	}
}

// patient is a connection whose reads wait no longer than idle.
type patient struct{ net.Conn }

func (p patient) Read(b []byte) (int, error) {
	if err := p.SetReadDeadline(time.Now().Add(idle)); err != nil {
		return 0, err
	}
	return p.Conn.Read(b)
}

func describe(err error) error {
	var timeout net.Error
	switch {
	case errors.Is(err, io.EOF):
		return errors.New("the instruments closed the link")
	case errors.As(err, &timeout) && timeout.Timeout():
		return errors.New("the instruments said nothing for a minute")
	}
	return err
}

// closeAtEnd closes c when ctx ends, which frees a read that waits. The returned
// function stops that, and waits where it is under way.
func closeAtEnd(ctx context.Context, c io.Closer) func() {
	done := make(chan struct{})
	stop := context.AfterFunc(ctx, func() {
		defer close(done)
		c.Close()
	})
	return func() {
		if !stop() {
			<-done
		}
	}
}

// sleep waits, and returns false where ctx ended first.
func sleep(ctx context.Context, d time.Duration) bool {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-ctx.Done():
		return false
	case <-t.C:
		return true
	}
}

// maxLine is far above any sentence (82 characters by the standard).
const maxLine = 1024

// readLine returns the next line; of one beyond maxLine the beginning, which no
// decoder takes for a sentence.
func readLine(r *bufio.Reader) (string, error) {
	b, err := r.ReadSlice('\n')
	text := string(b)
	for errors.Is(err, bufio.ErrBufferFull) {
		_, err = r.ReadSlice('\n')
	}
	if errors.Is(err, io.EOF) && text != "" {
		err = nil
	}
	return text, err
}
