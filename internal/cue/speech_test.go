package cue

import (
	"strings"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/phrase"
)

// The estimate of speaking time counts the words that the phrase book has.
func TestWordsAreCounted(t *testing.T) {
	n := 0
	for _, e := range phrase.Book() {
		for _, l := range boat.Levels() {
			c := boat.Cue{Key: e.Key, Variant: e.Variant, Level: l, Size: boat.Size(e.Variant)}
			if e.Heading {
				c.Amount, c.Ref = boat.Some(240), boat.Magnetic
			}
			line, err := phrase.Find(c)
			if err != nil {
				continue // not spoken at this level
			}
			n++
			spoken := len(strings.Fields(line.Words))
			if e.Heading {
				spoken -= 3
			}
			if got := words(c); got < spoken || got > spoken+3 {
				t.Errorf("%s %s at level %v: counted as %d words, the book has %q", e.Key, e.Variant, l, got, line.Words)
			}
		}
	}
	if n < 100 {
		t.Errorf("the phrase book has only %d lines", n)
	}
}
