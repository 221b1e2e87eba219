package web_test

import (
	"bytes"
	"context"
	"crypto/tls"
	"errors"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"go.uber.org/zap"

	"helmcue/internal/app"
	"helmcue/internal/boat"
	"helmcue/internal/config"
	"helmcue/internal/recording"
)

// aboard is the real service, behind a network of the test's that can be cut.
type aboard struct {
	*httptest.Server
	t    *testing.T
	data string
	code string // pairs one sailor's page
	end  func() // ends the service; its recordings are closed then

	mu    sync.Mutex
	down  bool
	conns map[net.Conn]bool
}

func newAboard(t *testing.T, engine string, instruments ...string) *aboard {
	t.Helper()
	a := &aboard{t: t, data: t.TempDir(), conns: map[net.Conn]bool{}}
	c := app.Config{Config: config.Default(), Log: zap.NewNop(), Version: "test"}
	c.Listen, c.Plain, c.Sound, c.Data, c.Local = "127.0.0.1:0", "", "off", a.data, ""
	c.NMEA = instruments
	c.Settings = c.Config.Settings()
	codes := make(chan string, 4)
	c.Say = func(s string) {
		if m := regexp.MustCompile(`^\s*Sailor: \S+#(\S+)`).FindStringSubmatch(s); m != nil {
			codes <- m[1]
		}
	}
	service, err := app.New(c)
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	ran := make(chan error, 1)
	go func() { ran <- service.Run(ctx) }()
	a.end = sync.OnceFunc(func() {
		stop()
		if err := <-ran; err != nil {
			t.Error(err)
		}
	})
	a.code = <-codes
	to, _ := url.Parse("https://127.0.0.1:" + portText(service.Port()))
	proxy := httputil.NewSingleHostReverseProxy(to)
	proxy.Transport = &http.Transport{TLSClientConfig: &tls.Config{InsecureSkipVerify: true}} //nolint:gosec // this machine's own test
	proxy.ErrorLog, _ = zap.NewStdLogAt(zap.NewNop(), zap.DebugLevel)
	a.Server = httptest.NewUnstartedServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if file, ok := strings.CutPrefix(r.URL.Path, "/engine/built/"); ok && engine != "" {
			http.ServeFileFS(w, r, os.DirFS(engine), file)
			return
		}
		proxy.ServeHTTP(w, r)
	}))
	proxy.ModifyResponse = withCoachKept
	a.Server.Listener = counted{a.Server.Listener, a}
	a.StartTLS()
	t.Cleanup(func() {
		a.cut()
		a.end()
		a.Close()
	})
	return a
}

// withCoachKept lets a phone keep the coach even where the service was built without.
func withCoachKept(resp *http.Response) error {
	if resp.Request.URL.Path != "/offline.js" {
		return nil
	}
	b, err := io.ReadAll(resp.Body)
	if err != nil {
		return err
	}
	resp.Body.Close()
	if !bytes.Contains(b, []byte("engine.wasm")) {
		b = bytes.Replace(b, []byte(`"pages":[`), []byte(`"pages":["/engine/built/engine.wasm","/engine/built/loader.js",`), 1)
	}
	resp.Body, resp.ContentLength = io.NopCloser(bytes.NewReader(b)), int64(len(b))
	resp.Header.Set("Content-Length", strconv.Itoa(len(b)))
	return nil
}

func portText(p int) string { _, s, _ := net.SplitHostPort((&net.TCPAddr{Port: p}).String()); return s }

// counted is a listener whose connections can be cut, and refused while it is down.
type counted struct {
	net.Listener
	a *aboard
}

func (l counted) Accept() (net.Conn, error) {
	for {
		c, err := l.Listener.Accept()
		if err != nil {
			return nil, err
		}
		l.a.mu.Lock()
		down := l.a.down
		if !down {
			l.a.conns[c] = true
		}
		l.a.mu.Unlock()
		if !down {
			return c, nil
		}
		c.Close()
	}
}

func (a *aboard) cut() {
	a.mu.Lock()
	defer a.mu.Unlock()
	a.down = true
	for c := range a.conns {
		c.Close()
	}
	clear(a.conns)
}

func (a *aboard) mend() {
	a.mu.Lock()
	defer a.mu.Unlock()
	a.down = false
}

// read ends the service and returns what its recordings hold, in order.
func (a *aboard) read() (ins []boat.Input, outs []boat.Output) {
	a.t.Helper()
	a.end()
	files, err := filepath.Glob(filepath.Join(a.data, "sessions", "*.mcap"))
	if err != nil || len(files) == 0 {
		a.t.Fatalf("recordings %v, %v; want one", files, err)
	}
	for _, name := range files {
		f, err := os.Open(name)
		if err != nil {
			a.t.Fatal(err)
		}
		defer f.Close()
		r, err := recording.Open(f)
		if err != nil {
			a.t.Fatal(err)
		}
		for {
			rec, err := r.Next()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				a.t.Fatal(err)
			}
			if rec.Input != nil {
				ins = append(ins, *rec.Input)
			}
			if rec.Output != nil {
				outs = append(outs, *rec.Output)
			}
		}
	}
	return ins, outs
}

// whole fails where a sample is missing between the first and the last, or came
// twice. Between two pages there may be longer without one, ms.
func whole(t *testing.T, ins []boat.Input, betweenPages boat.Time) (samples int) {
	t.Helper()
	counts := map[int64]int{}
	var last boat.Time
	var lowest, highest int64
	others := int64(0) // every message of the page takes a number
	for _, in := range ins {
		if in.Kind != boat.SampleIn {
			if in.Source == "phone" {
				others++
			}
			continue
		}
		if lowest == 0 {
			lowest = in.Sample.Seq
		}
		highest = max(highest, in.Sample.Seq)
		samples++
		counts[in.Sample.Seq]++
		if in.Sent != 0 && in.Sent < last && betweenPages == 0 {
			t.Errorf("the sample made at %d is recorded after that of %d", in.Sent, last)
		}
		if last != 0 && in.Sent-last > max(5000, betweenPages) { // a busy machine's page stumbles for seconds
			t.Errorf("%d ms without a sample before %d", in.Sent-last, in.Sent)
		}
		last = in.Sent
	}
	if missing := highest - lowest + 1 - int64(samples) - others; betweenPages == 0 && missing > 0 {
		t.Errorf("%d of the page's %d messages are not recorded", missing, highest-lowest+1)
	}
	for seq, n := range counts {
		if n > 1 {
			t.Errorf("sample %d is recorded %d times", seq, n)
		}
	}
	return samples
}

func waitUntil(t *testing.T, what string, ok func() bool) {
	t.Helper()
	waitUntilFor(t, 25*time.Second, what, ok)
}

func waitUntilFor(t *testing.T, most time.Duration, what string, ok func() bool) {
	t.Helper()
	for end := time.Now().Add(most); !ok(); time.Sleep(50 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("waited in vain for %s", what)
		}
	}
}
