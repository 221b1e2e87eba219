package app

import (
	"context"
	"slices"
	"testing"
	"time"

	"go.uber.org/zap"

	"helmcue/internal/boat"
)

// A boat's lull goes to all others and not back to her; a full queue holds nobody up.
func TestALullIsPassedOnToTheOtherBoats(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	a := &App{log: zap.NewNop(), seats: map[string]*seat{}, lulls: newLulls()}
	heard := make(chan string, 8)
	for _, name := range []string{"Wren", "Pebble", "Thistle"} {
		s := &seat{name: name, in: make(chan request), done: make(chan struct{})}
		a.seats[name] = s
		a.spawn(func() {
			defer close(s.done)
			for {
				select {
				case <-ctx.Done():
					return
				case r := <-s.in:
					if l := r.ins[0].Lull; r.ins[0].Kind == boat.LullIn && l != nil && l.At == (boat.LonLat{-30.4, 47.05}) {
						heard <- s.name
					}
					r.done <- nil
				}
			}
		})
	}
	a.spawn(func() { a.lulls.run(ctx, a.passOn) })
	a.lulls.put("Pebble", boat.Lull{T: 5, At: boat.LonLat{-30.4, 47.05}})
	var got []string
	for len(got) < 2 {
		select {
		case name := <-heard:
			got = append(got, name)
		case <-time.After(5 * time.Second):
			t.Fatalf("passed on to %v only", got)
		}
	}
	slices.Sort(got)
	if !slices.Equal(got, []string{"Thistle", "Wren"}) {
		t.Errorf("passed on to %v", got)
	}
	stop()
	a.wg.Wait()
	if len(heard) != 0 {
		t.Error("passed on once more")
	}
	for range 100 { // nobody takes them out now
		a.lulls.put("Wren", boat.Lull{})
	}
}
