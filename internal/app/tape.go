package app

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"time"

	"go.uber.org/zap"

	"helmcue/internal/boat"
	"helmcue/internal/recording"
)

// shelf is the folder of recordings; it alone knows their names.
type shelf struct {
	dir     string
	version string
	log     *zap.Logger
}

func newShelf(data, version string, log *zap.Logger) (*shelf, error) {
	dir := filepath.Join(data, "sessions")
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("cannot make the folder for recordings: %w; name a folder you may write to with --data", err)
	}
	return &shelf{dir: dir, version: version, log: log}, nil
}

// open starts a recording. It never fails: where the disk will not have it, the
// tape is broken from the start, says so, and the coaching goes on.
func (sh *shelf) open(name string, s boat.Settings, t boat.Time) *tape {
	start := time.UnixMilli(int64(t)).UTC()
	base := start.Format("2006-01-02T15-04-05Z") + "_" + plain(name)
	t2 := &tape{log: sh.log, session: base}
	for n := 1; n < 1000; n++ {
		path := filepath.Join(sh.dir, base+".mcap")
		if n > 1 {
			path = filepath.Join(sh.dir, fmt.Sprintf("%s_%d.mcap", base, n))
		}
		f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
		if os.IsExist(err) {
			continue
		}
		if err != nil {
			t2.fail(fmt.Errorf("cannot start a recording: %w", err))
			return t2
		}
		t2.path, t2.file = path, f
		t2.w, err = recording.Create(f, recording.Header{Session: base, Boat: name, Started: t, Version: sh.version, Settings: &s})
		if err != nil {
			t2.fail(err)
		}
		sh.log.Info("recording", zap.String("boat", name), zap.String("file", path))
		return t2
	}
	t2.fail(fmt.Errorf("cannot start a recording: a thousand of this name exist already"))
	return t2
}

// plain keeps a boat's name fit for a file name.
func plain(name string) string {
	keep := func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-':
			return r
		}
		return '-'
	}
	return strings.Map(keep, name)
}

// tape is one recording under way. All methods stand a nil tape: nothing is
// recorded then.
type tape struct {
	log     *zap.Logger
	session string
	path    string
	file    *os.File
	w       *recording.Writer
	err     error

	syncing  atomic.Bool
	lastSync time.Time
	synced   chan struct{}
}

func (t *tape) input(in boat.Input) {
	if t != nil && t.err == nil {
		t.fail(t.w.Input(in))
	}
}

func (t *tape) output(out boat.Output) {
	if t != nil && t.err == nil {
		t.fail(t.w.Output(out))
	}
}

func (t *tape) fail(err error) {
	if err == nil || t.err != nil {
		return
	}
	t.err = err
	t.log.Error("not recording; the coaching goes on: make room on the disk, a new recording is tried every half minute", zap.Error(err))
}

func (t *tape) broken() bool { return t != nil && t.err != nil }

func (t *tape) problem() error {
	if t == nil {
		return nil
	}
	return t.err
}

// sync makes the last second survive a loss of power. It runs beside the seat: a
// slow card must not hold up a cue.
func (t *tape) sync() {
	if t == nil || t.err != nil || time.Since(t.lastSync) < time.Second || !t.syncing.CompareAndSwap(false, true) {
		return
	}
	t.lastSync = time.Now()
	t.synced = make(chan struct{})
	go func(done chan struct{}) {
		defer close(done)
		defer t.syncing.Store(false)
		if err := t.file.Sync(); err != nil {
			t.log.Warn("the recording could not be flushed to the disk", zap.Error(err))
		}
	}(t.synced)
}

// close ends the recording: indexed and compressed, or left as it is where that
// fails, since it can be read either way.
func (t *tape) close() {
	if t.synced != nil {
		<-t.synced
	}
	if t.w == nil {
		return
	}
	if err := t.w.Close(); err != nil {
		t.log.Error("the recording was not closed properly; it can still be read up to its last whole message",
			zap.String("file", t.path), zap.Error(err))
		return
	}
	if err := recording.Finish(t.path); err != nil {
		t.log.Warn("the recording stays uncompressed", zap.String("file", t.path), zap.Error(err))
		return
	}
	t.log.Info("recording closed", zap.String("file", t.path))
}
