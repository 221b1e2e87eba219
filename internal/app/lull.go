package app

import (
	"context"

	"helmcue/internal/boat"
)

// lulls hands on where a boat lost way to the other boats. A seat puts them in and
// waits for nobody; what finds no room is lost, and no cue hangs on it.
type lulls struct{ in chan lull }

type lull struct {
	by string
	boat.Lull
}

func newLulls() lulls { return lulls{make(chan lull, 16)} }

func (l lulls) put(by string, b boat.Lull) {
	select {
	case l.in <- lull{by, b}:
	default:
	}
}

// run hands on until ctx ends.
func (l lulls) run(ctx context.Context, to func(context.Context, lull)) {
	for {
		select {
		case <-ctx.Done():
			return
		case one := <-l.in:
			to(ctx, one)
		}
	}
}

// passOn tells all boats but the one it comes from.
func (a *App) passOn(ctx context.Context, l lull) {
	a.mu.Lock()
	var others []*seat
	for name, s := range a.seats {
		if name != l.by {
			others = append(others, s)
		}
	}
	a.mu.Unlock()
	for _, s := range others {
		s.hear(ctx, []boat.Input{{T: nowMS(), Kind: boat.LullIn, Source: "service", Lull: &l.Lull}}) //nolint:errcheck // the seat has said it in the log
	}
}
