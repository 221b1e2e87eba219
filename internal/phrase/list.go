package phrase

import (
	"slices"
	"sort"

	"helmcue/internal/boat"
)

// Texts returns every text that must exist as a clip, each once: the book in its
// order, then the prepared phrases, the exercises, and the headings from 000 in steps of 5.
func Texts() []string {
	var out []string
	add := func(t string) {
		if t != "" && !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	for _, e := range Book() {
		for _, l := range boat.Levels() {
			add(e.at(l))
		}
	}
	for _, p := range Instructor() {
		add(p.Words)
	}
	for _, e := range Exercises() {
		for _, l := range boat.Levels() {
			add(e.at(l))
		}
	}
	for h := 0; h < 360; h += 5 {
		add(Heading(float64(h)))
	}
	return out
}

// Missing returns the texts whose clips are not among have, in the book's order.
func Missing(have []string) []string {
	var out []string
	for _, t := range Texts() {
		if !slices.Contains(have, Clip(t)) {
			out = append(out, t)
		}
	}
	return out
}

// Unused returns those of have that no text uses, sorted.
func Unused(have []string) []string {
	used := map[string]bool{}
	for _, t := range Texts() {
		used[Clip(t)] = true
	}
	var out []string
	for _, c := range have {
		if !used[c] {
			out = append(out, c)
		}
	}
	sort.Strings(out)
	return out
}
