package house

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
)

// forbidden is what no file may say, with the reason. The words are put together
// here so that this file does not say them itself.
func forbidden() []struct {
	what *regexp.Regexp
	why  string
} {
	return []struct {
		what *regexp.Regexp
		why  string
	}{
		{regexp.MustCompile(`(?i)trans` + `cript`), "say recording, session or script"},
		{regexp.MustCompile(`(?i)seed ` + `document`), "write of the program alone"},
		{regexp.MustCompile(`(?i)\bissue` + ` #?\d`), "say what the change is for"},
		{regexp.MustCompile(`(^|[\s"'(=:])/(work` + `|home|root|Users)/\w`), "a path of one machine"},
		{regexp.MustCompile(`registry\.npmjs` + `\.org|proxy\.golang` + `\.org|sum\.golang` + `\.org`), "the host of a registry"},
		{regexp.MustCompile(`\b(TO` + `DO|FIX` + `ME|XX` + `X)\b`), "do it, or take it out"},
	}
}

func TestFilesSayNothingForbidden(t *testing.T) {
	report(t, saysForbidden(files(t, top)))
}

func TestForbiddenWordsAreNamed(t *testing.T) {
	bad := strings.Join([]string{"the trans" + "cript", "Seed " + "Document", "as in issue" + " 12", "open(\"/home" + "/ana/x\")",
		"https://registry.npmjs" + ".org/a", "// TO" + "DO: later"}, "\n")
	mustComplain(t, saysForbidden([]file{{"a.md", []byte(bad)}}),
		"a.md:1", "a.md:2", "a.md:3", "a.md:4", "a.md:5", "a.md:6")
	mustComplain(t, saysForbidden([]file{{"a.md", []byte("/root.crt and homework/ are fine, and so is the issue of a licence")}}))
}

func saysForbidden(in []file) []string {
	var out []string
	for _, f := range in {
		n := 0
		for line := range strings.Lines(string(f.text)) {
			n++
			for _, w := range forbidden() {
				if at := w.what.FindString(line); at != "" {
					out = append(out, fmt.Sprintf("%s:%d says %q: %s", f.path, n, strings.TrimSpace(at), w.why))
				}
			}
		}
	}
	return out
}
