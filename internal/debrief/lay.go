package debrief

import (
	"cmp"
	"fmt"
	"slices"
)

// box is a place taken by words on the track.
type box struct{ x1, y1, x2, y2 float64 }

func (a box) meets(b box) bool { return a.x1 < b.x2 && b.x1 < a.x2 && a.y1 < b.y2 && b.y1 < a.y2 }

// layWords finds room for the cues' words beside the places where they were
// heard, the most urgent first, at one size of letters. What finds none stays a
// dot.
func layWords(r *Report, t *tracker, size float64) []spot {
	order := make([]int, len(r.Said))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(r.Said[j].Urgency, r.Said[i].Urgency) })
	taken := []box{t.corner, {0, t.h - 16 - size, trackW / 3, t.h}} // the wind, the scale
	var out []spot
	for _, i := range order {
		s := r.Said[i]
		x, y, ok := seat(t, s)
		if !ok || s.Answer == NotHeard || s.Words == "" {
			continue
		}
		b, at, ok := room(t, taken, words{s.Words, x, y, size})
		if !ok {
			continue
		}
		taken = append(taken, b)
		at.Strong = strong(s.Urgency)
		if out = append(out, at); len(out) == mostWords {
			break
		}
	}
	return out
}

type words struct {
	text       string
	x, y, size float64
}

// room tries right, left, above and below.
func room(t *tracker, taken []box, w words) (box, spot, bool) {
	wide, high := 0.52*w.size*float64(len([]rune(w.text))), w.size
	for _, p := range []struct {
		x, y   float64
		anchor string
	}{
		{w.x + 10, w.y + high/3, "start"},
		{w.x - 10, w.y + high/3, "end"},
		{w.x, w.y - 10, "middle"},
		{w.x, w.y + 10 + high, "middle"},
	} {
		left := p.x
		switch p.anchor {
		case "end":
			left -= wide
		case "middle":
			left -= wide / 2
		}
		b := box{left, p.y - high, left + wide, p.y + high/4}
		if b.x1 < 4 || b.x2 > t.w-4 || b.y1 < 2 || b.y2 > t.h-2 {
			continue
		}
		if slices.ContainsFunc(taken, b.meets) || t.crossed(b) {
			continue
		}
		return b, spot{X: fmt.Sprintf("%.0f", p.x), Y: fmt.Sprintf("%.0f", p.y), Words: w.text, Anchor: p.anchor}, true
	}
	return box{}, spot{}, false
}

// crossed says whether the track runs through a box.
func (t *tracker) crossed(b box) bool {
	return slices.ContainsFunc(t.path, func(p [2]float64) bool {
		return p[0] > b.x1 && p[0] < b.x2 && p[1] > b.y1 && p[1] < b.y2
	})
}
