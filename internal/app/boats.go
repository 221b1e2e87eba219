package app

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"go.uber.org/zap"

	"helmcue/internal/boat"
	"helmcue/internal/phonemsg"
	"helmcue/internal/phrase"
	"helmcue/internal/server"
)

// maxSeats bounds what strangers with tokens can make the service hold.
const maxSeats = 32

var errTooManyBoats = errors.New("there are as many boats as the service holds; end it and begin anew")

// nowMS is the session's time line.
func nowMS() boat.Time { return boat.Time(time.Now().UnixMilli()) }

// seat returns the boat's seat, made at her first word.
func (a *App) seat(name string) (*seat, error) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if s := a.seats[name]; s != nil {
		return s, nil
	}
	if a.ctx == nil || a.ctx.Err() != nil {
		return nil, errSeatClosed
	}
	if len(a.seats) >= maxSeats {
		return nil, errTooManyBoats
	}
	s := &seat{name: name, settings: a.settingsOf(name), now: nowMS, files: a.shelf, log: a.log, said: a.said, told: a.server.Tell, speaksHere: a.voice.speaksFor(name),
		can: make(chan bool), in: make(chan request), ask: make(chan chan boat.Settings), done: make(chan struct{})}
	a.seats[name] = s
	ctx := a.ctx
	a.spawn(func() { s.run(ctx) })
	return s, nil
}

// settingsOf returns a boat's settings at her start: the simulated boat brings
// her own; all others sail under the service's.
func (a *App) settingsOf(name string) boat.Settings {
	s := a.cfg.Settings
	if a.sim != nil && name == a.sim.name() {
		s = a.sim.settings()
	}
	s.Boat = name
	return s
}

// fromPage takes what a page sends. The page of the simulated boat is in nobody's
// boat: it listens, answers and acts, but its own position and motion are not hers.
func (a *App) fromPage(name string, ins []boat.Input) error {
	if err := unknown(ins); err != nil {
		return err
	}
	if a.sim != nil && name == a.sim.name() {
		ins = slices.DeleteFunc(slices.Clone(ins), func(in boat.Input) bool {
			switch in.Kind {
			case boat.AnswerIn, boat.ActIn, boat.SpokenIn:
				return false
			case boat.WindFixIn:
				return in.Source != "instructor"
			}
			return true
		})
	}
	return a.onInput(name, ins)
}

func (a *App) onInput(name string, ins []boat.Input) error {
	s, err := a.seat(name)
	if err != nil {
		return err
	}
	return s.hear(context.Background(), ins)
}

// joined is told of a page; its boat's settings are the answer.
func (a *App) joined(name string, j phonemsg.Join) boat.Settings {
	a.log.Info("a page joined", zap.String("role", string(j.Role)), zap.String("boat", name))
	a.mu.Lock()
	s := a.seats[name]
	a.mu.Unlock()
	if s == nil && j.Role == phonemsg.Sailor {
		s, _ = a.seat(name) // where there is none to be had, her first sample says why
	}
	if s == nil {
		return a.settingsOf(name)
	}
	if j.Role == phonemsg.Sailor {
		s.joins(j)
	}
	return s.holds()
}

// enrich says where cues are heard and where she is, for the pages.
func (a *App) enrich(st *phonemsg.State) {
	a.mu.Lock()
	s := a.seats[st.Boat]
	a.mu.Unlock()
	if s != nil {
		st.At = s.at.Load()
	}
	if st.Health.Sound == "" && a.voice.speaksFor(st.Boat) {
		st.Health.Sound = "boat"
	}
}

// said hands on what a boat's engine said. It is called in the seat's goroutine
// and waits for nobody.
func (a *App) said(name string, out boat.Output) {
	var line server.Line
	if out.Cue != nil {
		l, err := phrase.Find(*out.Cue)
		if err != nil {
			a.log.Error("a cue without words", zap.String("key", string(out.Cue.Key)), zap.Error(err))
			return
		}
		line = server.Line{Clips: l.Clips, GapMS: l.GapMS, Repeat: l.Twice}
		if a.voice.speaksFor(name) {
			a.voice.say(*out.Cue, l)
		}
		if a.sim != nil && name == a.sim.name() {
			a.sim.hear(*out.Cue)
		}
		a.cfg.Say(fmt.Sprintf("%s  %s: “%s”  (%s)", time.Now().Format("15:04:05"), name, out.Cue.Words, out.Cue.Why))
		a.log.Debug("said", zap.String("boat", name), zap.String("words", out.Cue.Words), zap.String("why", out.Cue.Why))
	}
	if out.Note != nil {
		a.log.Info(out.Note.Text, zap.String("boat", name), zap.String("note", out.Note.Code))
	}
	if out.Lull != nil {
		a.lulls.put(name, *out.Lull)
		return
	}
	a.server.Publish(name, out, line)
}

// spoke takes what the loudspeaker did back to the engine.
func (a *App) spoke(name string, sp boat.Spoken) {
	in := boat.Input{T: nowMS(), Kind: boat.SpokenIn, Source: "service", Spoken: &sp}
	if s, err := a.seat(name); err == nil {
		s.hear(context.Background(), []boat.Input{in}) //nolint:errcheck // the seat has said it in the log
	}
}
