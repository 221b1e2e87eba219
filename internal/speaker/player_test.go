package speaker

import (
	"context"
	"errors"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

// fake is a loudspeaker that takes samples when it is told to.
type fake struct {
	fill    func([]float32)
	going   chan bool // closed by start, where a test waits for it
	broken  error
	stopped bool
}

func (f *fake) start(fill func([]float32)) {
	f.fill = fill
	if f.going != nil {
		close(f.going)
	}
}
func (f *fake) err() error           { return f.broken }
func (f *fake) ahead() time.Duration { return 70 * time.Millisecond }
func (f *fake) stop()                { f.stopped = true }

// hears pulls milliseconds of sound and says whether any of it is words.
func (f *fake) hears(ms int) bool {
	x := make([]float32, ms*Rate/1000)
	f.fill(x)
	return slices.ContainsFunc(x, func(v float32) bool { return v != 0 })
}

func fakePlayer(f *fake) *Player {
	p := with(Config{Clips: demo()}, func() (output, error) { return f, nil })
	p.begin()
	return p
}

func TestADeviceThatBreaksIsGivenUp(t *testing.T) {
	f := &fake{}
	p := fakePlayer(f)
	p.Play(Utterance{ID: 1, Clips: []string{"stem"}})
	if !f.hears(100) || p.Silent() != "" {
		t.Fatalf("nothing is heard: %q", p.Silent())
	}
	f.broken = errors.New("the plug was pulled")
	p.watch(time.Now())
	if p.Silent() != "the plug was pulled" || !f.stopped {
		t.Errorf("silent because %q, stopped: %v", p.Silent(), f.stopped)
	}
	if f.hears(100) {
		t.Error("the device and the clock both pace the words")
	}
	p.pace(200 * time.Millisecond)
	if got := told(p); !slices.Equal(got, []string{"started", "finished"}) {
		t.Errorf("told %v: what was begun must end, heard or not", got)
	}
}

func told(p *Player) (out []string) {
	for len(p.told) > 0 {
		out = append(out, (<-p.told).What)
	}
	return out
}

func TestADeviceThatSleepsComesBack(t *testing.T) {
	f := &fake{}
	p := fakePlayer(f)
	p.watch(time.Now())
	if d := p.Delay(); d != 70*time.Millisecond {
		t.Errorf("delay %v, want what the device has ahead, 70 ms", d)
	}
	p.watch(time.Now().Add(stalled + time.Second))
	if p.Silent() == "" || p.Delay() != 0 || f.stopped {
		t.Errorf("a device that takes nothing for 3 s: silent because %q, stopped: %v", p.Silent(), f.stopped)
	}
	f.hears(10)
	p.watch(time.Now())
	p.Play(Utterance{ID: 1, Clips: []string{"stem"}})
	if p.Silent() != "" || !f.hears(10) {
		t.Errorf("it takes sound again but is silent because %q", p.Silent())
	}
}

// What cannot be heard before it expires is dropped, also when only the device's
// own buffer makes it late.
func TestExpiryCountsTheDevicesDelay(t *testing.T) {
	f := &fake{}
	p := fakePlayer(f)
	p.watch(time.Now())
	p.Play(Utterance{ID: 1, Clips: []string{"stem"}, Expires: time.Now().UnixMilli() + 30})
	if f.hears(10) {
		t.Error("words that die in 30 ms were begun on a device that is 70 ms behind")
	}
	if got := told(p); !slices.Equal(got, []string{"dropped"}) {
		t.Errorf("told %v", got)
	}
}

func TestASoundCardThatComesLaterIsUsed(t *testing.T) {
	f := &fake{}
	tries := 0
	p := with(Config{}, func() (output, error) {
		if tries++; tries < 3 {
			return nil, absent("no card yet")
		}
		return f, nil
	})
	p.search()
	if p.Silent() != "no card yet" {
		t.Errorf("silent because %q", p.Silent())
	}
	if p.search(); p.Silent() != "" || f.fill == nil {
		t.Errorf("a card came, but silent because %q", p.Silent())
	}
	p.search()
	if tries != 3 {
		t.Errorf("%d tries, want none after the card was found", tries)
	}
	once := 0
	p = with(Config{}, func() (output, error) { once++; return nil, errors.New("broken for good") })
	if p.search(); once != 1 || p.Silent() != "broken for good" {
		t.Errorf("%d tries of what is final; silent because %q", once, p.Silent())
	}
}

func TestSwitchedOffStillKeepsTime(t *testing.T) {
	ctx, stop := context.WithTimeout(context.Background(), 5*time.Second)
	defer stop()
	var at []time.Time
	p := Open(Config{Clips: demo(), Off: true, Told: func(e Event) {
		if at = append(at, time.Now()); e.What == "finished" {
			stop()
		}
	}})
	p.Play(Utterance{ID: 1, Clips: []string{"out"}})
	p.Run(ctx)
	if len(at) != 2 || at[1].Sub(at[0]) < 300*time.Millisecond {
		t.Errorf("events at %v, want two 400 ms apart", at)
	}
	if p.Silent() != "switched off" || p.open != nil {
		t.Errorf("silent because %q", p.Silent())
	}
}

// Cues come from one goroutine, the device asks from another, and a person looks
// at the page from a third: for the race detector.
func TestManyHands(t *testing.T) {
	f := &fake{going: make(chan bool)}
	p := with(Config{Clips: demo()}, func() (output, error) { return f, nil })
	ctx, stop := context.WithCancel(context.Background())
	var hands sync.WaitGroup
	hands.Go(func() { p.Run(ctx) })
	<-f.going
	hands.Go(func() {
		for id := range 40 {
			p.Play(Utterance{ID: id, Clips: []string{"stem"}, Danger: id%7 == 0, Twice: true})
		}
	})
	hands.Go(func() {
		for range 40 {
			if s := p.Silent() + p.Delay().String(); strings.Contains(s, "-") {
				t.Error(s)
			}
		}
	})
	for range 40 {
		f.hears(10)
		time.Sleep(time.Millisecond)
	}
	stop()
	hands.Wait()
	if !f.stopped {
		t.Error("Run returned and left the device going")
	}
}

// On a busy machine the first tick may lie before the moment Run began to look.
func TestATickFromBefore(t *testing.T) {
	p := Open(Config{Clips: demo(), Off: true, Told: func(Event) {}})
	p.pace(-13 * time.Millisecond)
	if p.Silent() == "" { // would wait for ever for a lock that was never given back
		t.Error("a player that is switched off says it is heard")
	}
}
