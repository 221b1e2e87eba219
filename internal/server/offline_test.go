package server

import (
	"bytes"
	"compress/gzip"
	"io"
	"net/http"
	"strings"
	"testing"
	"testing/fstest"
)

func pack(t *testing.T, text string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	z.Write([]byte(text))
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func withCoach(t *testing.T) func(*Config) {
	return func(c *Config) {
		pages := c.Pages.(fstest.MapFS)
		pages["engine/built/engine.wasm.gz"] = &fstest.MapFile{Data: pack(t, "\x00asm")}
		pages["sailor-coach.js"] = &fstest.MapFile{Data: []byte("2")}
		pages["offline/worker.js"] = &fstest.MapFile{Data: []byte("the worker")}
		pages["instructor.js"] = &fstest.MapFile{Data: []byte("3")}
		pages["ashore/lake.js"] = &fstest.MapFile{Data: []byte("4")}
		pages["ashore.html"] = &fstest.MapFile{Data: []byte("<p>ashore")}
	}
}

// What is packed reaches a browser packed and anyone else unpacked, under its own
// name and type (RFC 9110, 8.4 and 12.5.3).
func TestPackedFiles(t *testing.T) {
	r := start(t, withCoach(t))
	for accepts, want := range map[string]string{"gzip, deflate, br": string(pack(t, "\x00asm")), "identity": "\x00asm"} {
		req, _ := http.NewRequest("GET", r.web.URL+"/engine/built/engine.wasm", nil)
		req.Header.Set("Accept-Encoding", accepts)
		resp, err := r.web.Client().Do(req)
		if err != nil {
			t.Fatal(err)
		}
		b, _ := io.ReadAll(resp.Body)
		resp.Body.Close()
		if string(b) != want || resp.Header.Get("Content-Type") != "application/wasm" || (resp.Header.Get("Content-Encoding") == "gzip") != (accepts != "identity") {
			t.Errorf("%s: %d %q as %v", accepts, resp.StatusCode, b, resp.Header)
		}
	}
}

// Only the worker that runs the page's coach may compile WebAssembly.
func TestWhoMayCompile(t *testing.T) {
	r := start(t, withCoach(t))
	for path, may := range map[string]bool{"/sailor-coach.js": true, "/sailor": false, "/sailor.js": false, "/offline.js": false} {
		policy := r.get(path).Header.Get("Content-Security-Policy")
		if strings.Contains(policy, "'wasm-unsafe-eval'") != may || strings.Contains(policy, "'unsafe-") || !strings.Contains(policy, "default-src 'self'") {
			t.Errorf("%s has the policy %q", path, policy)
		}
	}
}

func TestWhatAPhoneKeeps(t *testing.T) {
	text := func(change ...func(*Config)) string {
		r := start(t, append([]func(*Config){withCoach(t)}, change...)...)
		b, _ := io.ReadAll(r.get("/offline.js").Body)
		return string(b)
	}
	was := text()
	if !strings.HasPrefix(was, "self.kept = {") || !strings.HasSuffix(was, ";\nthe worker") {
		t.Fatalf("the worker is %q", was)
	}
	for _, want := range []string{`"/sailor"`, `"/sailor.js"`, `"/engine/built/engine.wasm"`, `"/voices/en-a/let_go.mp3"`, `"/voices/en-a/manifest.json"`} {
		if !strings.Contains(was, want) {
			t.Errorf("%s is not kept: %s", want, was)
		}
	}
	for _, not := range []string{"instructor", "ashore", "embed.go", "hidden", "index", "offline/worker", ".gz"} {
		if strings.Contains(was, not) {
			t.Errorf("%s is kept: %s", not, was)
		}
	}
	if text() != was {
		t.Error("the same files give another version")
	}
	for name, c := range map[string]func(*Config){
		"a page": func(c *Config) { c.Pages.(fstest.MapFS)["sailor.html"] = &fstest.MapFile{Data: []byte("<p>new")} },
		"a clip": func(c *Config) { c.Clips.(fstest.MapFS)["en-a/let_go.mp3"] = &fstest.MapFile{Data: []byte("new")} },
	} {
		if text(c) == was {
			t.Errorf("%s was changed and the phone would not know", name)
		}
	}
}
