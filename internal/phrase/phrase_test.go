package phrase

import (
	"bufio"
	"math"
	"os"
	"slices"
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
		{Key: boat.SteerTo, Variant: "heading", Amount: boat.Some(math.NaN())},
		{Key: boat.SteerTo, Variant: "heading", Amount: boat.Some(math.Inf(-1))},
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
// wind leaves does not carry the wrong order (the measured rule: with one tail
// for all, opposites are taken for each other). The measured exceptions: the
// sizes of ease and trim, the tiller, and the shifts' "you are ... five", which
// tell and do not order.
func TestOppositesDiffer(t *testing.T) {
	common := strings.Fields("the a it in out to her by tiller just hair slightly some more you are five ten fifteen now")
	pairs := [][2]boat.Key{{boat.HeadUp, boat.BearAway}, {boat.Lifted, boat.Headed}, {boat.SitOut, boat.SitIn}, {boat.Ease, boat.Trim},
		{boat.EaseOut, boat.SheetIn}, {boat.LetGo, boat.SheetIn}, {boat.Headed, boat.HeadUp}, {boat.BuildSpeed, boat.PrepareTack}}
	met := 0
	for _, p := range pairs {
		for _, l := range boat.Levels() {
			for _, a := range said(p[0], l) {
				for _, b := range said(p[1], l) {
					met++
					for _, w := range a {
						if slices.Contains(b, w) && !slices.Contains(common, w) {
							t.Errorf("%s: %q and %q share %q", l, a, b, w)
						}
					}
				}
			}
		}
	}
	if met < 60 {
		t.Errorf("only %d pairs were compared", met)
	}
}

// "By five" stands only in head up and "degrees" only in bear away: what is
// left of each in wind is enough to tell them apart.
func TestTailsStandOnce(t *testing.T) {
	for tail, key := range map[string]boat.Key{"by": boat.HeadUp, "degrees": boat.BearAway, "touch": boat.HeadUp, "you": ""} {
		for _, e := range Book() {
			for _, l := range []boat.Level{boat.Improver, boat.Expert} {
				shift := e.Key == boat.Lifted || e.Key == boat.Headed
				if key == "" && (shift || e.Key == boat.OverLimit) || e.Key == key {
					continue
				}
				if slices.Contains(split(e.at(l)), tail) {
					t.Errorf("%q has %q in it", e.at(l), tail)
				}
			}
		}
	}
}

// Danger begins with "look out" or names the one thing to do; no phrase is a
// single word, for single words are lost in wind.
func TestPhrasesKeepTheRules(t *testing.T) {
	for _, e := range Book() {
		for _, l := range boat.Levels() {
			text := e.at(l)
			if text == "" || e.Heading {
				continue
			}
			if len(split(text)) < 2 {
				t.Errorf("%q is a single word", text)
			}
			if e.Key == boat.Shore || e.Key == boat.OtherBoat {
				if !strings.HasPrefix(text, "look out, ") {
					t.Errorf("%q warns of danger without look out", text)
				}
			}
		}
	}
	for _, p := range Instructor() {
		if n := len(split(p.Words)); n < 2 || n > 5 {
			t.Errorf("the prepared phrase %q has %d words, want two to five", p.Words, n)
		}
	}
}

func said(k boat.Key, l boat.Level) (out [][]string) {
	for _, e := range Book() {
		if e.Key == k && e.at(l) != "" {
			out = append(out, split(e.at(l)))
		}
	}
	return out
}

func split(text string) []string {
	return strings.Fields(strings.ReplaceAll(text, ",", ""))
}

// Every key has words at every level but for those that the cue book keeps from
// beginners, and every row is found by its own key and variant.
func TestEveryKeyIsSpoken(t *testing.T) {
	own := []boat.Key{boat.Intro, boat.Result, boat.Say} // texts of exercises and instructors
	notBeginner := []boat.Key{boat.SteerTo, boat.Lifted, boat.Headed}
	for _, k := range boat.Keys() {
		for _, l := range boat.Levels() {
			want := !slices.Contains(own, k) && (l != boat.Beginner || !slices.Contains(notBeginner, k))
			if got := len(said(k, l)) > 0; got != want {
				t.Errorf("%s at %s: spoken is %v, want %v", k, l, got, want)
			}
		}
	}
	for _, e := range Book() {
		for _, l := range boat.Levels() {
			line, err := Find(boat.Cue{Key: e.Key, Variant: e.Variant, Level: l, Amount: boat.Some(240)})
			want := e.at(l)
			if want != "" && e.Heading {
				want += " two four zero"
			}
			if sizeless := (e.Key == boat.Ease || e.Key == boat.Trim) && e.Variant == ""; sizeless && l != boat.Beginner {
				continue // checked in TestFind
			}
			if (err == nil) != (want != "") || line.Words != want || err == nil && line.Twice != e.Twice {
				t.Errorf("%s %q at %s: got %+v, %v, want %q", e.Key, e.Variant, l, line, err, want)
			}
		}
	}
}

func TestPreparedPhrasesAreFound(t *testing.T) {
	keys := map[string]bool{}
	for _, p := range Instructor() {
		line, err := Find(boat.Cue{Key: boat.Say, Variant: p.Key})
		if err != nil || line.Words != p.Words || keys[p.Key] {
			t.Errorf("%s: got %q, %v, want %q, once", p.Key, line.Words, err, p.Words)
		}
		keys[p.Key] = true
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
	})
}
