package debrief

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// mostTicks is a bound on a loop, far above what a stretch can hold.
const mostTicks = 2000

// ticks writes the minutes under the lanes.
func (b *ribbon) ticks() {
	every := 60.0
	for every*b.perS < 90 {
		every *= 5
	}
	for _, s := range b.stretches {
		first := math.Ceil(s.rows[0].t.Seconds(b.r.Start)/every) * every
		for i := range mostTicks {
			t := b.r.Start.After(first + float64(i)*every)
			if t > s.rows[len(s.rows)-1].t {
				break
			}
			x, ok := b.x(t)
			if !ok {
				break
			}
			p, at := b.on(x)
			p.Ticks = append(p.Ticks, tick{fmt.Sprintf("%.0f", at), clock(t, b.r.Start)})
		}
	}
}

// turns draws a bracket over each tack and gybe with its loss.
func (b *ribbon) turns() {
	free := math.Inf(-1)
	for _, m := range b.r.Turns {
		end := m.Eye.After(settleS)
		if m.Settled != nil {
			end = *m.Settled
		}
		from, ok := b.x(m.Start)
		to, ok2 := b.x(end)
		if !ok || !ok2 || to < from {
			continue
		}
		to = math.Max(to, from+8)
		p, x := b.on(from)
		words := m.Kind
		if m.LostLengths.OK {
			words = lengths(m.LostLengths.Val)
		}
		if from < free { // crowded: the bracket alone
			words = ""
		} else {
			free = from + letterW*float64(len(words)) + 6
		}
		p.Brackets = append(p.Brackets, bracket{
			Path: fmt.Sprintf("M%.0f 30v-8h%.0fv8", x, to-from), Words: words, X: fmt.Sprintf("%.0f", x),
		})
	}
}

// words hangs the cues under the lanes. The most urgent choose their place
// first; where there is none left a cue is a mark alone.
func (b *ribbon) words() {
	var k hooks
	order := make([]int, len(b.r.Said))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		return cmp.Compare(b.r.Said[j].Urgency, b.r.Said[i].Urgency)
	})
	for _, i := range order {
		c := b.r.Said[i]
		x, ok := b.x(c.T)
		if !ok {
			continue
		}
		p, at := b.on(x)
		h := hung{
			ID: i + 1, X: fmt.Sprintf("%.1f", at), Strong: strong(c.Urgency),
			Title: clock(c.T, b.r.Start) + " " + c.Words,
		}
		w := letterW*float64(len([]rune(c.Words))) + 10
		from := x
		if x > w && (x+w > b.width || at+w > pieceW && at > w) { // on paper a piece ends where the page does
			from, h.Anchor = x-w, "end"
		}
		if level, ok := k.take(c.Words, x, from, from+w); ok {
			h.Words = c.Words
			h.WordX = fmt.Sprintf("%.1f", at)
			h.WordY = fmt.Sprintf("%.0f", wordsTop+float64(level)*wordH+10)
		}
		p.Marks = append(p.Marks, h)
	}
}

// hooks are the rows in which words hang, and the lines they hang by.
type hooks struct {
	words [wordRows][]span
	lines [wordRows][]float64 // by the row they reach
}

type span struct{ from, to float64 }

// take finds the first row with room for words from one x to another that hang
// by a line at x, so that no line runs through words.
func (k *hooks) take(words string, x, from, to float64) (level int, ok bool) {
	if words == "" {
		return 0, false
	}
	for level := range k.words {
		if slices.ContainsFunc(k.words[level], func(o span) bool { return from < o.to && o.from < to }) {
			continue
		}
		clear := true
		for deeper := level + 1; deeper < wordRows; deeper++ {
			clear = clear && !slices.ContainsFunc(k.lines[deeper], func(l float64) bool { return l > from+2 && l < to-6 })
		}
		for upper := range level {
			clear = clear && !slices.ContainsFunc(k.words[upper], func(o span) bool { return x > o.from+2 && x < o.to-6 })
		}
		if clear {
			k.words[level] = append(k.words[level], span{from, to})
			k.lines[level] = append(k.lines[level], x)
			return level, true
		}
	}
	return 0, false
}
