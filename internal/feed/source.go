package feed

import (
	"fmt"
	"net"
	"strconv"
	"strings"
)

// Source is where lines come from.
type Source struct {
	Kind string // tcp, listen, udp, serial or file
	Addr string // host:port, [host]:port to listen on, device@rate, or a path
}

// String is the form ParseSource reads.
func (s Source) String() string { return s.Kind + ":" + s.Addr }

const sourceForms = "tcp:HOST:PORT, listen::PORT, udp::PORT, serial:DEVICE@RATE or file:PATH"

// ParseSource reads tcp:HOST:PORT (connect there), listen::PORT or
// listen:HOST:PORT (let instruments connect here), udp::PORT or udp:HOST:PORT
// (datagrams come here), serial:DEVICE or serial:DEVICE@RATE (bits a second, 4800
// where none is given) and file:PATH.
func ParseSource(text string) (Source, error) {
	kind, rest, _ := strings.Cut(text, ":")
	s := Source{Kind: kind, Addr: rest}
	var err error
	switch kind {
	case "tcp":
		err = checkAddr(rest, true)
	case "udp", "listen":
		err = checkAddr(rest, false)
	case "serial":
		_, _, err = serialPort(rest)
	case "file":
		if rest == "" {
			err = fmt.Errorf("the path is empty")
		}
	default:
		err = fmt.Errorf("%q is no kind of source", kind)
	}
	if err != nil {
		return Source{}, fmt.Errorf("expected %s, got %q: %w", sourceForms, text, err)
	}
	return s, nil
}

func checkAddr(addr string, needHost bool) error {
	host, port, err := net.SplitHostPort(addr)
	if err != nil {
		return fmt.Errorf("%q has no port", addr)
	}
	if host == "" && needHost {
		return fmt.Errorf("the host is empty")
	}
	if n, err := strconv.ParseUint(port, 10, 16); err != nil || n == 0 {
		return fmt.Errorf("the port must be 1 to 65535, got %q", port)
	}
	return nil
}
