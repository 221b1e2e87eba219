package web_test

import (
	"encoding/json"
	"io"
	"io/fs"
	"path"
	"regexp"
	"strings"
	"testing"

	"helmcue/web"
)

// names finds what a file of the pages loads: an import, a link or a source of the
// document, a worker and what it fetches, a style's font, an icon of the manifest.
var names = regexp.MustCompile(`(?:from |import |import\(|new Worker\(|importScripts\(|fetch\(|url\(|<link [^>]*href=|<script [^>]*src=|"src": ?)['"]([^'"\s]+)['"]`)

// loaded follows what the sailor's page loads, from file to file.
func loaded(t *testing.T, from string, seen map[string]bool) {
	t.Helper()
	if seen[from] {
		return
	}
	seen[from] = true
	b, err := fs.ReadFile(web.Files(), strings.TrimPrefix(from, "/"))
	if err != nil {
		if strings.HasPrefix(from, "/engine/built/") { // packed, and only where it was built
			return
		}
		t.Fatalf("the sailor's page loads %s, which there is not: %v", from, err)
	}
	if ext := path.Ext(from); ext == ".woff2" || ext == ".png" || ext == ".svg" {
		return
	}
	for _, m := range names.FindAllStringSubmatch(string(b), -1) {
		to := m[1]
		switch {
		case strings.HasPrefix(to, "."):
			to = path.Join(path.Dir(from), to)
		case !strings.HasPrefix(to, "/") && path.Ext(from) == ".css":
			to = path.Join(path.Dir(from), to)
		case !strings.HasPrefix(to, "/") || path.Ext(to) == "":
			continue // not a file: an address made at run time
		}
		loaded(t, to, seen)
	}
}

// A phone keeps what the sailor's page loads, all of it and nothing besides: what a
// learner never opens at sea costs her phone no room and no time.
func TestAPhoneKeepsWhatItsPageLoads(t *testing.T) {
	t.Parallel()
	a := newAboard(t, "")
	resp, err := a.Client().Get(a.URL + "/offline.js")
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	b, err := io.ReadAll(resp.Body)
	if err != nil {
		t.Fatal(err)
	}
	line, _, _ := strings.Cut(strings.TrimPrefix(string(b), "self.kept = "), ";\n")
	var shelf struct{ Pages []string }
	if err := json.Unmarshal([]byte(line), &shelf); err != nil {
		t.Fatalf("%v in %q", err, line)
	}
	needs := map[string]bool{}
	loaded(t, "/sailor.html", needs)
	delete(needs, "/sailor.html")
	needs["/sailor"] = true
	needs["/font/OFL.txt"] = true // the licence goes with the typeface
	for _, p := range shelf.Pages {
		if !needs[p] {
			t.Errorf("a phone keeps %s, which its page never loads", p)
		}
		delete(needs, p)
	}
	for p := range needs {
		if !strings.HasPrefix(p, "/engine/built/") { // withCoachKept adds these
			t.Errorf("the page loads %s, and the phone does not keep it", p)
		}
	}
}
