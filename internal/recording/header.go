package recording

import (
	"encoding/json"
	"errors"
	"fmt"
	"strconv"

	"github.com/foxglove/mcap/go/mcap"

	"helmcue/internal/boat"
)

// form counts up when a reader of the form before could misread the new one.
const form = 1

const (
	profile       = "helmcue"
	metadataName  = "session"
	inputTopic    = "input"
	outputTopic   = "output"
	inputChannel  = 1
	outputChannel = 2
)

// ErrDamaged is wrapped by errors about wrong bytes inside a recording.
// What was read before it is good.
var ErrDamaged = errors.New("recording is damaged")

// ErrForeign is wrapped by errors about a file that is no recording of ours, or
// one in a newer form.
var ErrForeign = errors.New("not a recording this program can read")

// Header is what is known when a session starts.
type Header struct {
	Session  string         // names the session, unique on this machine
	Boat     string         // as the sailor calls her
	Started  boat.Time      //
	Version  string         // of the program that recorded
	Settings *boat.Settings // at the start; changes are inputs; nil: not stated
}

func (h Header) metadata() (*mcap.Metadata, error) {
	m := map[string]string{
		"form":    strconv.Itoa(form),
		"session": h.Session,
		"boat":    h.Boat,
		"started": strconv.FormatInt(int64(h.Started), 10),
		"version": h.Version,
	}
	if h.Settings != nil {
		b, err := json.Marshal(h.Settings)
		if err != nil {
			return nil, fmt.Errorf("writing the settings: %w", err)
		}
		m["settings"] = string(b)
	}
	return &mcap.Metadata{Name: metadataName, Metadata: m}, nil
}

func (h *Header) fromMetadata(m map[string]string) error {
	n, err := strconv.Atoi(m["form"])
	if err != nil {
		return fmt.Errorf("%w: expected a form number in its header, got %q", ErrDamaged, m["form"])
	}
	if n > form {
		return fmt.Errorf("%w: it is in form %d, this program knows up to %d; use a newer one", ErrForeign, n, form)
	}
	started, err := strconv.ParseInt(m["started"], 10, 64)
	if err != nil {
		return fmt.Errorf("%w: expected a start time in its header, got %q", ErrDamaged, m["started"])
	}
	*h = Header{Session: m["session"], Boat: m["boat"], Started: boat.Time(started), Version: m["version"]}
	if s, ok := m["settings"]; ok {
		h.Settings = new(boat.Settings)
		if err := json.Unmarshal([]byte(s), h.Settings); err != nil {
			return fmt.Errorf("%w: settings in its header: %v", ErrDamaged, err)
		}
	}
	return nil
}
