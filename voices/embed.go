// Package voices holds the built-in voices: a folder each with its clips, its
// manifest and the licence of the voice they were made with. Load opens one;
// Files is the tree as the pages fetch it. make-clips.sh made them all.
//
// Every clip keeps the bars of loudness, true peak and length that the tests
// state, but for one: ned takes 3.4 s for "gybe next, mind the boom" and its
// heading, and 3.2 was asked for.
package voices

import (
	"embed"
	"io/fs"
)

//go:embed isla ned
var files embed.FS

// Files returns the voices' folders.
func Files() fs.FS { return files }

// Names returns the built-in voices, the default first.
func Names() []string { return []string{"isla", "ned"} }
