package feed

import (
	"context"
	"net"
	"sync"

	"go.uber.org/zap"

	"helmcue/internal/boat"
)

// mostLinks bounds the connections: a boat has a handful of boxes.
const mostLinks = 8

// receive lets instruments connect until ctx ends. Each has a goroutine, and emit
// is called by one at a time.
func (f *Feed) receive(ctx context.Context, emit func(boat.Input)) error {
	defer f.door.Close()
	defer closeAtEnd(ctx, f.door)()
	var one sync.Mutex
	alone := func(in boat.Input) {
		one.Lock()
		defer one.Unlock()
		emit(in)
	}
	var links sync.WaitGroup
	defer links.Wait()
	free := make(chan struct{}, mostLinks)
	f.connected(true, "")
	for {
		conn, err := f.door.Accept()
		if err != nil {
			if ctx.Err() != nil {
				return nil
			}
			return err
		}
		select {
		case free <- struct{}{}:
		default:
			f.cfg.Log.Warn("too many instruments are connected, one more is turned away", zap.Stringer("from", conn.RemoteAddr()))
			conn.Close()
			continue
		}
		links.Go(func() {
			defer func() { <-free }()
			f.guest(ctx, conn, alone)
		})
	}
}

// guest reads one instrument that connected.
func (f *Feed) guest(ctx context.Context, conn net.Conn, emit func(boat.Input)) {
	defer conn.Close()
	defer closeAtEnd(ctx, conn)()
	host, _, err := net.SplitHostPort(conn.RemoteAddr().String())
	if err != nil {
		host = conn.RemoteAddr().String()
	}
	_, err = f.read(patient{conn}, host, emit)
	if ctx.Err() == nil {
		f.cfg.Log.Info("an instrument left", zap.String("from", host), zap.Error(err))
	}
}
