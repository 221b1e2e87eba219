package app

import (
	"context"
	"fmt"
	"time"

	"go.uber.org/zap"

	"helmcue/internal/boat"
	"helmcue/internal/feed"
	"helmcue/internal/localname"
	"helmcue/internal/sim"
)

// simulated is the boat of the demonstration. One goroutine sails it in real
// time; cues reach its learner through a bounded queue.
type simulated struct {
	sim   *sim.Sim
	set   boat.Settings
	heard chan boat.Cue
}

func newSimulated(cfg Config) (*simulated, error) {
	seed := cfg.SimSeed
	if seed == 0 {
		seed = 1
	}
	s, err := sim.New(cfg.Sim, seed, nowMS())
	if err != nil {
		return nil, fmt.Errorf("%w; helmcue sim lists the scenes", err)
	}
	set := s.Settings()
	set.Level, set.Water = cfg.Settings.Level, cfg.Settings.Water
	return &simulated{sim: s, set: set, heard: make(chan boat.Cue, 8)}, nil
}

func (s *simulated) name() string            { return s.set.Boat }
func (s *simulated) settings() boat.Settings { return s.set }

// hear never blocks: a learner with eight cues in the ear hears no ninth.
func (s *simulated) hear(c boat.Cue) {
	select {
	case s.heard <- c:
	default:
	}
}

// run sails until ctx ends, keeping pace with the clock.
func (s *simulated) run(ctx context.Context, onInput func(string, []boat.Input) error, log *zap.Logger) {
	tick := time.NewTicker(100 * time.Millisecond)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case c := <-s.heard:
			s.sim.Hear(c)
		case <-tick.C:
			for s.sim.Now() < nowMS() {
				if err := onInput(s.name(), s.sim.Step()); err != nil && ctx.Err() == nil {
					log.Warn("the simulated boat was not recorded", zap.Error(err))
				}
			}
		}
	}
}

// feed starts what brings inputs besides the pages: the simulated boat and the
// NMEA 0183 sources, each in its own goroutine that Run waits for.
func (a *App) feed(ctx context.Context) {
	if a.sim != nil {
		a.spawn(func() { a.sim.run(ctx, a.onInput, a.log) })
	}
	a.spawn(func() { a.lulls.run(ctx, a.passOn) })
	if a.cfg.Local != "" {
		a.spawn(func() {
			if err := localname.Answer(ctx, a.cfg.Local); err != nil {
				a.log.Warn("phones find this machine by its number only", zap.Error(err))
			}
		})
	}
	for _, f := range a.instruments {
		a.spawn(func() { a.listenTo(ctx, f) })
	}
}

// openInstruments takes ports and files first, so that what is missing is an
// error at the start.
func (a *App) openInstruments() error {
	for _, text := range a.cfg.NMEA {
		src, err := feed.ParseSource(text)
		if err != nil {
			return err
		}
		f, err := feed.Open(src, feed.Config{Log: a.log, Now: nowMS, Pace: 1})
		if err != nil {
			return fmt.Errorf("%w; choose another port, or another file, with --nmea", err)
		}
		a.instruments = append(a.instruments, f)
	}
	return nil
}

func (a *App) listenTo(ctx context.Context, f *feed.Feed) {
	err := f.Run(ctx, func(in boat.Input) {
		if err := a.onInput(a.cfg.Boat, []boat.Input{in}); err != nil && ctx.Err() == nil {
			a.log.Debug("an instrument's reading was not recorded", zap.Error(err))
		}
	})
	st := f.Status()
	a.log.Info("instruments ended", zap.String("source", st.Source), zap.String("lines", st.Count.String()))
	if err != nil && ctx.Err() == nil {
		a.log.Error("instruments broke off; the service goes on without them", zap.Error(err))
	}
}
