package app

import (
	"context"
	"errors"
	"sync/atomic"
	"time"

	"go.uber.org/zap"

	"helmcue/internal/boat"
	"helmcue/internal/engine"
	"helmcue/internal/phonemsg"
)

// Pace of a seat's own clockwork.
const (
	beat       = 250 * time.Millisecond
	silence    = time.Second      // without inputs, time is passed on by ticks
	linkSilent = 10 * time.Second // without samples, the phone is lost
	idleEnd    = 15 * time.Minute // without samples, the recording ends
	retryAfter = 30 * time.Second // after a recording broke, a new one is tried
	maxCarry   = boat.Time(5 * 60 * 1000)
)

var errSeatClosed = errors.New("the service is closing; send it again later")

// seat is one boat in the service.
type seat struct {
	name     string
	settings boat.Settings
	now      func() boat.Time
	files    *shelf
	log      *zap.Logger
	said     func(seat string, out boat.Output) // must not block
	told     func(seat string, in boat.Input)   // to her page; must not block

	speaksHere bool // this machine's loudspeaker is in the boat

	in   chan request
	ask  chan chan boat.Settings
	can  chan bool
	done chan struct{}

	// what follows belongs to run
	eng        *engine.Engine
	rec        *tape
	lastInput  time.Time
	lastSample time.Time
	brokeAt    time.Time
	lost       bool
	last       boat.Status
	lastT      boat.Time // of the last sample
	alone      alone

	at atomic.Pointer[boat.LonLat] // where she was last; read by others
}

type request struct {
	ins  []boat.Input
	done chan error
}

// hear hands inputs to the seat and returns once they are recorded.
func (s *seat) hear(ctx context.Context, ins []boat.Input) error {
	if len(ins) == 0 {
		return nil
	}
	r := request{ins, make(chan error, 1)}
	select {
	case s.in <- r:
	case <-s.done:
		return errSeatClosed
	case <-ctx.Done():
		return ctx.Err()
	}
	select {
	case err := <-r.done:
		return err
	case <-s.done:
		return errSeatClosed
	}
}

// holds returns the settings that hold now.
func (s *seat) holds() boat.Settings {
	to := make(chan boat.Settings, 1)
	select {
	case s.ask <- to:
		return <-to
	case <-s.done:
		return boat.Settings{Boat: s.name}
	}
}

// run is the seat's goroutine. It ends with ctx, its recording closed.
func (s *seat) run(ctx context.Context) {
	defer close(s.done)
	s.eng = engine.New()
	clock := time.NewTicker(beat)
	defer clock.Stop()
	defer func() { s.release(); s.endRecording() }()
	for {
		select {
		case <-ctx.Done():
			return
		case r := <-s.in:
			r.done <- s.take(r.ins)
		case to := <-s.ask:
			to <- s.settings
		case s.alone.can = <-s.can:
		case <-clock.C:
			s.pass()
		}
	}
}

func (s *seat) take(ins []boat.Input) error {
	s.lastInput = time.Now()
	for _, in := range ins {
		s.order(in)
	}
	return s.rec.problem()
}

// ready opens a recording with the first thing worth one, and notices that a
// lost phone is back.
func (s *seat) ready(in boat.Input) {
	switch in.Kind {
	case boat.Tick, boat.Hidden, boat.Shown, boat.SpokenIn, boat.LullIn:
		return
	}
	outing := in.Kind == boat.SampleIn && s.lastT != 0 && in.T-s.lastT > boat.Time(idleEnd.Milliseconds())
	if s.rec.broken() && time.Since(s.brokeAt) > retryAfter || outing {
		s.endRecording()
	}
	if s.rec == nil {
		s.begin(in.T)
	}
	if in.Kind != boat.SampleIn {
		return
	}
	s.lastSample, s.lastT = time.Now(), max(s.lastT, in.T)
	if f := in.Sample; f != nil && f.LatDeg.OK && f.LonDeg.OK {
		s.at.Store(&boat.LonLat{f.LonDeg.Val, f.LatDeg.Val})
	}
	if s.lost {
		s.lost = false
		s.step(boat.Input{T: max(in.T, s.now()), Kind: boat.LinkBack, Source: "service"})
	}
}

// begin starts a recording with a fresh engine, so that the recording holds all
// the engine ever knew. Where a recording broke in mid-session (a full disk) the
// wind believed so far is its first fact.
func (s *seat) begin(t boat.Time) {
	s.rec = s.files.open(s.name, s.settings, t)
	s.brokeAt, s.lastSample = time.Now(), time.Now()
	s.eng = engine.New()
	s.step(boat.Input{T: t, Kind: boat.SettingsIn, Source: "service", Settings: &s.settings})
	if w := s.last; w.TWDKnown && t-w.T < maxCarry {
		s.step(boat.Input{T: t, Kind: boat.WindFixIn, Source: "service", WindFix: &boat.WindFix{
			DirDeg: w.TWDDeg, Ref: boat.True, SDDeg: w.TWDSDDeg, Kn: w.TWSKn, Method: "hand"}})
	}
}

// pass lets time go by in the engine when nobody speaks, so that silence itself
// is noticed.
func (s *seat) pass() {
	quiet := time.Since(s.lastInput)
	unheard := time.Since(s.lastSample)
	switch {
	case s.rec == nil:
	case s.alone.away && unheard < awayMost:
	case s.hold() && unheard > quietest:
		s.alone.away = true
	case s.hold() && unheard > silence:
	case unheard > idleEnd:
		s.release()
		s.endRecording()
	case unheard > linkSilent && !s.lost:
		s.lost = true
		s.step(boat.Input{T: s.now(), Kind: boat.LinkLost, Source: "service"})
	case quiet > silence:
		s.step(boat.Input{T: s.now(), Kind: boat.Tick, Source: "service"})
	}
	s.rec.sync()
}

// changed applies an act that changes settings: they are replaced as a whole.
func (s *seat) changed(in boat.Input) {
	next, ok := phonemsg.Change(s.settings, *in.Act)
	if !ok {
		next, ok = s.planned(*in.Act)
	}
	if !ok {
		return
	}
	s.settings = next
	set := boat.Input{T: in.T, Kind: boat.SettingsIn, Source: in.Source, Settings: &next}
	s.step(set)
	s.told(s.name, set)
}

// step is the run loop of the design: record, step, record what came, hand on.
func (s *seat) step(in boat.Input) {
	s.rec.input(in)
	for _, out := range s.eng.Step(in) {
		s.rec.output(out)
		if out.Status != nil {
			s.last = *out.Status
		}
		if !s.past(out) || out.Manoeuvre != nil {
			s.said(s.name, out)
		} else if out.Cue != nil {
			s.unsaid(*out.Cue, in.T)
		}
	}
}

func (s *seat) endRecording() {
	if s.rec != nil {
		s.rec.close()
		s.rec = nil
	}
}
