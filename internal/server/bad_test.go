package server

import (
	"bufio"
	"crypto/tls"
	"encoding/binary"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"github.com/gorilla/websocket"

	"helmcue/internal/boat"
)

func contentOnly() fstest.MapFS { return fstest.MapFS{"index.html": {Data: []byte("x")}} }

// TestBadMessages: each is answered with a clear error, the link stays and goes
// on being acknowledged, and another page notices nothing.
func TestBadMessages(t *testing.T) {
	r := start(t)
	p, other := r.join("otter"), r.join("heron")
	now := time.Now().UnixMilli()
	cases := []struct{ name, in, code string }{
		{"malformed JSON", `{"type":"sample",`, "bad_json"},
		{"not an object", `[1,2,3]`, "bad_json"},
		{"empty", ``, "bad_json"},
		{"NaN", fmt.Sprintf(`{"type":"sample","t":%d,"sog":NaN}`, now), "bad_json"},
		{"too large a number", fmt.Sprintf(`{"type":"sample","t":%d,"sog":1e999}`, now), "bad_type"},
		{"wrong type", fmt.Sprintf(`{"type":"sample","t":%d,"sog":"fast"}`, now), "bad_type"},
		{"out of range", fmt.Sprintf(`{"type":"sample","t":%d,"heel":270}`, now), "out_of_range"},
		{"no time", `{"type":"sample","sog":2}`, "missing"},
		{"past all clocks", `{"type":"sample","t":-5,"sog":2}`, "out_of_range"},
		{"beyond all clocks", `{"type":"sample","t":9e15,"sog":2}`, "out_of_range"},
		{"unknown type", `{"type":"telegram"}`, "unknown_type"},
		{"deep nesting", `{"type":"sample","t":` + strings.Repeat("[", 20000) + `}`, "bad_json"},
	}
	for i, c := range cases {
		p.send(c.in)
		if m := p.next("error", "ack"); m["code"] != c.code || m["text"] == "" {
			t.Errorf("%s: answered with %v, want %s", c.name, m, c.code)
		}
		for j, page := range []*page{p, other} {
			page.sample(i + 1)
			if a := page.next("ack", "error"); a["seq"] != float64(i+1) {
				t.Fatalf("after %s page %d is told %v", c.name, j, a)
			}
		}
	}
	if n := r.kinds("Otter", boat.SampleIn); n != len(cases) {
		t.Errorf("%d samples recorded, want the %d good ones", n, len(cases))
	}
}

func TestBinaryFrame(t *testing.T) {
	r := start(t)
	p := r.join("otter")
	p.conn.WriteMessage(websocket.BinaryMessage, []byte(`{"type":"bye"}`))
	if m := p.next("error"); m["code"] != "binary" {
		t.Errorf("answered with %v", m)
	}
	p.sample(1)
	p.next("ack")
}

func TestTooManyBadMessages(t *testing.T) {
	r := start(t)
	p := r.join("otter")
	for range 30 {
		if p.conn.WriteMessage(websocket.TextMessage, []byte(`{`)) != nil {
			break
		}
	}
	code, reason, fault := p.closed()
	if code != websocket.ClosePolicyViolation || !strings.Contains(reason, "too many bad messages") || fault != "bad_json" {
		t.Errorf("closed with %d %q after error %q", code, reason, fault)
	}
}

func TestFlood(t *testing.T) {
	r := start(t)
	p, other := r.join("otter"), r.join("heron")
	go func() {
		for i := range 5000 {
			if p.conn.WriteMessage(websocket.TextMessage, fmt.Appendf(nil, `{"type":"hidden","t":%d}`, 1750000000000+i)) != nil {
				return
			}
		}
	}()
	other.sample(1)
	other.next("ack")
	if code, _, fault := p.closed(); code != websocket.ClosePolicyViolation || fault != "too_fast" {
		t.Errorf("closed with %d after error %q", code, fault)
	}
	if n := r.kinds("Otter", boat.Hidden); n < 100 || n > 160 {
		t.Errorf("%d messages got through, the burst is 120", n)
	}
}

// TestFrameOfAGigabyte: only the header is sent; the link must end at once,
// without waiting for what the header promises.
func TestFrameOfAGigabyte(t *testing.T) {
	r := start(t)
	other := r.join("heron")
	for name, joined := range map[string]bool{"before join": false, "after join": true} {
		p := r.open()
		if joined {
			p = r.join("otter")
		}
		head := []byte{0x81, 0x80 | 127, 0, 0, 0, 0, 0, 0, 0, 0, 1, 2, 3, 4} // RFC 6455, 5.2: text, masked, 64-bit length
		binary.BigEndian.PutUint64(head[2:], 1<<30)
		begun := time.Now()
		if _, err := p.conn.NetConn().Write(head); err != nil {
			t.Fatal(err)
		}
		code, _, _ := p.closed()
		if code != websocket.CloseMessageTooBig || time.Since(begun) > 2*time.Second {
			t.Errorf("%s: closed with %d after %v, want 1009 at once", name, code, time.Since(begun))
		}
	}
	other.sample(1)
	other.next("ack")
}

func TestNotJoined(t *testing.T) {
	r := start(t, func(c *Config) { c.Limits.JoinIn = 300 * time.Millisecond })
	p := r.open()
	p.send(fmt.Sprintf(`{"type":"sample","t":%d,"seq":1}`, time.Now().UnixMilli()))
	if m := p.next("error", "ack"); m["code"] != "not_joined" {
		t.Errorf("a sample before join gave %v", m)
	}
	begun := time.Now()
	if p.closed(); time.Since(begun) > 2*time.Second {
		t.Error("a page that never joins is kept")
	}
	if len(r.inputs("")) != 0 {
		t.Error("its sample was recorded")
	}
}

func TestWrongToken(t *testing.T) {
	r := start(t)
	for _, token := range []string{"wrong", "otter "} {
		p := r.open()
		p.send(fmt.Sprintf(`{"type":"join","v":1,"role":"sailor","token":%q}`, token))
		if code, reason, fault := p.closed(); code != websocket.ClosePolicyViolation || reason != "bad_token" || fault != "bad_token" {
			t.Errorf("token %q: closed with %d %s after error %s", token, code, reason, fault)
		}
	}
}

func TestWrongOrigin(t *testing.T) {
	r := start(t)
	for origin, want := range map[string]int{
		"https://elsewhere.example": 403, "null": 403, "http://" + r.web.Listener.Addr().String(): 403, r.web.URL: 101} {
		conn, resp, _ := r.dial(http.Header{"Origin": {origin}})
		if conn != nil {
			conn.Close()
		}
		if resp == nil || resp.StatusCode != want {
			t.Errorf("origin %s: %v, want %d", origin, resp, want)
		}
	}
	req, _ := http.NewRequest("POST", r.web.URL+"/pair", strings.NewReader(`{"code":"GOOD22"}`))
	req.Header.Set("Origin", "https://elsewhere.example")
	if status, body := r.fetch(req); status != 403 || strings.Contains(body, "token\":\"") {
		t.Errorf("another site paired: %d %s", status, body)
	}
}

func TestWrongHost(t *testing.T) {
	r := start(t)
	for host, want := range map[string]int{"elsewhere.example": 421, "127.0.0.1.elsewhere.example:443": 421, "": 200,
		"LOCALHOST:8443": 200, "[::1]:8443": 200} {
		req, _ := http.NewRequest("GET", r.web.URL+"/sailor", nil)
		if host != "" {
			req.Host = host
		}
		if status, body := r.fetch(req); status != want {
			t.Errorf("host %q: %d %s, want %d", host, status, body, want)
		}
	}
}

// TestSlowPage: a page that stops reading is cut; others are told as ever.
func TestSlowPage(t *testing.T) {
	r := start(t, func(c *Config) { c.Limits = Limits{Write: 300 * time.Millisecond, Ping: time.Hour} })
	slow, quick := r.join("otter"), r.join("coach")
	if tcp, ok := slow.conn.NetConn().(*tls.Conn).NetConn().(*net.TCPConn); ok {
		tcp.SetReadBuffer(4096)
	}
	big := strings.Repeat("x", 32<<10)
	for i := range 400 { // 13 MB: far more than sockets hold
		r.srv.Publish("Otter", boat.Output{Note: &boat.Note{Code: "test", Text: big}}, Line{})
		if quick.next("note")["code"] != "test" {
			t.Fatalf("the quick page lost note %d", i)
		}
	}
	until(t, "the slow page to be cut", func() bool { return r.kinds("Otter", boat.LinkLost) == 1 })
}

// TestEightPages: all at once, each with its samples in order and acknowledged.
func TestEightPages(t *testing.T) {
	r := start(t)
	r.keys.mu.Lock()
	for i := range 8 {
		r.keys.all[fmt.Sprint("t", i)] = [2]string{"sailor", fmt.Sprint("B", i)}
	}
	r.keys.mu.Unlock()
	var all sync.WaitGroup
	for i := range 8 {
		p := r.join(fmt.Sprint("t", i))
		all.Go(func() {
			for seq := 1; seq < 100; seq++ {
				p.sample(seq)
				if seq%10 == 0 {
					r.srv.Publish(fmt.Sprint("B", i), boat.Output{Cue: &boat.Cue{ID: seq, Key: boat.Hold}}, Line{})
					p.next("cue")
				}
			}
			p.sample(100)
			for m := p.next("ack", "error"); m["seq"] != 100.0 && m["type"] == "ack"; m = p.next("ack", "error") {
			}
		})
	}
	all.Wait()
	for i := range 8 {
		ins := r.inputs(fmt.Sprint("B", i))
		if len(ins) != 100 {
			t.Fatalf("boat %d: %d inputs, want 100", i, len(ins))
		}
		for j, in := range ins {
			if in.Sample.Seq != int64(j+1) || j > 0 && in.T < ins[j-1].T {
				t.Fatalf("boat %d: input %d is out of order", i, j)
			}
		}
	}
}

func TestTooManyPages(t *testing.T) {
	r := start(t, func(c *Config) { c.Limits.MaxLinks = 2 })
	a := r.join("otter")
	r.join("heron")
	if _, resp, err := r.dial(nil); err == nil || resp.StatusCode != 503 {
		t.Errorf("the third page: %v", err)
	}
	a.send(`{"type":"bye"}`)
	a.closed()
	until(t, "room for another", func() bool { return r.srv.live.count() < 2 })
	r.join("teal")
}

// TestGarbageInsteadOfHTTP: a port scanner must not disturb the pages.
func TestGarbageInsteadOfHTTP(t *testing.T) {
	r := start(t)
	p := r.join("otter")
	c, err := net.Dial("tcp", r.web.Listener.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	c.Write([]byte("$GPRMC,no http at all\r\n\r\n"))
	c.SetReadDeadline(time.Now().Add(time.Second))
	io.Copy(io.Discard, bufio.NewReader(c))
	p.sample(1)
	p.next("ack")
}
