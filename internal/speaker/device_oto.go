//go:build !nosound && (cgo || darwin || windows)

package speaker

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"github.com/hajimehoshi/oto/v2"
)

// bufferMS is how far ahead the device is fed: the least that did not break up
// on a small computer (common practice, no source). It delays every word.
const bufferMS = 60

// settle is how long a missing device takes to show itself.
const settle = 300 * time.Millisecond

const built = "with the loudspeaker"

// driverMS is what oto v2's ALSA driver keeps besides: two periods of 1024
// samples (driver_unix.go). Other drivers differ.
const driverMS = 2 * 1024 * 1000 / Rate

// device is the one sound context of this process: the library allows no
// second, and one that failed stays failed. A leaf.
var device struct {
	sync.Mutex
	ctx *oto.Context
	err error
}

// otoOutput is the loudspeaker.
type otoOutput struct {
	ctx    *oto.Context
	player oto.Player
}

func openDevice() (output, error) {
	device.Lock()
	defer device.Unlock()
	if device.ctx == nil && device.err == nil {
		if why := noCard(); why != "" {
			return nil, absent(why)
		}
		device.ctx, device.err = newContext()
	}
	if device.err != nil {
		return nil, device.err
	}
	return &otoOutput{ctx: device.ctx}, nil
}

func newContext() (*oto.Context, error) {
	ctx, ready, err := oto.NewContext(Rate, 1, oto.FormatFloat32LE)
	if err != nil {
		return nil, fmt.Errorf("the loudspeaker cannot be opened: %w", err)
	}
	select {
	case <-ready:
	case <-time.After(5 * time.Second):
		return nil, fmt.Errorf("the loudspeaker did not answer within five seconds")
	}
	for end := time.Now().Add(settle); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if err := ctx.Err(); err != nil {
			return nil, errors.New("no loudspeaker: " + brief(err))
		}
	}
	return ctx, nil
}

func (o *otoOutput) start(fill func([]float32)) {
	o.player = o.ctx.NewPlayer(&pull{fill: fill})
	if b, ok := o.player.(oto.BufferSizeSetter); ok {
		b.SetBufferSize(bufferMS * Rate / 1000 * 4)
	}
	o.player.Play()
}

func (o *otoOutput) err() error {
	if err := o.ctx.Err(); err != nil {
		return errors.New(brief(err))
	}
	return o.player.Err()
}

func (o *otoOutput) ahead() time.Duration {
	ms := o.player.UnplayedBufferSize() * 1000 / (4 * Rate)
	return time.Duration(ms+driverMS) * time.Millisecond
}

func (o *otoOutput) stop() { o.player.Close() } //nolint:errcheck // it returns what err told

// noCard says why there is surely no sound on this Linux machine, or "". Asking
// first spares the person the sound library's dozen lines about every way it
// tried. Where somebody configured ALSA by hand or a sound server runs, the
// library is asked.
func noCard() string {
	cards, err := os.ReadFile("/proc/asound/cards")
	if err == nil && !strings.Contains(string(cards), "no soundcards") {
		return ""
	}
	if os.Getenv("ALSA_CONFIG_PATH") != "" || os.Getenv("PULSE_SERVER") != "" {
		return ""
	}
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return ""
	}
	if _, err := os.Stat("/proc/self"); err != nil {
		return "" // not Linux
	}
	for _, conf := range []string{"/etc/asound.conf", filepath.Join(os.Getenv("HOME"), ".asoundrc"),
		filepath.Join(os.Getenv("XDG_RUNTIME_DIR"), "pulse", "native"), filepath.Join(os.Getenv("XDG_RUNTIME_DIR"), "pipewire-0")} {
		if filepath.IsAbs(conf) {
			if _, err := os.Stat(conf); err == nil {
				return ""
			}
		}
	}
	return "this machine has no sound card"
}

// brief keeps the first thing the library tried; the rest is its guesses.
func brief(err error) string {
	text, _, _ := strings.Cut(err.Error(), ",")
	return text
}
