package page

import (
	"encoding/json"
	"fmt"

	"helmcue/internal/boat"
	"helmcue/internal/engine"
	"helmcue/internal/phonemsg"
	"helmcue/internal/phrase"
)

// Engine is the page's own coach. Make it with New; it is for one goroutine.
type Engine struct {
	eng  *engine.Engine
	boat string // whose cues these are, from the settings
}

// New makes an engine with default settings.
func New() *Engine { return &Engine{eng: engine.New()} }

// Hear takes one message and returns the JSON array of what it caused, in order.
// The message is one that a page sends to the service (join and bye cause
// nothing), or one of
//
//	settings {t, settings}   as joined carries them: replaces what held
//	tick     {t}             nothing but time went by
//	input    {input}         what the service's engine was told by others
//
// A cue is written as the service writes it to a page, with its clips; a state, a
// manoeuvre, an exercise and a note as in the output lines. The error is a
// *phonemsg.Error.
func (e *Engine) Hear(message []byte) ([]byte, error) {
	ins, err := e.inputs(message)
	if err != nil && len(ins) == 0 {
		return nil, err
	}
	out := []byte{'['}
	for _, in := range ins {
		for _, o := range e.step(in) {
			b, err := e.write(o)
			if err != nil {
				return nil, err
			}
			if len(out) > 1 {
				out = append(out, ',')
			}
			out = append(out, b...)
		}
	}
	return append(out, ']'), err
}

// step is the engine's; the settings say whose it is.
func (e *Engine) step(in boat.Input) []boat.Output {
	if in.Settings != nil {
		e.boat = in.Settings.Boat
	}
	return e.eng.Step(in)
}

// inputs reads a message. Samples of which some are bad give the good ones and an
// error.
func (e *Engine) inputs(message []byte) ([]boat.Input, error) {
	var own struct {
		Type     string         `json:"type"`
		T        float64        `json:"t"`
		Settings *boat.Settings `json:"settings"`
		Input    *boat.Input    `json:"input"`
	}
	if json.Unmarshal(message, &own) == nil {
		at := boat.Input{T: boat.Time(own.T), Source: "service"}
		switch {
		case own.Type == "settings" && own.Settings != nil:
			at.Kind, at.Settings = boat.SettingsIn, own.Settings
			return []boat.Input{at}, nil
		case own.Type == "tick":
			return []boat.Input{at}, nil
		case own.Type == "input" && own.Input != nil:
			return []boat.Input{*own.Input}, nil
		}
	}
	m, err := phonemsg.Decode(message)
	return phonemsg.ToInputs(m, 0, nil), err
}

func (e *Engine) write(o boat.Output) ([]byte, error) {
	if o.Cue == nil {
		b, err := json.Marshal(o)
		if err != nil {
			return nil, fmt.Errorf("writing a %s: %w", o.Type(), err)
		}
		return b, nil
	}
	l, err := phrase.Find(*o.Cue)
	if err != nil {
		return nil, err
	}
	return phonemsg.Encode(phonemsg.Cue{Boat: e.boat, Cue: *o.Cue, Clips: l.Clips, GapMS: l.GapMS, Repeat: l.Twice})
}
