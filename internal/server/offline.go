package server

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"io/fs"
	"net/http"
	"path"
	"slices"
	"strings"
)

// offlineSource is the text of the worker that keeps the pages on the phone; it is
// served as /offline.js, whose place lets it answer for the sailor's page.
const offlineSource = "offline/worker.js"

// shelf is what a phone keeps to start without the service.
type shelf struct {
	Version string   `json:"version"` // changes with any byte of it
	Pages   []string `json:"pages"`
	Clips   []string `json:"clips"`
}

// serveOffline answers with the worker and, before it, what it is to keep. A browser
// asks for it anew at every visit and starts over where a byte has changed.
func (s *Server) serveOffline(w http.ResponseWriter, r *http.Request) {
	text, err := fs.ReadFile(s.cfg.Pages, offlineSource)
	if err != nil {
		http.Error(w, "this build keeps nothing on the phone", http.StatusNotFound)
		return
	}
	list, err := json.Marshal(s.kept())
	if err != nil {
		http.Error(w, "what is to be kept could not be written", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/javascript; charset=utf-8")
	w.Write([]byte("self.kept = " + string(list) + ";\n")) //nolint:errcheck // the browser asks again
	w.Write(text)                                          //nolint:errcheck
}

// keep lists what a sailor's page needs.
func keep(pages, clips fs.FS, voice string) shelf {
	sum := sha256.New()
	k := shelf{Pages: []string{"/sailor"}, Clips: []string{}}
	walk(pages, ".", func(name string, b []byte) {
		ext := path.Ext(strings.TrimSuffix(name, packed))
		if contentType("x"+ext) == "" || !sailors(name) {
			return
		}
		sum.Write([]byte(name)) //nolint:errcheck // a hash takes everything
		sum.Write(b)            //nolint:errcheck
		if ext != ".html" {
			k.Pages = append(k.Pages, "/"+strings.TrimSuffix(name, packed))
		}
	})
	if clips != nil && voice != "" {
		walk(clips, voice, func(name string, b []byte) {
			if contentType(name) == "" {
				return
			}
			sum.Write([]byte(name)) //nolint:errcheck
			sum.Write(b)            //nolint:errcheck
			k.Clips = append(k.Clips, "/voices/"+name)
		})
	}
	slices.Sort(k.Pages)
	k.Version = hex.EncodeToString(sum.Sum(nil)[:8])
	return k
}

// sailors says whether a file is of the sailor's page. Named is what she needs, not
// what others have: a page that is added is then no burden on a phone. A test in
// package web follows what the page loads and compares.
func sailors(name string) bool {
	top, _, folder := strings.Cut(name, "/")
	if !folder {
		return strings.HasPrefix(name, "sailor") || name == "look.css"
	}
	return slices.Contains([]string{"engine", "font", "icon", "link", "sailing", "sense", "show", "sound"}, top)
}

// walk reads the files under dir in the order of their names; what cannot be read is
// left out, and would be missed when it is asked for.
func walk(tree fs.FS, dir string, take func(name string, b []byte)) {
	fs.WalkDir(tree, dir, func(name string, d fs.DirEntry, err error) error { //nolint:errcheck // never one
		if err != nil || d.IsDir() || strings.HasPrefix(d.Name(), ".") {
			return nil
		}
		if b, err := fs.ReadFile(tree, name); err == nil {
			take(name, b)
		}
		return nil
	})
}
