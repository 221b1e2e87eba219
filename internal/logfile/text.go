package logfile

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"helmcue/internal/boat"
	"helmcue/internal/nmea"
	"helmcue/internal/phonemsg"
)

// text gives out lines, those read to tell the form first.
type text struct {
	r    *bufio.Reader
	read []string
}

// line returns the next line; long says that only its beginning is there.
func (t *text) line() (line string, long bool, err error) {
	if len(t.read) > 0 {
		line, t.read = t.read[0], t.read[1:]
		return line, false, nil
	}
	line, err = readLine(t.r)
	if errors.Is(err, errLong) {
		return line, true, nil
	}
	if err != nil && !errors.Is(err, io.EOF) {
		err = fmt.Errorf("reading the log: %w", err)
	}
	return line, false, err
}

// sentences is NMEA 0183.
type sentences struct {
	text
	dec  *nmea.Decoder
	done bool
}

func (s *sentences) next() ([]boat.Input, error) {
	if s.done {
		return nil, io.EOF
	}
	line, _, err := s.line()
	if errors.Is(err, io.EOF) {
		s.done = true
		if in := s.dec.Flush(); len(in) > 0 {
			return in, nil
		}
	}
	if err != nil {
		return nil, err
	}
	return s.dec.Line(line, 0), nil
}

func (s *sentences) report() string { return s.dec.Count().String() }

// messages is JSON lines.
type messages struct {
	text
	lines, kept, empty int
	samples            int // refused out of batches that were kept
	why                map[string]int
	first              string // the first refusal in full
}

func (m *messages) next() ([]boat.Input, error) {
	line, long, err := m.line()
	if err != nil {
		return nil, err
	}
	m.lines++
	switch {
	case long:
		m.refuse("too long", fmt.Sprintf("a line is at most %d bytes", maxLine))
		return nil, nil
	case strings.TrimSpace(line) == "":
		m.empty++
		return nil, nil
	}
	msg, err := phonemsg.Decode([]byte(line))
	in := phonemsg.ToInputs(msg, 0, nil)
	switch {
	case len(in) > 0:
		m.kept++
		if err != nil {
			m.samples++
			m.note(err.Error())
		}
	case err != nil:
		m.refuse(code(err), err.Error())
	default:
		m.refuse("no business of the engine", "join and bye are passed over")
	}
	return in, nil
}

func code(err error) string {
	var e *phonemsg.Error
	if errors.As(err, &e) {
		return strings.ReplaceAll(string(e.Code), "_", " ")
	}
	return "other"
}

func (m *messages) refuse(why, text string) {
	m.why[why]++
	m.note(text)
}

func (m *messages) note(text string) {
	if m.first == "" {
		m.first = fmt.Sprintf("line %d: %s", m.lines, text)
	}
}

func (m *messages) report() string {
	skipped := m.lines - m.kept
	var b strings.Builder
	fmt.Fprintf(&b, "%d lines, %d kept, %d skipped", m.lines, m.kept, skipped)
	sep := ": "
	if m.empty > 0 {
		fmt.Fprintf(&b, "%s%d empty", sep, m.empty)
		sep = ", "
	}
	for _, w := range slices.Sorted(maps.Keys(m.why)) {
		fmt.Fprintf(&b, "%s%d %s", sep, m.why[w], w)
		sep = ", "
	}
	if m.samples > 0 {
		fmt.Fprintf(&b, "; samples missing from %d kept batches", m.samples)
	}
	if m.first != "" {
		fmt.Fprintf(&b, "; the first: %s", m.first)
	}
	return b.String()
}
