package logfile

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"

	"helmcue/internal/boat"
	"helmcue/internal/nmea"
	"helmcue/internal/recording"
	"helmcue/internal/track"
)

// Options is for what a caller may want of a log; there is nothing yet.
type Options struct{}

// source is one form being read. next returns the inputs of one line, or io.EOF.
type source interface {
	next() ([]boat.Input, error)
	report() string
}

// Log is one log being read. It belongs to one goroutine.
type Log struct {
	form   Form
	src    source
	ready  []boat.Input // of the present line, for Next
	inputs int
	err    error
}

// Open finds out which form r is in. It reads no more than it needs for that.
func Open(r io.Reader, _ Options) (*Log, error) {
	br := bufio.NewReaderSize(r, 64<<10)
	form, read, err := tell(br)
	if err != nil {
		return nil, err
	}
	l := &Log{form: form}
	l.src, err = open(form, br, read)
	if err != nil {
		return nil, err
	}
	return l, nil
}

func open(form Form, br *bufio.Reader, read []string) (source, error) {
	switch form {
	case Recording:
		return openTape(br)
	case NMEA:
		return &sentences{text: text{r: br, read: read}, dec: nmea.NewDecoder()}, nil
	case JSONLines:
		return &messages{text: text{r: br, read: read}, why: map[string]int{}}, nil
	}
	whole := io.MultiReader(strings.NewReader(strings.Join(read, "\n")+"\n"), br)
	if form == FIT {
		whole = br
	}
	reader := map[Form]func(io.Reader) (*track.Log, error){GPX: track.GPX, FIT: track.FIT, CSV: track.CSV}[form]
	t, err := reader(whole)
	if err != nil {
		return nil, fmt.Errorf("reading the log as %s: %w", form, err)
	}
	return &points{log: t}, nil
}

// NextLine returns the inputs of the next line, none where it gives none. For a
// recording and a track a line is one entry or point. After the last line it
// returns io.EOF; where no line gave an input, an error that says why.
func (l *Log) NextLine() ([]boat.Input, error) {
	if l.err != nil {
		return nil, l.err
	}
	in, err := l.src.next()
	l.inputs += len(in)
	if errors.Is(err, io.EOF) && l.inputs == 0 {
		err = fmt.Errorf("nothing in the log can be used: %s", l.Report())
	}
	l.err = err
	return in, err
}

// Next returns the next input.
func (l *Log) Next() (boat.Input, error) {
	for len(l.ready) == 0 {
		in, err := l.NextLine()
		if err != nil {
			return boat.Input{}, err
		}
		l.ready = in
	}
	in := l.ready[0]
	l.ready = l.ready[1:]
	return in, nil
}

// Form returns how the log is written.
func (l *Log) Form() Form { return l.form }

// Report says in one line what was read so far, what was skipped and why.
func (l *Log) Report() string { return l.form.String() + ": " + l.src.report() }

// Torn reports, after io.EOF, that the log broke off: a recording that was not
// closed, a track cut in the middle. All before the break was returned.
func (l *Log) Torn() bool {
	switch s := l.src.(type) {
	case *tape:
		return s.d.Torn()
	case *points:
		return s.log.Cut != nil
	}
	return false
}

// HasSettings reports whether the log brings settings of its own, as recordings
// do. They come as inputs.
func (l *Log) HasSettings() bool {
	t, ok := l.src.(*tape)
	return ok && t.settings
}

// Header returns what a recording says of its session; ok is false for other
// forms.
func (l *Log) Header() (h recording.Header, ok bool) {
	if t, ok := l.src.(*tape); ok {
		return t.d.Header(), true
	}
	return recording.Header{}, false
}

// points is a track, one point a line.
type points struct {
	log *track.Log
	at  int
}

func (p *points) next() ([]boat.Input, error) {
	if p.at >= len(p.log.Inputs) {
		return nil, io.EOF
	}
	p.at++
	return p.log.Inputs[p.at-1 : p.at], nil
}

func (p *points) report() string { return p.log.String() }
