// Package web holds the pages as they are served: plain HTML, styles and ES
// modules without a build step, and the one typeface with its licence. Files
// is all there is to call; paths are as in the folder ("sailor.html",
// "sense/compass.js"). It serves nothing itself, and leaves out what only
// checks the pages (tests, types, packages). Of the folder engine/built, which
// make build fills with the coach for the page, it has what was there when it was
// built: without it the pages say that they cannot speak alone.
package web

import (
	"embed"
	"io/fs"
)

//go:embed *.html *.css *.js *.webmanifest before icon offline install link sense sound show shore sailing following font engine
var files embed.FS

// Files returns the pages, read-only and safe for any number of readers.
func Files() fs.FS { return files }
