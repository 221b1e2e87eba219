//go:build !nosound && (cgo || darwin || windows)

package speaker

import (
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"testing"
	"time"
)

// The device tests run this test binary again under an ALSA configuration of
// their own: the sound library opens the default device once in a process.
const deviceEnv = "HELMCUE_TEST_DEVICE"

func TestMain(m *testing.M) {
	if os.Getenv(deviceEnv) != "" {
		os.Exit(speakOnce())
	}
	os.Exit(m.Run())
}

// speakOnce says two things and tells what happened on standard output.
func speakOnce() int {
	ctx, stop := context.WithTimeout(context.Background(), 5*time.Second)
	defer stop()
	left := 2
	p := Open(Config{Clips: demo(), Told: func(e Event) {
		fmt.Println(e.ID, e.What)
		if e.What != "started" {
			left--
		}
		if left == 0 { // what is fed is not yet heard
			time.AfterFunc(300*time.Millisecond, stop)
		}
	}})
	p.Play(Utterance{ID: 1, Clips: []string{"stem", "digits"}, GapMS: 80})
	p.Play(Utterance{ID: 2, Clips: []string{"out"}})
	p.Run(ctx)
	fmt.Println("silent:", p.Silent())
	return left
}

// under runs speakOnce with an ALSA configuration added to the system's.
func under(t *testing.T, conf string) string {
	t.Helper()
	if runtime.GOOS != "linux" {
		t.Skip("ALSA is Linux's")
	}
	path := filepath.Join(t.TempDir(), "asound.conf")
	if err := os.WriteFile(path, []byte(conf), 0o600); err != nil {
		t.Fatal(err)
	}
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(exe)
	cmd.Env = append(os.Environ(), deviceEnv+"=1", "ALSA_CONFIG_PATH=/usr/share/alsa/alsa.conf:"+path)
	var says bytes.Buffer
	cmd.Stderr = &says
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v\n%s%s", err, out, &says)
	}
	return string(out)
}

// TestWhatTheDeviceGot checks the samples that reached the device: every clip
// whole, in order, at its own level. The file plugin over null takes samples as
// fast as they are offered, so the library pads with silence wherever it likes;
// the gap between clips is the Reel's own and is checked there.
func TestWhatTheDeviceGot(t *testing.T) {
	captured := filepath.Join(t.TempDir(), "played.raw")
	out := under(t, fmt.Sprintf("pcm.!default { type file slave.pcm null file %q format raw }\npcm.null { type null }\n", captured))
	if want := "1 started\n1 finished\n2 started\n2 finished\nsilent: \n"; out != want {
		t.Errorf("told %q, want %q", out, want)
	}
	raw, err := os.ReadFile(captured)
	if err != nil {
		t.Fatalf("nothing was captured: %v; the test needs ALSA's file plugin", err)
	}
	var got []run
	for _, level := range mono(raw) {
		if level == 0 {
			continue
		}
		if n := len(got); n > 0 && got[n-1].level == level {
			got[n-1].n++
			continue
		}
		got = append(got, run{level, 1})
	}
	want := []run{{2, 200 * Rate / 1000}, {4, 300 * Rate / 1000}, {8, 400 * Rate / 1000}}
	if !slices.Equal(got, want) {
		t.Errorf("the device got %v (tenths of full scale, samples), want %v", got, want)
	}
}

type run struct{ level, n int }

// mono reads what oto writes to ALSA, 32-bit float; levels in tenths.
func mono(raw []byte) []int {
	out := make([]int, 0, len(raw)/4)
	for i := 0; i+4 <= len(raw); i += 4 {
		out = append(out, int(10*math.Float32frombits(binary.LittleEndian.Uint32(raw[i:]))+0.5))
	}
	return out
}

func TestNoDevice(t *testing.T) {
	began := time.Now()
	out := under(t, "pcm.!default { type hw card 31 }\n")
	const want = "1 started\n1 finished\n2 started\n2 finished\nsilent: "
	if len(out) <= len(want)+1 || out[:len(want)] != want {
		t.Errorf("told %q, want the same events as with a device, and why it is silent", out)
	}
	if d := time.Since(began); d < 900*time.Millisecond {
		t.Errorf("a silent player must take the time of the words (1.38 s), it took %v", d)
	}
}
