package feed

import (
	"context"
	"net"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"helmcue/internal/boat"
	"helmcue/internal/nmea"
)

const (
	hdt = "$HCHDT,115.1,T*2D\r\n"
	mwv = "$WIMWV,041.1,R,01.0,N,A*16\r\n"
)

// running is a feed in its goroutine.
type running struct {
	t    *testing.T
	f    *Feed
	in   chan boat.Input
	stop context.CancelFunc
	done chan error
}

func run(t *testing.T, src Source, cfg Config) *running {
	t.Helper()
	f, err := Open(src, cfg)
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	r := &running{t: t, f: f, in: make(chan boat.Input, 1000), stop: stop, done: make(chan error, 1)}
	go func() { r.done <- f.Run(ctx, func(i boat.Input) { r.in <- i }) }()
	t.Cleanup(r.end)
	return r
}

// end stops the feed and fails where it does not end at once.
func (r *running) end() {
	r.stop()
	select {
	case err := <-r.done:
		if err != nil {
			r.t.Errorf("Run: %v", err)
		}
		r.done <- nil
	case <-time.After(5 * time.Second):
		r.t.Fatal("Run did not end with its context")
	}
}

func (r *running) next() boat.Input {
	r.t.Helper()
	select {
	case i := <-r.in:
		return i
	case <-time.After(5 * time.Second):
		r.t.Fatalf("no input came; status %+v", r.f.Status())
	}
	return boat.Input{}
}

func TestTCPReconnects(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	r := run(t, Source{"tcp", l.Addr().String()}, Config{})
	before := boat.Time(time.Now().UnixMilli())
	for range 2 {
		conn, err := l.Accept()
		if err != nil {
			t.Fatal(err)
		}
		conn.Write([]byte("noise" + hdt[:9])) // a line in two pieces, after noise
		conn.Write([]byte(hdt[9:] + strings.Repeat("x", 5000) + "\r\n" + mwv))
		in := r.next()
		if in.Sample.HeadingDeg != boat.Some(115.1) || in.Source != "nmea" || in.T < before {
			t.Fatalf("got %+v %+v", in, in.Sample)
		}
		if in := r.next(); in.Sample.AWADeg != boat.Some(41.1) {
			t.Fatalf("got %+v", in.Sample)
		}
		if s := r.f.Status(); !s.Connected || s.Problem != "" {
			t.Errorf("while linked: %+v", s)
		}
		conn.Close()
	}
	for deadline := time.Now().Add(5 * time.Second); r.f.Status().Problem == ""; {
		if time.Now().After(deadline) {
			t.Fatal("the status never told that the link was gone")
		}
		time.Sleep(5 * time.Millisecond)
	}
	r.end()
	c := r.f.Status().Count
	if c.Lines != 6 || c.Kept != 4 || c.Skipped[nmea.NotSentence] != 2 {
		t.Errorf("counted %v", c)
	}
}

// Nobody listens: the feed says so, and ends when asked.
func TestTCPNobodyThere(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	l.Close()
	r := run(t, Source{"tcp", l.Addr().String()}, Config{})
	for r.f.Status().Problem == "" {
		time.Sleep(5 * time.Millisecond)
	}
	if s := r.f.Status(); s.Connected {
		t.Errorf("connected to nobody: %+v", s)
	}
}

func TestUDP(t *testing.T) {
	r := run(t, Source{"udp", "127.0.0.1:0"}, Config{})
	conn, err := net.Dial("udp", r.f.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	conn.Write([]byte(hdt + mwv)) // two sentences in a datagram
	conn.Write([]byte{0xff, 0, 1})
	conn.Write([]byte(strings.TrimSpace(mwv))) // one without its end
	if in := r.next(); in.Sample.HeadingDeg != boat.Some(115.1) {
		t.Fatalf("got %+v", in.Sample)
	}
	a, b := r.next(), r.next()
	if a.Sample.AWSKn != boat.Some(1) || b.Sample.AWSKn != boat.Some(1) || b.T < a.T {
		t.Fatalf("got %+v and %+v", a, b)
	}
	r.end()
	if c := r.f.Status().Count; c.Lines != 4 || c.Kept != 3 {
		t.Errorf("counted %v", c)
	}
}

func TestPortTaken(t *testing.T) {
	a, err := Open(Source{"udp", "127.0.0.1:0"}, Config{})
	if err != nil {
		t.Fatal(err)
	}
	defer a.Close()
	_, err = Open(Source{"udp", a.Addr().String()}, Config{})
	if err == nil || !strings.Contains(err.Error(), "opening instruments at udp:") {
		t.Errorf("a taken port gave %v", err)
	}
}

func logFile(t *testing.T, text string) Source {
	t.Helper()
	path := filepath.Join(t.TempDir(), "log.nmea")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return Source{"file", path}
}

const threeSeconds = "$GNRMC,100538.00,A,5546.27711,N,03736.91144,E,0.061,,260318,,,A*60\r\n" + hdt +
	"$GPZDA,100541,26,03,2018,00,00*45\r\n" + mwv

// A file is put on the session's clock and keeps its spacing.
func TestFileKeepsItsPace(t *testing.T) {
	now := boat.Time(time.Now().UnixMilli())
	r := run(t, logFile(t, threeSeconds), Config{Pace: 30})
	a, b, c := r.next(), r.next(), r.next()
	if a.T < now || a.T > now+2000 {
		t.Errorf("the first is %d ms from now", a.T-now)
	}
	if b.T != a.T || c.T-a.T != 100 { // three seconds at thirty times
		t.Errorf("spaced %d and %d ms, want 0 and 100", b.T-a.T, c.T-a.T)
	}
	if done := boat.Time(time.Now().UnixMilli()); done < c.T {
		t.Errorf("came %d ms early", c.T-done)
	}
	if c.Sent-a.Sent != 3000 {
		t.Errorf("the file's own time was lost: %d and %d", a.Sent, c.Sent)
	}
}

func TestFileAtOnceKeepsItsTime(t *testing.T) {
	r := run(t, logFile(t, threeSeconds), Config{})
	if err := <-r.done; err != nil {
		t.Fatal(err)
	}
	r.done <- nil
	want := boat.Time(time.Date(2018, 3, 26, 10, 5, 38, 0, time.UTC).UnixMilli())
	if a := r.next(); a.T != want {
		t.Errorf("T is %d, want %d", a.T, want)
	}
	if s := r.f.Status(); s.Count.Kept != 4 || s.Connected {
		t.Errorf("after the end: %+v", s)
	}
}

// A file without a date is held back by the decoder; its end gives it out.
func TestFileGivesOutWhatWasHeld(t *testing.T) {
	r := run(t, logFile(t, "$GPGLL,6003.906,N,02331.056,E,101001,A,D*49\r\n"+hdt), Config{})
	r.next()
	if in := r.next(); in.T != (10*3600+10*60+1)*1000 {
		t.Errorf("got %+v", in)
	}
}

func TestFileStopsInTheMiddle(t *testing.T) {
	r := run(t, logFile(t, threeSeconds), Config{Pace: 0.001})
	r.next()
	r.end()
	if len(r.in) > 1 {
		t.Errorf("%d inputs came before their time", len(r.in))
	}
}

func TestMissingFile(t *testing.T) {
	_, err := Open(Source{"file", filepath.Join(t.TempDir(), "none")}, Config{})
	if err == nil || !strings.Contains(err.Error(), "none") {
		t.Errorf("got %v", err)
	}
}

func TestParseSource(t *testing.T) {
	for text, want := range map[string]Source{
		"tcp:192.168.4.1:10110":  {"tcp", "192.168.4.1:10110"},
		"tcp:[fe80::1]:2000":     {"tcp", "[fe80::1]:2000"},
		"udp::10110":             {"udp", ":10110"},
		"udp:127.0.0.1:10110":    {"udp", "127.0.0.1:10110"},
		"file:a/b:c.nmea":        {"file", "a/b:c.nmea"},
		"serial:/dev/ttyS0@4800": {"serial", "/dev/ttyS0@4800"},
		"listen::10110":          {"listen", ":10110"},
	} {
		got, err := ParseSource(text)
		if err != nil || got != want || got.String() != text {
			t.Errorf("%s: got %+v, %v", text, got, err)
		}
	}
	for text, says := range map[string]string{
		"":                "no kind of source",
		"morse:x":         "no kind of source",
		"serial:":         "device is empty",
		"listen:10110":    "no port",
		"tcp:host":        "no port",
		"tcp::10110":      "host is empty",
		"tcp:host:0":      "1 to 65535",
		"udp::99999":      "1 to 65535",
		"udp:10110":       "no port",
		"file:":           "path is empty",
		"tcp:host:1:2:3x": "no port",
	} {
		_, err := ParseSource(text)
		if err == nil || !strings.Contains(err.Error(), says) || !strings.Contains(err.Error(), "expected tcp:HOST:PORT") {
			t.Errorf("%q: want an error with %q, got %v", text, says, err)
		}
	}
}

func TestTooManySenders(t *testing.T) {
	f, err := Open(Source{"tcp", "127.0.0.1:1"}, Config{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range maxSenders + 5 {
		got := f.line(string(rune('a'+i)), hdt, 1)
		if want := i < maxSenders; (len(got) == 1) != want {
			t.Errorf("sender %d was heard: %v", i, len(got) == 1)
		}
	}
}
