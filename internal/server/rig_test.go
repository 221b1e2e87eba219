package server

import (
	"context"
	"crypto/tls"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"

	"github.com/gorilla/websocket"

	"helmcue/internal/boat"
	"helmcue/internal/phonemsg"
)

// tokens are the pages that are paired: token to role and boat.
type tokens struct {
	mu  sync.Mutex
	all map[string][2]string
}

func (k *tokens) Check(token string) (phonemsg.Role, string, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	g, ok := k.all[token]
	return phonemsg.Role(g[0]), g[1], ok
}

func (k *tokens) Redeem(req phonemsg.PairRequest, from string) (phonemsg.PairReply, error) {
	switch req.Code {
	case "GOOD22":
		return phonemsg.PairReply{Token: "otter", Role: phonemsg.Sailor, Boat: "Otter"}, nil
	case "SLOW22":
		return phonemsg.PairReply{}, phonemsg.Errorf(phonemsg.TooFast, "too many tries: wait a minute")
	case "DISK22":
		return phonemsg.PairReply{}, fmt.Errorf("writing tokens: no space left on device")
	}
	return phonemsg.PairReply{}, phonemsg.Errorf(phonemsg.BadCode, "no such code")
}

// rig is a running server with three boats, an instructor and a viewer.
type rig struct {
	t      *testing.T
	srv    *Server
	web    *httptest.Server
	keys   *tokens
	cancel context.CancelFunc
	ended  chan struct{}

	failing atomic.Bool // OnInput refuses
	skewMS  atomic.Int64

	mu  sync.Mutex
	ins map[string][]boat.Input
}

func start(t *testing.T, change ...func(*Config)) *rig {
	t.Helper()
	r := &rig{t: t, ins: map[string][]boat.Input{}, ended: make(chan struct{}), keys: &tokens{all: map[string][2]string{
		"otter": {"sailor", "Otter"}, "heron": {"sailor", "Heron"}, "teal": {"sailor", "Teal"},
		"coach": {"instructor", ""}, "guest": {"viewer", ""}}}}
	cfg := Config{OnInput: r.onInput, Keys: r.keys, Session: "s1", Voice: "en-a",
		Hosts: func() []string { return []string{"127.0.0.1", "localhost", "::1"} },
		Joined: func(name string, _ phonemsg.Join) boat.Settings {
			return boat.Settings{Boat: name, Level: boat.Beginner, LengthM: 4.2}
		},
		Phrases: []phonemsg.Phrase{{Key: "well_done", Words: "well done"}},
		RootDER: []byte("der"), RootPEM: []byte("pem"), TLSPort: 8443,
		Now: func() time.Time { return time.Now().Add(time.Duration(r.skewMS.Load()) * time.Millisecond) },
		Pages: fstest.MapFS{"index.html": {Data: []byte("<p>landing")}, "sailor.html": {Data: []byte("<p>sailor")},
			"install.html": {Data: []byte("<p>install")}, "install/iphone.html": {Data: []byte("<p>iphone")},
			"sailor.js": {Data: []byte("1")}, "embed.go": {Data: []byte("package web")}, ".hidden.html": {Data: []byte("x")}},
		Clips: fstest.MapFS{"en-a/let_go.mp3": {Data: []byte("ID3")}, "en-a/manifest.json": {Data: []byte("{}")}}}
	for _, f := range change {
		f(&cfg)
	}
	cfg.Limits.State = 40 * time.Millisecond
	var err error
	if r.srv, err = New(cfg); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	r.cancel = cancel
	go func() { defer close(r.ended); r.srv.Run(ctx) }()
	r.web = httptest.NewTLSServer(r.srv.Handler())
	t.Cleanup(func() {
		cancel()
		<-r.ended
		r.web.Close()
	})
	return r
}

func (r *rig) onInput(name string, ins []boat.Input) error {
	if r.failing.Load() {
		return fmt.Errorf("no space left on device")
	}
	if name == "Nobody" {
		return phonemsg.Errorf(phonemsg.OutOfRange, "no boat is called Nobody")
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	r.ins[name] = append(r.ins[name], ins...)
	return nil
}

func (r *rig) inputs(name string) []boat.Input {
	r.mu.Lock()
	defer r.mu.Unlock()
	return append([]boat.Input(nil), r.ins[name]...)
}

// kinds counts a boat's inputs of one kind.
func (r *rig) kinds(name string, k boat.Kind) int {
	n := 0
	for _, in := range r.inputs(name) {
		if in.Kind == k {
			n++
		}
	}
	return n
}

// page is one page's end of a link. One goroutine at a time may read.
type page struct {
	t    testing.TB
	conn *websocket.Conn
}

func (r *rig) dial(h http.Header) (*websocket.Conn, *http.Response, error) {
	d := websocket.Dialer{TLSClientConfig: &tls.Config{RootCAs: r.web.Client().Transport.(*http.Transport).TLSClientConfig.RootCAs}}
	return d.Dial("wss"+strings.TrimPrefix(r.web.URL, "https")+"/link", h)
}

func (r *rig) open() *page {
	r.t.Helper()
	conn, _, err := r.dial(nil)
	if err != nil {
		r.t.Fatal(err)
	}
	r.t.Cleanup(func() { conn.Close() })
	return &page{r.t, conn}
}

// join opens a link and joins as the token's own role.
func (r *rig) join(token string) *page {
	r.t.Helper()
	p := r.open()
	role, _, _ := r.keys.Check(token)
	p.send(fmt.Sprintf(`{"type":"join","v":1,"role":%q,"token":%q}`, role, token))
	if m := p.next("joined", "error"); m["type"] != "joined" {
		r.t.Fatalf("joining gave %v", m)
	}
	return p
}

func (p *page) send(s string) {
	p.t.Helper()
	if err := p.conn.WriteMessage(websocket.TextMessage, []byte(s)); err != nil {
		p.t.Fatalf("sending %.80s: %v", s, err)
	}
}

// sample sends one good sample made now.
func (p *page) sample(seq int) {
	p.t.Helper()
	p.send(fmt.Sprintf(`{"type":"sample","t":%d,"seq":%d,"sog":2,"acc":4,"batt":0.8,"hdg":10,"hdgRef":"mag"}`, time.Now().UnixMilli(), seq))
}

// next returns the next message of one of the types, passing over others.
func (p *page) next(types ...string) map[string]any {
	p.t.Helper()
	for end := time.Now().Add(8 * time.Second); ; {
		m, err := p.read()
		if err != nil || time.Now().After(end) {
			p.t.Errorf("waiting for %v: %v", types, err)
			return map[string]any{}
		}
		for _, typ := range types {
			if m["type"] == typ {
				return m
			}
		}
	}
}

func (p *page) read() (map[string]any, error) {
	p.conn.SetReadDeadline(time.Now().Add(5 * time.Second))
	_, b, err := p.conn.ReadMessage()
	if err != nil {
		return nil, err
	}
	var m map[string]any
	return m, json.Unmarshal(b, &m)
}

// closed reads on until the link ends and returns the close code, and the last
// error message before it.
func (p *page) closed() (code int, reason, fault string) {
	p.t.Helper()
	for {
		m, err := p.read()
		if err != nil {
			if e, ok := err.(*websocket.CloseError); ok {
				return e.Code, e.Text, fault
			}
			return 0, err.Error(), fault
		}
		if m["type"] == "error" {
			fault = m["code"].(string)
		}
	}
}

// until waits for what another goroutine will bring about.
func until(t *testing.T, what string, ok func() bool) {
	t.Helper()
	for end := time.Now().Add(5 * time.Second); !ok(); time.Sleep(2 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("waited in vain for %s", what)
		}
	}
}
