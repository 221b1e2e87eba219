package phrase

import (
	"bufio"
	"math"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"helmcue/internal/boat"
)

// The list holds the phrase book as it was measured: key, variant, level
// and words, one phrase a line.
func TestBookSaysWhatWasMeasured(t *testing.T) {
	f, err := os.Open("testdata/book.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	want := map[string]string{}
	for s := bufio.NewScanner(f); s.Scan(); {
		part := strings.Split(s.Text(), "|")
		if len(part) != 4 {
			t.Fatalf("expected key|variant|level|words, got %q", s.Text())
		}
		want[strings.Join(part[:3], "|")] = part[3]
	}
	if len(want) < 150 {
		t.Fatalf("only %d phrases in the list", len(want))
	}
	got := 0
	for _, e := range Book() {
		for _, l := range boat.Levels() {
			text := e.at(l)
			if text == "" {
				continue
			}
			got++
			if w := want[string(e.Key)+"|"+e.Variant+"|"+l.String()]; w != text {
				t.Errorf("%s %q %s: the book says %q, measured was %q", e.Key, e.Variant, l, text, w)
			}
		}
	}
	if got != len(want) {
		t.Errorf("the book has %d phrases, %d were measured", got, len(want))
	}
}

func TestHeading(t *testing.T) {
	for deg, want := range map[float64]string{0: "zero zero zero", 238: "two four zero", 2: "zero zero zero", 358: "zero zero zero",
		-90: "two seven zero", 357.4: "three five five", 45: "zero four five", 720 + 15: "zero one five"} {
		if got := Heading(deg); got != want {
			t.Errorf("%g: %q, want %q", deg, got, want)
		}
	}
	all := map[string]bool{}
	for d := 0.0; d < 360; d++ {
		all[Heading(d)] = true
	}
	if len(all) != 72 {
		t.Errorf("%d headings, want 72", len(all))
	}
}

func TestFind(t *testing.T) {
	for _, c := range []struct {
		cue   boat.Cue
		words string
		clips string
	}{
		{boat.Cue{Key: boat.SteerTo, Variant: "heading", Amount: boat.Some(238)}, "steer two four zero", "steer two-four-zero"},
		{boat.Cue{Key: boat.PrepareTack, Variant: "heading", Amount: boat.Some(271)}, "prepare to tack two seven zero", "prepare-to-tack two-seven-zero"},
		{boat.Cue{Key: boat.PrepareTack, Level: boat.Beginner}, "prepare to tack, look to windward", "prepare-to-tack-look-to-windward"},
		{boat.Cue{Key: boat.Ease, Level: boat.Beginner}, "ease it out", "ease-it-out"},
		{boat.Cue{Key: boat.Ease, Level: boat.Expert}, "ease it out slightly", "ease-it-out-slightly"},
		{boat.Cue{Key: boat.InIrons, Variant: "stuck", Level: boat.Expert}, "let the sheet go", "let-the-sheet-go"},
		{boat.Cue{Key: boat.Say, Variant: "follow_me"}, "follow me", "follow-me"},
	} {
		l, err := Find(c.cue)
		if err != nil || l.Words != c.words || strings.Join(l.Clips, " ") != c.clips {
			t.Errorf("%s: got %q %v %v, want %q", c.cue.Key, l.Words, l.Clips, err, c.words)
		}
	}
	for _, c := range []boat.Cue{
		{Key: boat.SteerTo, Variant: "heading", Level: boat.Beginner, Amount: boat.Some(10)},
		{Key: boat.SteerTo, Variant: "heading"},
		{Key: boat.HeadUp, Variant: "7"},
		{Key: "sing"},
		{Key: boat.Say, Variant: "abandon ship"},
	} {
		if l, err := Find(c); err == nil {
			t.Errorf("%s %q at %s has no words but got %q", c.Key, c.Variant, c.Level, l.Words)
		}
	}
}

// Words asking for opposite acts share no content word, so that the part the
// wind leaves does not carry the wrong order ("with one tail for all, opposites
// are taken for each other": the voice study). The sizes of ease and trim are
// the measured exception.
func TestOppositesDiffer(t *testing.T) {
	small := map[string]bool{"the": true, "a": true, "it": true, "in": true, "out": true, "to": true, "her": true, "by": true}
	for _, p := range [][2]boat.Key{{boat.HeadUp, boat.BearAway}, {boat.Lifted, boat.Headed}, {boat.SitOut, boat.SitIn}} {
		for _, l := range boat.Levels() {
			for _, a := range Book() {
				for _, b := range Book() {
					if a.Key != p[0] || b.Key != p[1] || a.at(l) == "" || b.at(l) == "" || p[0] == boat.Lifted {
						continue
					}
					for _, w := range strings.Fields(a.at(l)) {
						w = strings.Trim(w, ",")
						if !small[w] && w != "tiller" && w != "five" && w != "ten" && strings.Contains(" "+b.at(l)+" ", " "+w+" ") {
							t.Errorf("%s: %q and %q share %q", l, a.at(l), b.at(l), w)
						}
					}
				}
			}
		}
	}
}

func TestClipNamesAreUniqueAndPlain(t *testing.T) {
	seen := map[string]string{}
	for _, text := range Texts() {
		c := Clip(text)
		if other, twice := seen[c]; twice || c == "" {
			t.Errorf("%q and %q have the same clip %q", text, other, c)
		}
		seen[c] = text
	}
	if m, u := Missing(nil), Unused([]string{"yodel", "ease-it-out"}); len(m) != len(Texts()) || len(u) != 1 || u[0] != "yodel" {
		t.Errorf("missing %d of %d, unused %v", len(m), len(Texts()), u)
	}
}

func TestAnyCueGivesWordsOrAnError(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := boat.Cue{Key: rapid.SampledFrom(boat.Keys()).Draw(t, "key"), Level: rapid.SampledFrom(boat.Levels()).Draw(t, "level"),
			Variant: rapid.SampledFrom([]string{"", "little", "5", "heading", "luff", "gybe", "stuck"}).Draw(t, "variant"),
			Amount:  boat.Some(rapid.Float64Range(-1e6, 1e6).Draw(t, "amount"))}
		l, err := Find(c)
		if (err == nil) == (l.Words == "" || len(l.Clips) == 0) {
			t.Fatalf("got %+v, %v", l, err)
		}
		if s := Seconds(l.Words); math.IsNaN(s) || s <= 0 || s > 5 {
			t.Fatalf("%q takes %g s", l.Words, s)
		}
	})
}
