package phrase

import (
	"fmt"
	"math"
	"strings"

	"helmcue/internal/boat"
)

// GapMS is the silence between a stem and its heading.
const GapMS = 80

// Line is how a cue is spoken.
type Line struct {
	Words string   // as a person would write it: "steer two four zero"
	Clips []string // in order
	GapMS int      // silence between clips
	Twice bool     // say it again after a quarter second where nothing else waits
}

// Find returns how the cue is spoken at its level. The error names the cue that
// the book has no words for.
func Find(c boat.Cue) (Line, error) {
	if c.Key == boat.Say {
		return find(c.Variant)
	}
	row, ok := lookup(c.Key, variant(c), c.Level)
	if !ok {
		return Line{}, fmt.Errorf("expected a cue that the phrase book has words for, got %s %q at level %s", c.Key, c.Variant, c.Level)
	}
	text := row.at(c.Level)
	line := Line{Words: text, Clips: []string{Clip(text)}, Twice: row.Twice}
	if !row.Heading {
		return line, nil
	}
	if !c.Amount.OK || math.IsNaN(c.Amount.Val) || math.IsInf(c.Amount.Val, 0) {
		return Line{}, fmt.Errorf("expected %s %q to carry a heading, it carries %v", c.Key, c.Variant, c.Amount)
	}
	digits := Heading(c.Amount.Val)
	line.Words += " " + digits
	line.Clips = append(line.Clips, Clip(digits))
	line.GapMS = GapMS
	return line, nil
}

func find(key string) (Line, error) {
	for _, p := range Instructor() {
		if p.Key == key {
			return Line{Words: p.Words, Clips: []string{Clip(p.Words)}}, nil
		}
	}
	return Line{}, fmt.Errorf("expected a prepared phrase, there is none called %q", key)
}

// variant fills in what a cue leaves open: a sheet cue without a size is a small
// one for all but beginners, who have words of their own for it.
func variant(c boat.Cue) string {
	if (c.Key == boat.Ease || c.Key == boat.Trim) && c.Variant == "" && c.Level != boat.Beginner {
		return string(boat.Little)
	}
	return c.Variant
}

func lookup(k boat.Key, variant string, l boat.Level) (Entry, bool) {
	rows := Book()
	if k == boat.Intro || k == boat.Result {
		rows = Exercises()
	}
	for _, e := range rows {
		if e.Key == k && e.Variant == variant && e.at(l) != "" {
			return e, true
		}
	}
	return Entry{}, false
}

// Heading returns degrees, any finite number, as the three digits spoken for
// it, to the nearest 5: 238 is "two four zero".
func Heading(deg float64) string {
	n := int(math.Mod(math.Round(deg/5)*5, 360))
	if n < 0 {
		n += 360
	}
	digits := strings.Fields("zero one two three four five six seven eight nine")
	return digits[n/100] + " " + digits[n/10%10] + " " + digits[n%10]
}

// Clip returns the name of the clip that speaks a text: its letters and digits
// in small letters, joined by dashes.
func Clip(text string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	}), "-")
}
