package feed

import (
	"fmt"
	"net"
	"os"
	"strings"
	"testing"
	"time"

	"golang.org/x/sys/unix"

	"helmcue/internal/boat"
)

func TestInstrumentsConnectHere(t *testing.T) {
	r := run(t, Source{"listen", "127.0.0.1:0"}, Config{})
	for range 2 {
		conn, err := net.Dial("tcp", r.f.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		fmt.Fprint(conn, hdt)
		if in := r.next(); in.Sample.HeadingDeg != boat.Some(115.1) {
			t.Fatalf("got %+v", in.Sample)
		}
	}
	if s := r.f.Status(); !s.Connected || s.Count.Kept != 2 {
		t.Errorf("status %+v", s)
	}
	// The feed ends though both stay connected: end, called by cleanup, waits for it.
}

func TestTooManyConnect(t *testing.T) {
	r := run(t, Source{"listen", "127.0.0.1:0"}, Config{})
	var last net.Conn
	for range mostLinks + 1 {
		conn, err := net.Dial("tcp", r.f.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		last = conn
	}
	if err := last.SetReadDeadline(time.Now().Add(5 * time.Second)); err != nil {
		t.Fatal(err)
	}
	if _, err := last.Read(make([]byte, 1)); err == nil || strings.Contains(err.Error(), "timeout") {
		t.Errorf("one connection too many was not turned away: %v", err)
	}
}

// A pseudo terminal stands in for the serial line: what is written to its one end
// is read at the other, at a rate like any.
func TestSerialLine(t *testing.T) {
	master, device := terminal(t)
	r := run(t, Source{"serial", device + "@38400"}, Config{})
	for deadline := time.Now().Add(5 * time.Second); !r.f.Status().Connected; {
		if time.Now().After(deadline) {
			t.Fatalf("never opened: %+v", r.f.Status())
		}
		time.Sleep(5 * time.Millisecond)
	}
	fmt.Fprint(master, hdt+mwv)
	if in := r.next(); in.Sample.HeadingDeg != boat.Some(115.1) {
		t.Fatalf("got %+v", in.Sample)
	}
	if in := r.next(); in.Sample.AWADeg != boat.Some(41.1) {
		t.Fatalf("got %+v", in.Sample)
	}
}

func terminal(t *testing.T) (master *os.File, device string) {
	t.Helper()
	fd, err := unix.Open("/dev/ptmx", unix.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Skipf("this machine has no pseudo terminals: %v", err)
	}
	master = os.NewFile(uintptr(fd), "ptmx")
	t.Cleanup(func() { master.Close() })
	if err := unix.IoctlSetPointerInt(fd, unix.TIOCSPTLCK, 0); err != nil {
		t.Fatal(err)
	}
	n, err := unix.IoctlGetInt(fd, unix.TIOCGPTN)
	if err != nil {
		t.Fatal(err)
	}
	return master, fmt.Sprintf("/dev/pts/%d", n)
}

func TestNoSuchDevice(t *testing.T) {
	r := run(t, Source{"serial", "/dev/not-there"}, Config{})
	for deadline := time.Now().Add(5 * time.Second); r.f.Status().Problem == ""; {
		if time.Now().After(deadline) {
			t.Fatal("a missing device was never told")
		}
		time.Sleep(5 * time.Millisecond)
	}
	if s := r.f.Status(); s.Connected || !strings.Contains(s.Problem, "plugged in") {
		t.Errorf("status %+v", s)
	}
}

func TestSerialPort(t *testing.T) {
	for text, want := range map[string]string{
		"/dev/ttyUSB0": "/dev/ttyUSB0 4800", "COM3@38400": "COM3 38400",
		"": "error", "@4800": "error", "/dev/x@": "error", "/dev/x@12": "error", "/dev/x@1e9": "error",
	} {
		device, rate, err := serialPort(text)
		got := fmt.Sprintf("%s %d", device, rate)
		if err != nil {
			got = "error"
		}
		if got != want {
			t.Errorf("%q: got %s, want %s", text, got, want)
		}
	}
}
