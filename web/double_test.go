package web_test

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"os"
	"path"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"helmcue/web"
)

// message is one message from or to a page, as loose as JSON.
type message map[string]any

func (m message) kind() string { s, _ := m["type"].(string); return s }

// num returns a number and whether the message has it.
func (m message) num(field string) (float64, bool) { v, ok := m[field].(float64); return v, ok }

// double stands in for the service: it serves the pages under the same policy,
// pairs every code, acknowledges samples and keeps all that it is told.
type double struct {
	*httptest.Server
	mu     sync.Mutex
	got    []message
	frames []message // every frame that came, as it came
	told   []message // every frame that went out
	links  map[*websocket.Conn]*sync.Mutex
	down   bool // /link is refused, as with the network gone
	deaf   bool // samples are kept and not acknowledged
	role   string
	mp3    []byte
	state  message // sent twice a second where set
	voices int     // clips asked for
	engine string  // folder of the page's own coach; empty: this build has none
}

func newDouble(t *testing.T) *double {
	t.Helper()
	clips, err := filepath.Glob("../voices/*/*.mp3")
	if err != nil || len(clips) == 0 {
		t.Fatalf("found no clip under ../voices to play: run make voices (%v)", err)
	}
	mp3, err := os.ReadFile(clips[0])
	if err != nil {
		t.Fatal(err)
	}
	d := &double{links: map[*websocket.Conn]*sync.Mutex{}, role: "sailor", mp3: mp3}
	mux := http.NewServeMux()
	mux.HandleFunc("POST /pair", d.pair)
	mux.HandleFunc("GET /link", d.link)
	mux.HandleFunc("GET /voices/", d.voice)
	mux.HandleFunc("GET /plan.json", d.plan)
	mux.HandleFunc("POST /shore.json", d.shore)
	mux.HandleFunc("GET /", d.page)
	d.Server = httptest.NewTLSServer(mux)
	stop := make(chan struct{})
	done := make(chan struct{})
	go d.states(stop, done)
	t.Cleanup(func() {
		close(stop)
		<-done
		d.cut()
		d.Close()
		d.holdToSchema(t)
	})
	return d
}

func (d *double) page(w http.ResponseWriter, r *http.Request) {
	name := strings.TrimPrefix(path.Clean(r.URL.Path), "/")
	if name == "" {
		name = "index"
	}
	if path.Ext(name) == "" {
		name += ".html"
	}
	w.Header().Set("Content-Security-Policy", "default-src 'self'; connect-src 'self' wss://"+r.Host+
		"; img-src 'self' data: blob:; media-src 'self' blob:; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'")
	w.Header().Set("X-Content-Type-Options", "nosniff")
	d.mu.Lock()
	engine := d.engine
	d.mu.Unlock()
	if file, built := strings.CutPrefix(name, "engine/built/"); built {
		if engine == "" {
			http.NotFound(w, r)
			return
		}
		http.ServeFileFS(w, r, os.DirFS(engine), file)
		return
	}
	if name == "sailor-coach.js" {
		w.Header().Set("Content-Security-Policy", "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; object-src 'none'; base-uri 'none'")
	}
	http.ServeFileFS(w, r, web.Files(), name)
}

func (d *double) pair(w http.ResponseWriter, r *http.Request) {
	var ask struct{ Code, Boat string }
	json.NewDecoder(r.Body).Decode(&ask)
	w.Header().Set("Content-Type", "application/json")
	if ask.Code == "WRONG2" {
		w.WriteHeader(http.StatusForbidden)
		json.NewEncoder(w).Encode(message{"type": "error", "code": "bad_code", "text": "no such code: ask for a new one"})
		return
	}
	if ask.Boat == "" {
		ask.Boat = "Wren"
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	json.NewEncoder(w).Encode(message{"token": "token-" + ask.Code, "role": d.role, "boat": ask.Boat})
}

// texts are the clips the double's voice has; all of them sound alike.
func texts() message {
	return message{
		"let-the-sheet-go": message{"text": "let the sheet go"}, "that-is-good": message{"text": "that is good"}, "lost-phone-link": message{"text": "lost phone link"},
		"bear-away-five-degrees": message{"text": "bear away five degrees"}, "steer": message{"text": "steer"}, "240": message{"text": "two four zero"},
	}
}

func (d *double) voice(w http.ResponseWriter, r *http.Request) {
	if path.Base(r.URL.Path) == "manifest.json" {
		json.NewEncoder(w).Encode(message{"voice": "test", "clips": texts()})
		return
	}
	if _, ok := texts()[strings.TrimSuffix(path.Base(r.URL.Path), ".mp3")]; !ok {
		http.NotFound(w, r)
		return
	}
	d.mu.Lock()
	d.voices++
	d.mu.Unlock()
	w.Header().Set("Content-Type", "audio/mpeg")
	w.Write(d.mp3)
}

func (d *double) link(w http.ResponseWriter, r *http.Request) {
	d.mu.Lock()
	down := d.down
	d.mu.Unlock()
	if down {
		http.Error(w, "down", http.StatusServiceUnavailable)
		return
	}
	up := websocket.Upgrader{}
	c, err := up.Upgrade(w, r, nil)
	if err != nil {
		return
	}
	d.mu.Lock()
	d.links[c] = &sync.Mutex{}
	d.mu.Unlock()
	defer func() {
		d.mu.Lock()
		delete(d.links, c)
		d.mu.Unlock()
		c.Close()
	}()
	for {
		var m message
		if err := c.ReadJSON(&m); err != nil {
			return
		}
		d.take(c, m)
	}
}

func (d *double) take(c *websocket.Conn, m message) {
	d.mu.Lock()
	d.frames = append(d.frames, m)
	var batch []message
	switch m.kind() {
	case "samples":
		for _, s := range m["batch"].([]any) {
			one := message{}
			for k, v := range s.(map[string]any) {
				one[k] = v
			}
			one["batched"] = true
			batch = append(batch, one)
		}
	default:
		batch = []message{m}
	}
	d.got = append(d.got, batch...)
	deaf := d.deaf
	d.mu.Unlock()
	switch m.kind() {
	case "join":
		boat, _ := m["boat"].(string) // an instructor joins without one
		d.to(c, message{"type": "joined", "v": 1, "session": "s", "boat": boat, "role": m["role"], "serverTime": now(), "voice": "test",
			"settings":  message{"level": "improver", "limit_kn": 15, "length_m": 4.2, "jib": false, "ignore_wind": false},
			"phrases":   []message{{"key": "look_around", "words": "look around you"}, {"key": "well_done", "words": "well done, carry on"}},
			"plans":     []message{{"key": "first-steps", "words": "Stop, reach to and fro, tack from a reach"}, {"key": "to-windward", "words": "Close-hauled, tacks by the compass, low against close"}},
			"exercises": []message{{"key": "stop_and_start", "words": "Stop and start"}, {"key": "square_tacks", "words": "Square tacks by the compass"}, {"key": "gybe", "words": "Gybe"}}})
	case "sample", "samples":
		if !deaf {
			d.to(c, message{"type": "ack", "seq": batch[len(batch)-1]["seq"], "t": now()})
		}
	}
}

func (d *double) to(c *websocket.Conn, m message) {
	d.mu.Lock()
	lock := d.links[c]
	d.mu.Unlock()
	if lock == nil {
		return
	}
	d.set(func() { d.told = append(d.told, m) })
	lock.Lock()
	defer lock.Unlock()
	c.WriteJSON(m)
}

// tell sends a message to every page.
func (d *double) tell(m message) {
	d.mu.Lock()
	var all []*websocket.Conn
	for c := range d.links {
		all = append(all, c)
	}
	d.mu.Unlock()
	for _, c := range all {
		d.to(c, m)
	}
}

func (d *double) states(stop, done chan struct{}) {
	defer close(done)
	tick := time.NewTicker(500 * time.Millisecond)
	defer tick.Stop()
	for {
		select {
		case <-stop:
			return
		case <-tick.C:
			d.mu.Lock()
			s := d.state
			d.mu.Unlock()
			if s != nil {
				d.tell(s)
			}
		}
	}
}

// cut ends every link, as a network that goes away does.
func (d *double) cut() {
	d.mu.Lock()
	defer d.mu.Unlock()
	for c := range d.links {
		c.Close()
	}
}

func (d *double) set(f func()) {
	d.mu.Lock()
	defer d.mu.Unlock()
	f()
}

// heard returns what was told so far of one type, the oldest first.
func (d *double) heard(kind string) []message {
	d.mu.Lock()
	defer d.mu.Unlock()
	var out []message
	for _, m := range d.got {
		if m.kind() == kind || kind == "sample" && m["batched"] == true {
			out = append(out, m)
		}
	}
	return out
}

// forget lets go of what was told, so that a test counts from here.
func (d *double) forget() { d.set(func() { d.got = nil }) }

// await waits until ok holds of the messages of one type.
func (d *double) await(t *testing.T, kind, what string, ok func([]message) bool) []message {
	t.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if got := d.heard(kind); ok(got) {
			return got
		}
	}
	got := d.heard(kind)
	last := message{}
	if len(got) > 0 {
		last = got[len(got)-1]
	}
	t.Fatalf("waited in vain for %s: %d %s messages came, the last %v", what, len(got), kind, last)
	return nil
}

func now() int64 { return time.Now().UnixMilli() }

// status is a state message of a boat sailing well, changed by over.
func status(boat string, over message) message {
	m := message{"type": "state", "boat": boat, "t": now(), "mode": "close_hauled", "twd": 240, "twd_sd": 5, "twd_lo": 232, "twd_hi": 248,
		"twd_known": true, "twd_other": nil, "tws": 9, "tws_sd": 1, "twa": 38, "target_twa": 45, "target_kn": 3, "share": 0.68, "heading": 202, "sog": 2,
		"health": message{"link": "ok", "deaf": false, "sound": "phone", "compass": true, "acc": 4, "batt": 0.8},
		"turns":  message{"tacks": 7, "gybes": 0, "bestLengths": 2.1}}
	for k, v := range over {
		m[k] = v
	}
	return m
}

// cue is a cue message that may still be spoken for ten seconds.
func cue(id int, over message) message {
	m := message{"type": "cue", "boat": "Wren", "t": now(), "id": id, "key": "bear_away", "words": "bear away five degrees", "level": "improver",
		"urgency": "steer", "expires": now() + 10000, "conf": 0.9, "why_code": "pinching", "why": "12° too close to the wind; she has slowed to two knots",
		"clips": []string{"bear-away-five-degrees"}, "gapMs": 80, "repeat": false}
	for k, v := range over {
		m[k] = v
	}
	return m
}
