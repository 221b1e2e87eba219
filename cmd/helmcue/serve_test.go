package main

import (
	"bufio"
	"bytes"
	"context"
	"crypto/tls"
	"crypto/x509"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"helmcue/internal/boat"
	"helmcue/internal/logfile"
	"helmcue/internal/recording"
)

// asProgram makes the test binary behave as helmcue itself.
const asProgram = "HELMCUE_TEST_AS_PROGRAM"

// service is a running helmcue.
type service struct {
	t           testing.TB
	cmd         *exec.Cmd
	data        string
	host        string
	code        string // of the sailor
	teacherCode string
	said        *bytes.Buffer
	http        *http.Client
	tls         *tls.Config
}

func start(t testing.TB, more ...string) *service {
	t.Helper()
	s := &service{t: t, data: t.TempDir(), said: &bytes.Buffer{}}
	args := append([]string{"serve", "--quiet", "--listen", "127.0.0.1:0", "--plain", "127.0.0.1:0", "--data", s.data}, more...)
	s.cmd = exec.Command(os.Args[0], args...)
	s.cmd.Env = append(os.Environ(), asProgram+"=1")
	s.cmd.Stderr = s.said
	out, err := s.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := s.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.cmd.Process.Kill(); s.cmd.Wait() }) //nolint:errcheck // may have ended
	s.await(out)
	s.trust()
	return s
}

// await reads the greeting for the sailor's address.
func (s *service) await(out io.Reader) {
	s.t.Helper()
	found := make(chan []string, 1)
	go func() {
		re := regexp.MustCompile(`(?:Sailor|Instructor): https://[^/]*:(\d+)/\w+#(\w+)`)
		var got []string
		for lines := bufio.NewScanner(out); lines.Scan(); {
			if m := re.FindStringSubmatch(lines.Text()); m != nil {
				got = append(got, m[1:]...)
			}
			if len(got) == 4 {
				found <- got
				got = nil
			}
		}
	}()
	select {
	case m := <-found:
		s.host, s.code, s.teacherCode = "127.0.0.1:"+m[0], m[1], m[3]
	case <-time.After(20 * time.Second):
		s.t.Fatalf("the service did not say where the pages are:\n%s", s.said)
	}
}

// trust takes the service's own root, as a phone does once at home.
func (s *service) trust() {
	s.t.Helper()
	pem, err := os.ReadFile(filepath.Join(s.data, "keys", "root.crt"))
	if err != nil {
		s.t.Fatal(err)
	}
	pool := x509.NewCertPool()
	if !pool.AppendCertsFromPEM(pem) {
		s.t.Fatal("root.crt holds no certificate")
	}
	s.tls = &tls.Config{RootCAs: pool}
	s.http = &http.Client{Transport: &http.Transport{TLSClientConfig: s.tls}, Timeout: 10 * time.Second}
}

func (s *service) pair() (token, name string) {
	s.t.Helper()
	req, _ := http.NewRequest("POST", "https://"+s.host+"/pair", strings.NewReader(fmt.Sprintf(`{"code":%q}`, s.code)))
	req.Header.Set("Content-Type", "application/json")
	req.Header.Set("Origin", "https://"+s.host)
	resp, err := s.http.Do(req)
	if err != nil {
		s.t.Fatal(err)
	}
	defer resp.Body.Close()
	var got struct{ Token, Boat string }
	if err := json.NewDecoder(resp.Body).Decode(&got); err != nil || got.Token == "" {
		s.t.Fatalf("pairing: %s, %v", resp.Status, err)
	}
	return got.Token, got.Boat
}

// page is a phone page without a phone.
type page struct {
	t    testing.TB
	conn *websocket.Conn
}

func (s *service) page(token, role, name string) *page {
	s.t.Helper()
	d := websocket.Dialer{TLSClientConfig: s.tls}
	conn, _, err := d.Dial("wss://"+s.host+"/link", http.Header{"Origin": {"https://" + s.host}})
	if err != nil {
		s.t.Fatal(err)
	}
	s.t.Cleanup(func() { conn.Close() })
	p := &page{s.t, conn}
	p.send(map[string]any{"type": "join", "v": 1, "role": role, "token": token, "boat": name})
	if m := p.next("joined"); m["boat"] != name {
		s.t.Fatalf("joined %v, want boat %s", m, name)
	}
	return p
}

func (p *page) send(m map[string]any) {
	if err := p.conn.WriteJSON(m); err != nil {
		p.t.Fatal(err)
	}
}

// next returns the next message of a type; others are passed over.
func (p *page) next(kind string) map[string]any {
	p.t.Helper()
	p.conn.SetReadDeadline(time.Now().Add(75 * time.Second)) //nolint:errcheck // the read will tell
	for {
		var m map[string]any
		if err := p.conn.ReadJSON(&m); err != nil {
			p.t.Fatalf("waiting for %s: %v", kind, err)
		}
		if m["type"] == kind {
			return m
		}
	}
}

func (s *service) recordings() []string {
	files, err := filepath.Glob(filepath.Join(s.data, "sessions", "*.mcap"))
	if err != nil || len(files) == 0 {
		s.t.Fatalf("no recording: %v", err)
	}
	return files
}

// outputs returns what the recording says was said.
func outputs(t *testing.T, path string) (lines []string, torn bool) {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r, err := recording.Open(f)
	if err != nil {
		t.Fatal(err)
	}
	for {
		rec, err := r.Next()
		if errors.Is(err, io.EOF) {
			return lines, r.Torn()
		}
		if err != nil {
			t.Fatal(err)
		}
		if rec.Output != nil {
			b, err := json.Marshal(*rec.Output)
			if err != nil {
				t.Fatal(err)
			}
			lines = append(lines, string(b))
		}
	}
}

// The whole line once: the service sails a simulated boat, a page hears its
// first cue within a minute, Ctrl-C closes the recording, and the replay of it
// says the same, byte for byte.
func TestFromBoatToReplay(t *testing.T) {
	s := start(t, "--sim", "first-lesson")
	token, name := s.pair()
	p := s.page(token, "sailor", name)
	began := time.Now()
	cue := p.next("cue")
	if took := time.Since(began); took > time.Minute {
		t.Errorf("the first cue took %v, it must come within a minute", took)
	}
	if cue["words"] == "" || cue["why"] == "" || len(cue["clips"].([]any)) == 0 {
		t.Errorf("a cue needs words, a reason and clips: %v", cue)
	}
	if state := p.next("state"); state["twd_known"] != true || state["told"] == nil {
		t.Errorf("the state after a cue: %v", state)
	}
	if err := s.cmd.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	if err := s.cmd.Wait(); err != nil {
		t.Fatalf("Ctrl-C must end it with status 0: %v\n%s", err, s.said)
	}
	rec := s.recordings()[0]
	live, torn := outputs(t, rec)
	if torn {
		t.Error("the recording was not closed")
	}
	again := filepath.Join(t.TempDir(), "again.ndjson")
	if code := run([]string{"replay", rec, "--out", again}); code != 0 {
		t.Fatalf("replay ended with %d", code)
	}
	b, err := os.ReadFile(again)
	if err != nil {
		t.Fatal(err)
	}
	replayed := strings.Split(strings.TrimSpace(string(b)), "\n")
	if !slices.Equal(live, replayed) {
		t.Errorf("live said %d lines, the replay %d; first difference: %s", len(live), len(replayed), difference(live, replayed))
	}
}

func difference(a, b []string) string {
	for i := range a {
		if i >= len(b) || a[i] != b[i] {
			return fmt.Sprintf("line %d: %s", i, a[i])
		}
	}
	return "none"
}

// A phone sends samples and the service is killed in the middle: every sample
// that was acknowledged is in the file, and the file opens.
func TestKilledServiceKeepsWhatItAcknowledged(t *testing.T) {
	for i := range 3 {
		s := start(t)
		token, name := s.pair()
		p := s.page(token, "sailor", name)
		acked := int64(0)
		ctx, stop := context.WithTimeout(context.Background(), time.Duration(700+400*i)*time.Millisecond)
		for seq := int64(1); ctx.Err() == nil; seq++ {
			p.send(map[string]any{"type": "sample", "seq": seq, "t": time.Now().UnixMilli(), "lat": 48.1, "lon": 12.2, "sog": 3, "cog": 90})
			acked = int64(p.next("ack")["seq"].(float64))
			time.Sleep(50 * time.Millisecond) // a faster page is told to slow down
		}
		stop()
		if err := s.cmd.Process.Signal(syscall.SIGKILL); err != nil {
			t.Fatal(err)
		}
		s.cmd.Wait() //nolint:errcheck // it was killed
		if kept := lastSeq(t, s.recordings()[0]); kept < acked || acked == 0 {
			t.Errorf("sample %d was acknowledged, the file ends at %d", acked, kept)
		}
	}
}

func lastSeq(t *testing.T, path string) (last int64) {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	l, err := logfile.Open(f, logfile.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for {
		in, err := l.Next()
		if err != nil {
			return last
		}
		if in.Kind == boat.SampleIn {
			last = max(last, in.Sample.Seq)
		}
	}
}

// An instructor's act reaches the engine, the boat's page and the recording.
func TestInstructorSpeaksAndSetsTheWind(t *testing.T) {
	s := start(t)
	token, name := s.pair()
	p := s.page(token, "sailor", name)
	go func() {
		for seq := 1; seq < 100; seq++ {
			if p.conn.WriteJSON(map[string]any{"type": "sample", "seq": seq, "t": time.Now().UnixMilli(), "lat": 48.1, "lon": 12.2, "sog": 3, "cog": 90}) != nil {
				return
			}
			time.Sleep(100 * time.Millisecond)
		}
	}()
	p.next("ack")
	teacher := s.instructor()
	teacher.send(map[string]any{"type": "act", "t": time.Now().UnixMilli(), "boat": name, "act": "wind", "dir": 240, "ref": "true", "kn": 9})
	teacher.send(map[string]any{"type": "act", "t": time.Now().UnixMilli(), "boat": name, "act": "say", "phrase": "follow_me"})
	if c := p.next("cue"); c["key"] != "say" || c["words"] != "follow me" {
		t.Errorf("the sailor heard %v", c)
	}
	for range 20 {
		if st := teacher.next("state"); st["boat"] == name && st["twd_known"] == true {
			return
		}
	}
	t.Error("the wind that the instructor set never became known")
}

// instructor pairs a second page by the code the service printed for it.
func (s *service) instructor() *page {
	s.t.Helper()
	s.code = s.teacherCode
	token, name := s.pair()
	return s.page(token, "instructor", name)
}
