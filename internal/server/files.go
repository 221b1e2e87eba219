package server

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"net/http"
	"path"
	"strings"
	"time"
)

// files serves a tree by name: only kinds of file a page needs, each with its
// type stated here, because the machine's own table may lack it.
type files struct {
	root  fs.FS
	pages bool // /x is x.html
	keep  bool // may be kept an hour without asking
}

// The worker that runs the page's own coach is the one script that may compile
// WebAssembly; a worker goes by the policy it was served with, not by its page's.
const (
	pageCoach   = "sailor-coach.js"
	coachPolicy = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; object-src 'none'; base-uri 'none'"
)

func contentType(name string) string {
	switch path.Ext(name) {
	case ".html":
		return "text/html; charset=utf-8"
	case ".css":
		return "text/css; charset=utf-8"
	case ".js", ".mjs":
		return "text/javascript; charset=utf-8"
	case ".json":
		return "application/json"
	case ".webmanifest":
		return "application/manifest+json"
	case ".svg":
		return "image/svg+xml"
	case ".png":
		return "image/png"
	case ".jpg":
		return "image/jpeg"
	case ".webp":
		return "image/webp"
	case ".ico":
		return "image/x-icon"
	case ".woff2":
		return "font/woff2"
	case ".mp3":
		return "audio/mpeg"
	case ".wasm":
		return "application/wasm"
	case ".wav":
		return "audio/wav"
	case ".txt":
		return "text/plain; charset=utf-8"
	}
	return ""
}

// find returns the file meant by a request's path, "" where there is none.
func (f files) find(urlPath string) string {
	name := strings.TrimPrefix(path.Clean("/"+urlPath), "/")
	if f.pages && name == "" {
		name = "index"
	}
	for _, part := range strings.Split(name, "/") {
		if strings.HasPrefix(part, ".") || part == "node_modules" {
			return ""
		}
	}
	for _, try := range []string{name, name + ".html"} {
		if contentType(try) == "" || !fs.ValidPath(try) {
			continue
		}
		for _, kept := range []string{try, try + packed} {
			if st, err := fs.Stat(f.root, kept); err == nil && st.Mode().IsRegular() {
				return kept
			}
		}
	}
	return ""
}

// isAsset says whether the path is a file that is no page of its own.
func (f files) isAsset(urlPath string) bool {
	name := f.find(urlPath)
	return name != "" && path.Ext(name) != ".html"
}

func (f files) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	name := f.find(r.URL.Path)
	if name == "" {
		http.Error(w, "no such page here: the pages are /, /sailor, /instructor and /install", http.StatusNotFound)
		return
	}
	b, err := fs.ReadFile(f.root, name)
	if err != nil {
		http.Error(w, "this page could not be read: see the service's messages", http.StatusInternalServerError)
		return
	}
	sum := sha256.Sum256(b)
	h := w.Header()
	h.Set("Content-Type", contentType(strings.TrimSuffix(name, packed)))
	if name == pageCoach {
		h.Set("Content-Security-Policy", coachPolicy)
	}
	h.Set("ETag", `"`+hex.EncodeToString(sum[:12])+`"`)
	if f.keep {
		h.Set("Cache-Control", "max-age=3600")
	}
	if strings.HasSuffix(name, packed) {
		if b, err = unpackedFor(h, r, b); err != nil {
			http.Error(w, "this file is damaged: build the program anew", http.StatusInternalServerError)
			return
		}
	}
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(b))
}
