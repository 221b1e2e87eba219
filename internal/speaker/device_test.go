//go:build linux && cgo && !nosound

package speaker

import (
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// The device tests run this test binary again under an ALSA configuration of
// their own: the sound library opens the default device once in a process. ALSA's
// file plugin hands what reached the device to the binary once more, which takes
// it at the speed of a sound card: the null device behind the plugin has no pace.
const (
	sceneEnv  = "HELMCUE_TEST_SCENE"  // what to play
	recordEnv = "HELMCUE_TEST_RECORD" // write standard input here, at the pace of sound
)

func TestMain(m *testing.M) {
	if path := os.Getenv(recordEnv); path != "" {
		os.Exit(recordPaced(path))
	}
	if name := os.Getenv(sceneEnv); name != "" {
		os.Exit(scenes()[name].run())
	}
	os.Exit(m.Run())
}

// scene is what a player is given to say; more, once it began.
type scene struct {
	first []Utterance
	after time.Duration // from the first beginning to more
	more  []Utterance
}

func scenes() map[string]scene {
	return map[string]scene{
		"two": {first: []Utterance{{ID: 1, Clips: []string{"stem", "digits"}, GapMS: 80}, {ID: 2, Clips: []string{"out"}}}},
		"cut": {first: []Utterance{{ID: 1, Clips: []string{"digits"}}, {ID: 2, Clips: []string{"stem"}}},
			after: 120 * time.Millisecond, more: []Utterance{{ID: 3, Clips: []string{"out"}, Danger: true}}},
	}
}

// run plays the scene and tells what happened on standard output.
func (s scene) run() int {
	ctx, stop := context.WithTimeout(context.Background(), 8*time.Second)
	defer stop()
	left := len(s.first) + len(s.more)
	var p *Player
	p = Open(Config{Clips: sines(), Told: func(e Event) {
		fmt.Println(e.ID, e.What)
		if e.ID == 1 && e.What == "started" && s.more != nil {
			time.AfterFunc(s.after, func() { p.Play(s.more[0]) })
		}
		if e.What != "started" {
			left--
		}
		if left == 0 { // what the device took is not yet heard
			time.AfterFunc(p.Delay()+300*time.Millisecond, stop)
		}
	}})
	if p.out != nil {
		p.out = lifted{p.out}
	}
	for _, u := range s.first {
		p.Play(u)
	}
	p.Run(ctx)
	fmt.Println("silent:", p.Silent())
	return left
}

// lift is added to everything the Player makes, so that its silence can be told
// from the zeros which the library puts in where it was not fed in time.
const lift = 2

type lifted struct{ output }

func (l lifted) start(fill func([]float32)) {
	l.output.start(func(x []float32) {
		fill(x)
		for i := range x {
			x[i] += lift
		}
	})
}

// under runs a scene with an ALSA configuration added to the system's.
func under(t *testing.T, scene, conf string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "asound.conf")
	if err := os.WriteFile(path, []byte(conf), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(self(t))
	cmd.Env = append(os.Environ(), sceneEnv+"="+scene, "ALSA_CONFIG_PATH=/usr/share/alsa/alsa.conf:"+path)
	var says bytes.Buffer
	cmd.Stderr = &says
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v\n%s%s", err, out, &says)
	}
	return string(out)
}

func self(t *testing.T) string {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	return exe
}

// captured plays a scene and returns what was told, and the sound that the
// Player put into the device.
func captured(t *testing.T, scene string) (told string, sound []float32) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "played.raw")
	told = under(t, scene, fmt.Sprintf(`pcm.!default { type file slave.pcm "null" format raw
	file "|%s=%s %s" }
`, recordEnv, path, self(t)))
	raw, err := readWhole(path)
	if err != nil {
		t.Fatalf("nothing was captured: %v; the test needs ALSA's file plugin (libasound2)", err)
	}
	holes := 0
	for i := 0; i+4 <= len(raw); i += 4 {
		v := math.Float32frombits(binary.LittleEndian.Uint32(raw[i:]))
		switch {
		case v != 0:
			sound = append(sound, v-lift)
		case len(sound) > 0:
			holes++
		}
	}
	t.Logf("%d samples captured, %d put in by the library where it waited for us", len(sound), holes)
	return told, sound
}

// readWhole waits until the recording process has closed its file.
func readWhole(path string) ([]byte, error) {
	for end := time.Now().Add(3 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if b, err := os.ReadFile(path + ".done"); err == nil {
			return b, nil
		}
	}
	return os.ReadFile(path)
}

func recordPaced(path string) int {
	const pipeSize = 1031 // F_SETPIPE_SZ: the default holds a third of a second
	_, _, _ = syscall.Syscall(syscall.SYS_FCNTL, 0, pipeSize, 4096)
	f, err := os.Create(path)
	if err != nil {
		return 1
	}
	began, total := time.Now(), 0
	buf := make([]byte, 2048)
	for {
		n, err := io.ReadFull(os.Stdin, buf)
		if _, werr := f.Write(buf[:n]); werr != nil {
			return 1
		}
		if err != nil {
			break
		}
		total += n
		time.Sleep(time.Until(began.Add(time.Duration(total) * time.Second / (4 * Rate))))
	}
	if f.Close() != nil || os.Rename(path, path+".done") != nil {
		return 1
	}
	return 0
}

// TestWhatTheDeviceGot: the clips whole and in order, the gap to the sample, no
// step at the joins, nothing beyond full scale.
func TestWhatTheDeviceGot(t *testing.T) {
	t.Parallel()
	told, sound := captured(t, "two")
	if want := "1 started\n1 finished\n2 started\n2 finished\nsilent: \n"; told != want {
		t.Errorf("told %q, want %q", told, want)
	}
	stem, digits, out := wave("stem"), wave("digits"), wave("out")
	said := join(stem, make([]float32, 80*Rate/1000), digits, out)
	rest := sound[begins(t, sound):]
	compare(t, rest, said)
	compare(t, rest[len(said):], make([]float32, len(rest)-len(said)))
}

// TestDangerCutsInOnTheDevice: what was being said fades in 5 ms, and danger
// follows at once and whole.
func TestDangerCutsInOnTheDevice(t *testing.T) {
	t.Parallel()
	told, sound := captured(t, "cut")
	if want := "1 started\n1 dropped\n2 dropped\n3 started\n3 finished\nsilent: \n"; told != want {
		t.Errorf("told %q, want %q", told, want)
	}
	rest := sound[begins(t, sound):]
	digits, out := wave("digits"), wave("out")
	cut := 0
	for cut < len(digits) && near(rest[cut], digits[cut]) {
		cut++
	}
	if cut == len(digits) {
		t.Fatal("the first words were said whole: danger did not cut in")
	}
	const fade = fadeMS * Rate / 1000
	cut-- // the fade's first sample is still at full level
	for i := range fade {
		if want := digits[cut+i] * float32(fade-i) / fade; !near(rest[cut+i], want) {
			t.Fatalf("%d samples into the fade: %.4f, want %.4f", i, rest[cut+i], want)
		}
	}
	compare(t, rest[cut+fade:], out)
	if steps := largestStep(rest); steps > 0.08 { // a full 550 Hz wave moves 0.058 a sample
		t.Errorf("a step of %.2f of full scale is a click", steps)
	}
}

func wave(clip string) []float32 { return sines()[clip] }

func join(parts ...[]float32) (out []float32) {
	for _, p := range parts {
		out = append(out, p...)
	}
	return out
}

// near allows for the rounding that lifting costs.
func near(a, b float32) bool { return math.Abs(float64(a-b)) < 1e-6 }

// begins is where the first clip starts: its first sample is zero itself.
func begins(t *testing.T, sound []float32) int {
	t.Helper()
	for i, v := range sound {
		if !near(v, 0) {
			return max(i-1, 0)
		}
	}
	t.Fatal("only silence reached the device")
	return 0
}

func compare(t *testing.T, got, want []float32) {
	t.Helper()
	if len(got) < len(want) {
		t.Fatalf("%d samples reached the device, want %d", len(got), len(want))
	}
	for i, w := range want {
		if !near(got[i], w) {
			t.Fatalf("%.1f ms in: %.4f, want %.4f", float64(i)*1000/Rate, got[i], w)
		}
	}
}

func largestStep(x []float32) (most float64) {
	for i := 1; i < len(x); i++ {
		most = max(most, math.Abs(float64(x[i]-x[i-1])))
	}
	return most
}

// Without a device the words take their time all the same, and the reason is told.
func TestNoDevice(t *testing.T) {
	t.Parallel()
	began := time.Now()
	told := under(t, "two", "pcm.!default { type hw card 31 }\n")
	const want = "1 started\n1 finished\n2 started\n2 finished\nsilent: no loudspeaker: "
	if !strings.HasPrefix(told, want) {
		t.Errorf("told %q, want the same events as with a device, and why it is silent", told)
	}
	if d := time.Since(began); d < 900*time.Millisecond || d > 4*time.Second {
		t.Errorf("took %v, want about the time of the words (0.98 s) and the look for a device (within a second)", d)
	}
}
