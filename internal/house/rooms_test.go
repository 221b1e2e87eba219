package house

// A room is one package folder. Its imports lists the rooms it may import; app
// and cmd wire everything and may import all.
type room struct {
	name    string
	core    bool // pure: no clock, goroutine, file, socket, package variable
	imports []string
}

// rooms is the map of the house: the arrows geo <- boat <- stages <- engine <-
// app <- cmd. A new room must be entered here.
func rooms() []room {
	stage := []string{"geo", "boat"}
	format := []string{"geo", "boat"}
	return []room{
		{"internal/geo", true, nil},
		{"internal/boat", true, []string{"geo"}},
		{"internal/sense", true, append(stage, "compass")},
		{"internal/mode", true, stage},
		{"internal/polar", true, stage},
		{"internal/wind", true, stage},
		{"internal/manoeuvre", true, stage},
		{"internal/cue", true, stage},
		{"internal/exercise", true, stage},
		{"internal/compass", true, stage},
		{"internal/shift", true, stage},
		{"internal/water", true, stage},
		{"internal/ashore", true, append(stage, "water")},
		{"internal/phrase", true, stage},
		{"internal/engine", true, []string{"geo", "boat", "sense", "mode", "polar", "wind", "manoeuvre", "cue", "exercise", "phrase", "compass", "shift", "water"}},
		{"internal/page", true, []string{"boat", "engine", "phrase", "phonemsg"}},
		{"internal/force", true, nil},
		{"internal/sim", true, []string{"geo", "boat", "force"}},
		{"internal/debrief", true, []string{"geo", "boat"}},

		{"internal/clock", true, format},
		{"internal/loudness", true, nil},
		{"internal/nmea", false, format},
		{"internal/recording", false, format},
		{"internal/phonemsg", false, append(format, "clock")},
		{"internal/track", false, format},
		{"internal/lake", false, append(format, "water")},
		{"internal/plan", false, append(format, "exercise")},
		{"internal/logfile", false, append(format, "nmea", "recording", "phonemsg", "track")},

		{"internal/config", false, []string{"boat", "polar"}},
		{"internal/localname", false, nil},
		{"internal/feed", false, append(format, "nmea")},
		{"internal/pairing", false, []string{"phonemsg"}},                            // for the roles
		{"internal/server", false, []string{"boat", "phonemsg", "clock", "pairing"}}, // pairing: the one sideways import
		{"internal/speaker", false, []string{"boat", "loudness"}},
		{"web", false, nil},
		{"voices", false, []string{"loudness", "phrase"}},
	}
}

// wirers may import every room: app for a live session, replay for a log, trial and lesson for an evaluation, cmd for all.
func wirers() []string {
	return []string{"internal/app", "internal/replay", "internal/trial", "internal/lesson", "cmd/"}
}

// pureStandard is the part of the standard library that the core may use.
func pureStandard() []string {
	return []string{"bufio", "bytes", "cmp", "container/heap", "encoding/base64", "encoding/csv", "encoding/json", "errors", "fmt",
		"html", "html/template", "io", "iter", "maps", "math", "math/bits", "math/cmplx", "math/rand/v2",
		"slices", "sort", "strconv", "strings", "time", "unicode", "unicode/utf8"}
}

// pureModules are the numeric libraries that the core may use.
func pureModules() []string { return []string{"gonum.org/v1/gonum/", "github.com/tidwall/geodesic"} }
