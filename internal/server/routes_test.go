package server

import (
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"go.uber.org/zap"
	"go.uber.org/zap/zaptest/observer"
)

func (r *rig) fetch(req *http.Request) (status int, body string) {
	r.t.Helper()
	resp, err := r.web.Client().Do(req)
	if err != nil {
		r.t.Fatal(err)
	}
	defer resp.Body.Close()
	b, _ := io.ReadAll(resp.Body)
	return resp.StatusCode, string(b)
}

func (r *rig) get(path string) *http.Response {
	r.t.Helper()
	resp, err := r.web.Client().Get(r.web.URL + path)
	if err != nil {
		r.t.Fatal(err)
	}
	r.t.Cleanup(func() { resp.Body.Close() })
	return resp
}

func TestPages(t *testing.T) {
	r := start(t)
	cases := []struct {
		path, kind, body string
		status           int
	}{
		{"/", "text/html; charset=utf-8", "<p>landing", 200},
		{"/sailor", "text/html; charset=utf-8", "<p>sailor", 200},
		{"/sailor.html", "text/html; charset=utf-8", "<p>sailor", 200},
		{"/install/iphone", "text/html; charset=utf-8", "<p>iphone", 200},
		{"/sailor.js", "text/javascript; charset=utf-8", "1", 200},
		{"/voices/en-a/let_go.mp3", "audio/mpeg", "ID3", 200},
		{"/voices/en-a/manifest.json", "application/json", "{}", 200},
		{"/root.crt", "application/x-x509-ca-cert", "der", 200},
		{"/root.pem", "application/x-pem-file", "pem", 200},
		{"/voices/en-a/none.mp3", "", "", 404},
		{"/voices/sailor.html", "", "", 404},
		{"/embed.go", "", "", 404},
		{"/.hidden.html", "", "", 404},
		{"/install/", "text/html; charset=utf-8", "<p>install", 200},
		{"/..%2f..%2fetc/passwd", "", "", 404},
		{"/nowhere", "", "", 404},
	}
	for _, c := range cases {
		resp := r.get(c.path)
		b, _ := io.ReadAll(resp.Body)
		if resp.StatusCode != c.status || c.status == 200 && (string(b) != c.body || resp.Header.Get("Content-Type") != c.kind) {
			t.Errorf("%s: %d %s %q", c.path, resp.StatusCode, resp.Header.Get("Content-Type"), b)
		}
	}
}

func TestHeaders(t *testing.T) {
	r := start(t)
	h := r.get("/sailor").Header
	csp := h.Get("Content-Security-Policy")
	if !strings.HasPrefix(csp, "default-src 'self'; connect-src 'self' wss://127.0.0.1:") || strings.Contains(csp, "unsafe") {
		t.Errorf("policy is %q", csp)
	}
	for name, want := range map[string]string{"X-Content-Type-Options": "nosniff", "Cache-Control": "no-cache", "Referrer-Policy": "no-referrer"} {
		if h.Get(name) != want {
			t.Errorf("%s is %q, want %q", name, h.Get(name), want)
		}
	}
	req, _ := http.NewRequest("GET", r.web.URL+"/sailor", nil)
	req.Header.Set("If-None-Match", h.Get("ETag"))
	if status, _ := r.fetch(req); status != http.StatusNotModified {
		t.Errorf("an unchanged page was sent again: %d", status)
	}
}

func TestPair(t *testing.T) {
	core, logs := observer.New(zap.DebugLevel)
	r := start(t, func(c *Config) { c.Log = zap.New(core) })
	cases := []struct {
		body, code string
		status     int
	}{
		{`{"code":"GOOD22","boat":"Otter"}`, "", 200},
		{`{"code":"WRONG2"}`, "bad_code", 403},
		{`{"code":"SLOW22"}`, "too_fast", 429},
		{`{"code":"DISK22"}`, "not_recorded", 500},
		{`{"code":7}`, "bad_json", 400},
		{`code=GOOD22`, "bad_json", 400},
		{``, "bad_json", 400},
		{`{"code":"` + strings.Repeat("A", 1<<20) + `"}`, "too_big", 413},
	}
	for _, c := range cases {
		req, _ := http.NewRequest("POST", r.web.URL+"/pair", strings.NewReader(c.body))
		status, body := r.fetch(req)
		var m map[string]string
		if err := json.Unmarshal([]byte(body), &m); err != nil || status != c.status || m["code"] != c.code {
			t.Errorf("%.40s: %d %s, want %d %s", c.body, status, body, c.status, c.code)
		}
		if c.status == 200 && (m["token"] != "otter" || m["role"] != "sailor" || m["boat"] != "Otter") {
			t.Errorf("paired as %s", body)
		}
	}
	if resp := r.get("/pair"); resp.StatusCode == 200 {
		t.Error("a code may be sent in an address")
	}
	r.join("otter")
	for _, e := range logs.All() {
		for _, f := range e.Context {
			if f.String == "otter" || f.String == "GOOD22" {
				t.Errorf("a secret is in the log: %s %s", e.Message, f.Key)
			}
		}
	}
	if logs.Len() == 0 {
		t.Error("nothing was logged: the check above cannot fail")
	}
}

func TestStatus(t *testing.T) {
	r := start(t)
	r.join("otter")
	var m map[string]any
	if err := json.NewDecoder(r.get("/status.json").Body).Decode(&m); err != nil {
		t.Fatal(err)
	}
	if m["service"] != "helmcue" || m["links"] != 1.0 || m["boats"] != 1.0 {
		t.Errorf("status is %v", m)
	}
}

func TestPlain(t *testing.T) {
	r := start(t)
	plain := httptest.NewServer(r.srv.Plain())
	defer plain.Close()
	client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	get := func(path, host string) *http.Response {
		t.Helper()
		req, _ := http.NewRequest("GET", plain.URL+path, nil)
		if host != "" {
			req.Host = host
		}
		resp, err := client.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		resp.Body.Close()
		return resp
	}
	for _, path := range []string{"/install", "/install/iphone", "/root.crt", "/root.pem", "/sailor.js"} {
		if resp := get(path, ""); resp.StatusCode != 200 {
			t.Errorf("%s: %d", path, resp.StatusCode)
		}
	}
	for path, want := range map[string]string{"/": "https://127.0.0.1:8443/", "/sailor": "https://127.0.0.1:8443/sailor",
		"/sailor.html": "https://127.0.0.1:8443/sailor.html", "/link": "https://127.0.0.1:8443/link"} {
		resp := get(path, "")
		if loc := resp.Header.Get("Location"); resp.StatusCode != 307 || !strings.HasPrefix(loc, want) {
			t.Errorf("%s: %d to %s, want %s", path, resp.StatusCode, loc, want)
		}
	}
	if resp := get("/sailor", "[::1]:80"); resp.Header.Get("Location") != "https://[::1]:8443/sailor" {
		t.Errorf("IPv6 goes to %s", resp.Header.Get("Location"))
	}
	if resp := get("/", "elsewhere.example"); resp.StatusCode != 421 {
		t.Errorf("another host: %d", resp.StatusCode)
	}
}

func TestOwnCertificateHasNoRoot(t *testing.T) {
	r := start(t, func(c *Config) { c.RootDER, c.RootPEM = nil, nil })
	if resp := r.get("/root.crt"); resp.StatusCode != 404 {
		t.Errorf("a root that is not there: %d", resp.StatusCode)
	}
}
