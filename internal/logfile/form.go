package logfile

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/foxglove/mcap/go/mcap"

	"helmcue/internal/track"
)

// Form is how a log is written.
type Form int

// The forms.
const (
	Recording Form = iota
	NMEA
	JSONLines
	GPX
	FIT
	CSV
	forms // how many
)

func (f Form) String() string {
	names := []string{"own recording", "NMEA 0183 lines", "JSON lines", "GPX", "FIT", "CSV"}
	if f < 0 || int(f) >= len(names) {
		return fmt.Sprintf("(%d)", int(f))
	}
	return names[f]
}

// accepted lists every form, for errors.
func accepted() string {
	names := make([]string, forms)
	for i := range names {
		names[i] = Form(i).String()
	}
	return strings.Join(names, ", ")
}

// How far to look for the first sentence behind an instrument's boot messages.
const (
	noiseLines = 200
	noiseBytes = 64 << 10
)

// tell looks at no more bytes than it must: from a pipe, the rest may not come
// before the first line was answered. For lines, it returns those it read.
func tell(r *bufio.Reader) (Form, []string, error) {
	first, err := r.Peek(1)
	if err != nil {
		if errors.Is(err, io.EOF) {
			return 0, nil, fmt.Errorf("the log is empty: expected %s", accepted())
		}
		return 0, nil, fmt.Errorf("reading the log: %w", err)
	}
	switch first[0] {
	case mcap.Magic[0]:
		return binary(r, Recording, len(mcap.Magic), func(b []byte) bool { return bytes.HasPrefix(mcap.Magic, b) })
	case 12, 14: // the length of a FIT header, which names the format behind it
		return binary(r, FIT, 12, func(b []byte) bool { return len(b) == 12 && string(b[8:12]) == ".FIT" })
	}
	return lines(r)
}

func binary(r *bufio.Reader, f Form, n int, fits func([]byte) bool) (Form, []string, error) {
	b, err := r.Peek(n)
	if err != nil && !errors.Is(err, io.EOF) {
		return 0, nil, fmt.Errorf("reading the log: %w", err)
	}
	if !fits(b) {
		return 0, nil, unknown(string(b))
	}
	return f, nil, nil
}

func unknown(start string) error {
	return fmt.Errorf("the form of the log is not known: expected %s, got something that begins with %.40q", accepted(), start)
}

func lines(r *bufio.Reader) (Form, []string, error) {
	var read []string
	size := 0
	for len(read) < noiseLines && size < noiseBytes {
		line, err := readLine(r)
		if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, errLong) {
			return 0, nil, fmt.Errorf("reading the log: %w", err)
		}
		if err != nil && line == "" {
			break
		}
		if len(read) == 0 {
			line = strings.TrimPrefix(line, "\ufeff")
		}
		text := strings.TrimSpace(line)
		read = append(read, line)
		size += len(line)
		switch {
		case strings.HasPrefix(text, "{"):
			return JSONLines, read, nil
		case strings.HasPrefix(text, "<"):
			return GPX, read, nil
		case track.IsCSVHeader(text):
			return CSV, read, nil
		case sentence(text):
			return NMEA, read, nil
		}
	}
	return 0, nil, unknown(strings.TrimSpace(strings.Join(read, "\n")))
}

// sentence says whether a line holds the start of an NMEA sentence: $ or !, a
// five-letter address or a proprietary one, and a comma.
func sentence(line string) bool {
	for {
		i := strings.IndexAny(line, "$!")
		if i < 0 {
			return false
		}
		line = line[i+1:]
		address, _, more := strings.Cut(line, ",")
		if !more || len(address) != 5 && !strings.HasPrefix(address, "P") {
			continue
		}
		if len(address) <= 10 && strings.Trim(address, "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789") == "" {
			return true
		}
	}
}
