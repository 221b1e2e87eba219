package feed

import (
	"context"
	"net"
	"strings"

	"helmcue/internal/boat"
)

// udp reads datagrams, each of one or more whole lines. Senders are told apart by
// their host: each has its own clock.
func (f *Feed) udp(ctx context.Context, emit func(boat.Input)) error {
	defer f.conn.Close()
	defer closeAtEnd(ctx, f.conn)()
	f.connected(true, "")
	buf := make([]byte, 64<<10)
	for {
		n, from, err := f.conn.ReadFrom(buf)
		if err != nil {
			if ctx.Err() != nil {
				return nil
			}
			return err
		}
		host, _, err := net.SplitHostPort(from.String())
		if err != nil {
			host = from.String()
		}
		at := f.cfg.Now()
		for text := range strings.Lines(string(buf[:n])) {
			for _, in := range f.line(host, text[:min(len(text), maxLine)], at) {
				emit(in)
			}
		}
	}
}
