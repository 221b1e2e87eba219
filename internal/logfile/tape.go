package logfile

import (
	"errors"
	"fmt"
	"io"

	"helmcue/internal/boat"
	"helmcue/internal/recording"
)

// lookAhead is how many inputs are read to see whether the settings are among
// them: the service writes them first, a clip's end or a tick may come before.
const lookAhead = 50

// tape is an own recording.
type tape struct {
	d        *recording.Reader
	ahead    []boat.Input
	err      error // met while looking ahead
	settings bool
	inputs   int
	outputs  int
	bad      int
	first    string // the first entry left out
}

func openTape(r io.Reader) (*tape, error) {
	d, err := recording.Open(r)
	if err != nil {
		return nil, err
	}
	t := &tape{d: d}
	for len(t.ahead) < lookAhead && !t.settings && t.err == nil {
		var in boat.Input
		if in, t.err = t.read(); t.err == nil {
			t.ahead = append(t.ahead, in)
			t.settings = in.Kind == boat.SettingsIn
		}
	}
	if s := d.Header().Settings; s != nil && !t.settings && len(t.ahead) > 0 {
		own := boat.Input{T: t.ahead[0].T, Kind: boat.SettingsIn, Source: "file", Settings: s}
		t.ahead = append([]boat.Input{own}, t.ahead...)
		t.settings = true
	}
	return t, nil
}

func (t *tape) next() ([]boat.Input, error) {
	if len(t.ahead) > 0 {
		in := t.ahead[:1:1]
		t.ahead = t.ahead[1:]
		return in, nil
	}
	if t.err != nil {
		return nil, t.err
	}
	in, err := t.read()
	if err != nil {
		return nil, err
	}
	return []boat.Input{in}, nil
}

func (t *tape) read() (boat.Input, error) {
	for {
		rec, err := t.d.Next()
		var entry *recording.EntryError
		switch {
		case errors.As(err, &entry):
			t.bad++
			if t.first == "" {
				t.first = entry.Error()
			}
		case err != nil:
			return boat.Input{}, err
		case rec.Input != nil:
			t.inputs++
			return *rec.Input, nil
		default:
			t.outputs++
		}
	}
}

func (t *tape) report() string {
	s := fmt.Sprintf("%d entries, %d inputs kept, %d outputs passed over, %d left out", t.inputs+t.outputs+t.bad, t.inputs, t.outputs, t.bad)
	if t.first != "" {
		s += "; the first: " + t.first
	}
	if t.d.Torn() {
		s += "; it ends where the recording was cut off"
	}
	return s
}
