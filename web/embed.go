// Package web holds the pages as they are served: plain HTML, styles and ES
// modules without a build step, and the one typeface with its licence. Files
// is all there is to call; paths are as in the folder ("sailor.html",
// "sense/compass.js"). It serves nothing itself, and leaves out what only
// checks the pages (tests, types, packages).
package web

import (
	"embed"
	"io/fs"
)

//go:embed *.html *.css *.js install link sense sound show sailing following font
var files embed.FS

// Files returns the pages, read-only and safe for any number of readers.
func Files() fs.FS { return files }
