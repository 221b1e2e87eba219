package phonemsg

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"helmcue/internal/boat"
)

// Decode reads one message. The error is always an *Error. A samples message
// with some bad samples gives both: the good ones in Msg, and the first error,
// so that one bad reading never costs a whole gap.
func Decode(b []byte) (Msg, error) {
	m, err := decode(b)
	if err == nil {
		return m, nil
	}
	var e *Error
	if errors.As(err, &e) {
		return m, e
	}
	return m, Errorf(BadJSON, "%v", err)
}

func decode(b []byte) (Msg, error) {
	if b = bytes.TrimSpace(b); len(b) == 0 || b[0] != '{' {
		return Msg{}, Errorf(BadJSON, "expected one JSON object, got %.40q", b)
	}
	var head struct {
		Type *string `json:"type"`
		Seq  *int64  `json:"seq"`
	}
	if err := read(b, &head); err != nil {
		return Msg{}, err
	}
	if head.Type == nil {
		return Msg{}, missing("type", "one of "+strings.Join(Types(), ", "))
	}
	m := Msg{Type: *head.Type}
	if head.Seq != nil {
		m.Seq, m.HasSeq = *head.Seq, true
	}
	if m.Seq < 0 {
		return Msg{}, outOfRange("seq", "a count from 0 up", m.Seq)
	}
	err := body(b, &m)
	if err != nil && len(m.Samples) == 0 {
		return Msg{}, err
	}
	return m, err
}

func body(b []byte, m *Msg) (err error) {
	switch m.Type {
	case "join":
		m.Join, m.T, err = readJoin(b)
	case "sample":
		var s Sample
		if s, err = readSample(b); err == nil {
			m.T, m.Samples = s.T, []Sample{s}
		}
	case "samples":
		m.Samples, m.T, err = readBatch(b)
	case "wind_fix":
		m.WindFix, m.T, err = readWindFix(b)
	case "answer":
		m.Answer, m.T, err = readAnswer(b)
	case "spoken":
		m.Spoken, m.T, err = readSpoken(b)
	case "sound_delay":
		m.Delay, m.T, err = readDelay(b)
	case "act":
		m.Act, m.T, err = readAct(b)
	case "hidden", "shown":
		var w struct {
			T millis `json:"t"`
		}
		m.T, err = readTimed(b, &w, &w.T)
	case "bye":
	default:
		return &Error{UnknownType, "type", fmt.Sprintf("expected one of %s, got %.40q",
			strings.Join(Types(), ", "), m.Type)}
	}
	return err
}

// read is json.Unmarshal that names the field at fault. The search costs a
// second pass, and only bad messages pay for it.
func read[T any](b []byte, into *T) error {
	err := json.Unmarshal(b, into)
	var e *Error
	if err == nil || errors.As(err, &e) {
		return err
	}
	var fields map[string]json.RawMessage
	if bad := json.Unmarshal(b, &fields); bad != nil {
		return Errorf(BadJSON, "expected one JSON object: %v", bad)
	}
	var names []string
	for name := range fields {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		one, _ := json.Marshal(map[string]json.RawMessage{name: fields[name]})
		if json.Unmarshal(one, new(T)) != nil {
			return &Error{BadType, name, fmt.Sprintf("%.40s is of the wrong type, got %.60s", name, fields[name])}
		}
	}
	return Errorf(BadType, "a field is of the wrong type: %v", err)
}

// readTimed reads into w and insists that t is there.
func readTimed[T any](b []byte, w *T, t *millis) (boat.Time, error) {
	if err := read(b, w); err != nil {
		return 0, err
	}
	if !t.ok {
		return 0, missing("t", "milliseconds since the epoch by the sender's clock")
	}
	return t.at, nil
}

func readJoin(b []byte) (*Join, boat.Time, error) {
	var w struct {
		Join
		T millis `json:"t"`
	}
	if err := read(b, &w); err != nil {
		return nil, 0, err
	}
	j := &w.Join
	switch {
	case j.V != Version:
		return nil, 0, &Error{BadVersion, "v", fmt.Sprintf("this service speaks version %d, the page %d: reload the page", Version, j.V)}
	case !slices.Contains(Roles(), j.Role):
		return nil, 0, outOfRange("role", "sailor, instructor or viewer", j.Role)
	case j.Token == "":
		return nil, 0, missing("token", "as given when the page was paired")
	}
	if err := name("boat", j.Boat); err != nil {
		return nil, 0, err
	}
	return j, w.T.at, mount(j.Mount)
}

func readBatch(b []byte) ([]Sample, boat.Time, error) {
	var w struct {
		T     millis             `json:"t"`
		Batch *[]json.RawMessage `json:"batch"`
	}
	if err := read(b, &w); err != nil {
		return nil, 0, err
	}
	if w.Batch == nil {
		return nil, 0, missing("batch", "a list of samples")
	}
	if n := len(*w.Batch); n > MaxBatch {
		return nil, 0, outOfRange("batch", fmt.Sprintf("at most %d samples", MaxBatch), n)
	}
	var out []Sample
	var first error
	for i, raw := range *w.Batch {
		s, err := readSample(raw)
		if err == nil {
			out = append(out, s)
			continue
		}
		var e *Error
		if first == nil && errors.As(err, &e) {
			first = &Error{e.Code, e.Field, fmt.Sprintf("batch[%d]: %s", i, e.Text)}
		}
	}
	return out, w.T.at, first
}
