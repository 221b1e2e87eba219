// Package voices holds the built-in voices: a folder each with its clips, its
// manifest and the licence of the voice they were made with. Load opens one;
// Files is the tree as the pages fetch it. make-clips.sh made them all.
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
