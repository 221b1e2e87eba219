package debrief

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"helmcue/internal/boat"
)

// Practised is one exercise of the session and what came of it.
type Practised struct {
	Name   string
	Title  string
	Start  boat.Time // of its first output
	Tries  []Attempt
	Good   int
	Opened bool   // enough tries were good
	Left   string // why it was left out; empty where it was not
	Last   string // where it stood at the end, for people
}

// Attempt is one finished try.
type Attempt struct {
	T     boat.Time
	Good  bool
	Text  string
	Score map[string]float64
}

// exercise takes where an exercise stands. The phases are those of package exercise.
func (b *Builder) exercise(x boat.Exercise) {
	x.Name, x.Title, x.Text = plain(x.Name), plain(x.Title), plain(x.Text)
	if x.Title == "" {
		x.Title = x.Name
	}
	n := len(b.practised)
	if n == 0 || b.practised[n-1].Name != x.Name || b.practised[n-1].Opened && x.Phase == "waiting" {
		b.practised = append(b.practised, Practised{Name: x.Name, Title: x.Title, Start: x.T})
		n++
	}
	p := &b.practised[n-1]
	switch x.Phase {
	case "result":
		a := Attempt{T: x.T, Good: x.Score["good"] == 1, Text: x.Text, Score: maps.Clone(x.Score)}
		p.Tries = append(p.Tries, a)
		if a.Good {
			p.Good++
		}
	case "opened":
		p.Opened = true
	case "skipped":
		p.Left = x.Text
	case "over":
		b.planDone = true
	default:
		p.Last = x.Text
	}
}

// next says which exercise comes next: the first that did not open, by how its tries
// went; or, with the plan done, that a harder one may come.
func (b *Builder) next() string {
	i := slices.IndexFunc(b.practised, func(p Practised) bool { return !p.Opened && len(p.Tries) > 0 })
	switch {
	case len(b.practised) == 0:
		return ""
	case i >= 0:
		p := b.practised[i]
		return fmt.Sprintf("Next exercise: %s again, %s so far.", small(p.Title), of(p.Good, len(p.Tries), "try", "tries")+" good")
	case b.planDone:
		return "Next exercise: the plan is done; take the next one, or this one with fewer words."
	}
	last := b.practised[len(b.practised)-1]
	return fmt.Sprintf("Next exercise: %s.", small(last.Title))
}

func (p Practised) outcome() string {
	switch {
	case p.Left != "" && len(p.Tries) == 0:
		return p.Left
	case len(p.Tries) == 0:
		return "not tried: " + p.Last
	}
	s := of(p.Good, len(p.Tries), "try", "tries") + " good"
	switch {
	case p.Opened:
		return s + ", done"
	case p.Left != "":
		return s + ", then " + small(p.Left)
	}
	return s
}

// small writes a title within a sentence.
func small(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// practisedLines are the exercises as the page lists them.
func practisedLines(r Report) []practisedLine {
	var out []practisedLine
	for _, p := range r.Exercises {
		l := practisedLine{Time: clock(p.Start, r.Start), Title: p.Title, Outcome: p.outcome()}
		for _, a := range p.Tries {
			mark := "not yet"
			if a.Good {
				mark = "good"
			}
			l.Tries = append(l.Tries, fact{clock(a.T, r.Start) + " " + mark, a.Text})
		}
		out = append(out, l)
	}
	return out
}

type practisedLine struct {
	Time, Title, Outcome string
	Tries                []fact
}
