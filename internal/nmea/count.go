package nmea

import (
	"fmt"
	"slices"
	"strings"
)

// Reason is why a line was not kept.
type Reason int

// The reasons.
const (
	Empty       Reason = iota // nothing in the line
	NotSentence               // no sentence in it: boot messages, noise, a piece of one
	NoChecksum                // cut off, or from a source that sends checksums elsewhere
	BadChecksum               //
	UnknownType               // whole, of a type that has nothing for us
	BadStatus                 // the instrument says that its reading is not valid
	BadField                  // a field is not what the sentence has there
	NoReadings                // whole and right, with every field empty
	NoTime                    // before the source told any time
	reasons                   // how many
)

func (r Reason) String() string {
	names := []string{"empty", "no sentence", "no checksum", "wrong checksum", "type not used",
		"not valid by its own status", "malformed field", "no readings", "no time known"}
	if r < 0 || int(r) >= len(names) {
		return fmt.Sprintf("(%d)", int(r))
	}
	return names[r]
}

// Reasons returns every reason, in the order a report lists them.
func Reasons() []Reason {
	out := make([]Reason, reasons)
	for i := range out {
		out[i] = Reason(i)
	}
	return out
}

// maxTypes bounds what a hostile source can make a Count hold.
const maxTypes = 100

// Count is what became of the lines: Lines is always Kept and all Skipped together.
type Count struct {
	Lines   int
	Kept    int // gave readings or the time
	Skipped [reasons]int
	Unused  map[string]int // lines by sentence type, for UnknownType; the commonest hundred met first
}

// Total returns how many lines were not kept.
func (c Count) Total() int {
	n := 0
	for _, s := range c.Skipped {
		n += s
	}
	return n
}

// String says it in one line, for a person.
func (c Count) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d lines, %d kept, %d skipped", c.Lines, c.Kept, c.Total())
	sep := ": "
	for _, r := range Reasons() {
		if c.Skipped[r] == 0 {
			continue
		}
		fmt.Fprintf(&b, "%s%d %s", sep, c.Skipped[r], r)
		if r == UnknownType {
			b.WriteString(c.unused())
		}
		sep = ", "
	}
	return b.String()
}

func (c Count) unused() string {
	types := make([]string, 0, len(c.Unused))
	for t := range c.Unused {
		types = append(types, t)
	}
	slices.SortFunc(types, func(a, b string) int {
		if c.Unused[a] != c.Unused[b] {
			return c.Unused[b] - c.Unused[a]
		}
		return strings.Compare(a, b)
	})
	more := ""
	if len(types) > 6 {
		types, more = types[:6], " …"
	}
	return " (" + strings.Join(types, " ") + more + ")"
}
