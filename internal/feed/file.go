package feed

import (
	"bufio"
	"context"
	"errors"
	"io"
	"time"

	"helmcue/internal/boat"
)

// play reads the file to its end. With a pace, its first input is now and the
// others follow as they did then, T on the session's clock and the file's own
// time in Sent.
func (f *Feed) play(ctx context.Context, emit func(boat.Input)) error {
	defer f.file.Close()
	f.connected(true, "")
	r := bufio.NewReaderSize(f.file, maxLine)
	p := player{pace: f.cfg.Pace, now: f.cfg.Now, emit: emit}
	for ctx.Err() == nil {
		text, err := readLine(r)
		if errors.Is(err, io.EOF) {
			p.all(ctx, f.flush())
			return nil
		}
		if err != nil {
			return err
		}
		p.all(ctx, f.line("", text, 0))
	}
	return nil
}

func (f *Feed) flush() []boat.Input {
	f.mu.Lock()
	defer f.mu.Unlock()
	if d := f.dec[""]; d != nil {
		return d.Flush()
	}
	return nil
}

// player keeps the pace.
type player struct {
	pace  float64
	now   func() boat.Time
	emit  func(boat.Input)
	begun bool
	from  boat.Time // the file's
	at    boat.Time // the session's, at from
}

func (p *player) all(ctx context.Context, in []boat.Input) {
	for _, i := range in {
		if p.pace > 0 && !p.due(ctx, &i) {
			return
		}
		p.emit(i)
	}
}

// due waits until in is due and puts it on the session's clock; it returns false
// where ctx ended first.
func (p *player) due(ctx context.Context, in *boat.Input) bool {
	if !p.begun {
		p.begun, p.from, p.at = true, in.T, p.now()
	}
	in.Sent = in.T
	in.T = p.at.After(in.T.Seconds(p.from) / p.pace)
	for {
		ms := in.T - p.now()
		if ms <= 0 {
			return ctx.Err() == nil
		}
		if !sleep(ctx, time.Duration(ms)*time.Millisecond) {
			return false
		}
	}
}
