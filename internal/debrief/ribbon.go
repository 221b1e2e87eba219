package debrief

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// The ribbon's measures, in its own units (a sixteenth of the page's letter size).
const (
	pieceW    = 600.0 // one piece of the ribbon: pieces stand side by side, or below each other on paper
	laneH     = 62.0
	laneTop   = 34.0
	laneGap   = 10.0
	wordsTop  = laneTop + 4*(laneH+laneGap) + 34
	wordRows  = 3
	wordH     = 19.0
	ribbonH   = wordsTop + wordRows*wordH
	letterW   = 7.4  // of the words, on average, at size 14
	mostPiece = 60   // a longer session is drawn more narrowly
	breakS    = 60.0 // a longer silence ends a stretch: it is left out of the ribbon
)

// piece is one part of the ribbon, ready to be drawn.
type piece struct {
	Label    string
	Lines    []line
	Bands    []string // points of polygons: how sure the wind is
	Marks    []hung
	Brackets []bracket
	Ticks    []tick
	Blanks   []tick // where the wind was not known, with the word once
}

type line struct {
	Points string
	Class  string
}

// hung is a cue on the ribbon; Words is empty where there was no room.
type hung struct {
	ID     int
	X      string
	Words  string
	Title  string
	WordX  string
	WordY  string
	Anchor string
	Strong bool
}

type bracket struct {
	Path, Words, X string
}

type tick struct {
	X, Words string
}

// stretch is a run of rows without a silence, and where it stands on the ribbon.
type stretch struct {
	rows []row
	x    float64
}

// ribbon lays a report out along time.
type ribbon struct {
	r         *Report
	perS      float64 // units a second
	stretches []stretch
	width     float64
	pieces    []piece
}

func newRibbon(r *Report) *ribbon {
	b := &ribbon{r: r, perS: 2}
	first := 0
	var s []stretch
	seconds := 0.0
	for i := range r.rows {
		last := i+1 == len(r.rows)
		if last || r.rows[i+1].t.Seconds(r.rows[i].t) > breakS {
			part := r.rows[first : i+1]
			s = append(s, stretch{rows: part})
			seconds += part[len(part)-1].t.Seconds(part[0].t) + 1
			first = i + 1
		}
	}
	const gap = 20.0
	if seconds > 30*60 {
		b.perS = 1
	}
	if seconds > 90*60 {
		b.perS = 0.5
	}
	b.perS = math.Min(b.perS, (mostPiece*pieceW-float64(len(s))*gap)/math.Max(seconds, 1))
	b.perS = math.Max(b.perS, 0.01)
	for i := range s {
		s[i].x = b.width
		b.width += float64(b.perS*(s[i].rows[len(s[i].rows)-1].t.Seconds(s[i].rows[0].t)+1)) + gap
	}
	b.stretches = s
	b.pieces = make([]piece, min(max(int(b.width/pieceW)+1, 1), 4*mostPiece))
	return b
}

// x places a time. ok is false where the ribbon does not show it.
func (b *ribbon) x(t boat.Time) (float64, bool) {
	for _, s := range b.stretches {
		from, to := s.rows[0].t, s.rows[len(s.rows)-1].t
		if t >= from-1000 && t <= to+2000 {
			return s.x + float64(b.perS*math.Max(0, t.Seconds(from))), true
		}
	}
	return 0, false
}

// on returns the piece that x lies on and x within it.
func (b *ribbon) on(x float64) (*piece, float64) {
	i := min(max(int(x/pieceW), 0), len(b.pieces)-1)
	return &b.pieces[i], x - float64(i)*pieceW
}

// draw returns the pieces, none where there is nothing to show.
func (b *ribbon) draw() []piece {
	if len(b.r.rows) < 2 {
		return nil
	}
	b.lanes()
	b.ticks()
	b.turns()
	b.words()
	for i := range b.pieces {
		b.pieces[i].Label = fmt.Sprintf("part %d of %d of the ribbon: angle off the wind, speed, heel and wind over time", i+1, len(b.pieces))
	}
	return b.pieces
}

// lane is one of the thin lines: value gives its height, 1 at the top and 0 at
// the bottom.
type lane struct {
	class string
	top   float64
	value func(row) boat.Reading
}

func laneY(i int) float64 { return laneTop + float64(i)*(laneH+laneGap) }

func scaled(r boat.Reading, lo, hi float64) boat.Reading {
	if !r.OK {
		return r
	}
	return boat.Some(math.Min(1, math.Max(0, (r.Val-lo)/(hi-lo))))
}

func (b *ribbon) lanes() {
	all := make([]float64, 0, len(b.r.rows))
	for _, w := range b.r.rows {
		if w.known {
			all = append(all, w.twdDeg.Val)
		}
	}
	mid := direction(all)
	wind := func(deg boat.Reading) boat.Reading {
		if !deg.OK || !mid.OK {
			return boat.Reading{}
		}
		return scaled(boat.Some(geo.Diff(mid.Val, deg.Val)), -45, 45)
	}
	for _, l := range []lane{
		{"ink", laneY(0), func(w row) boat.Reading { return scaled(w.twaDeg, -180, 180) }},
		{"ink", laneY(1), func(w row) boat.Reading { return scaled(w.share, 0, 1.25) }},
		{"ink", laneY(2), func(w row) boat.Reading { return scaled(w.heelDeg, -40, 40) }},
		{"sure", laneY(3), func(w row) boat.Reading { return wind(known(w, w.twdDeg)) }},
	} {
		b.line(l)
	}
	b.band(func(w row) (lo, hi boat.Reading) { return wind(known(w, w.loDeg)), wind(known(w, w.hiDeg)) })
	b.blanks()
}

func known(w row, r boat.Reading) boat.Reading {
	if !w.known {
		return boat.Reading{}
	}
	return r
}

// line draws a lane piece by piece, broken where nothing is known and where it
// leaps (the angle goes over the stern).
func (b *ribbon) line(l lane) {
	for _, s := range b.stretches {
		for i, p := range b.split(s) {
			var pts []string
			end := func() {
				if len(pts) > 1 {
					b.pieces[i].Lines = append(b.pieces[i].Lines, line{strings.Join(pts, " "), l.class})
				}
				pts = nil
			}
			var last boat.Reading
			for _, w := range p {
				v := l.value(w)
				if !v.OK || last.OK && math.Abs(v.Val-last.Val) > 0.6 {
					end()
				}
				if last = v; v.OK {
					pts = append(pts, b.point(i, w.t, l.top+laneH*(1-v.Val)))
				}
			}
			end()
		}
	}
}

func (b *ribbon) point(i int, t boat.Time, y float64) string {
	x, _ := b.x(t)
	return fmt.Sprintf("%.0f,%.1f", x-float64(i)*pieceW, y)
}

// split deals the rows of a stretch to the pieces, each with the first row of
// the next so that lines meet, and no more than one row a unit.
func (b *ribbon) split(s stretch) [][]row {
	out := make([][]row, len(b.pieces))
	lastX := math.Inf(-1)
	for _, w := range s.rows {
		x, _ := b.x(w.t)
		if x-lastX < 1 {
			continue
		}
		i := min(int(x/pieceW), len(b.pieces)-1)
		if i > 0 && lastX >= 0 && int(lastX/pieceW) < i {
			out[i-1] = append(out[i-1], w)
		}
		lastX = x
		out[i] = append(out[i], w)
	}
	return out
}

// band draws the interval of the wind as a soft area round its line.
func (b *ribbon) band(of func(row) (lo, hi boat.Reading)) {
	top := laneY(3)
	for _, s := range b.stretches {
		for i, p := range b.split(s) {
			var up, down []string
			end := func() {
				if len(up) > 1 {
					slices.Reverse(down)
					b.pieces[i].Bands = append(b.pieces[i].Bands, strings.Join(append(up, down...), " "))
				}
				up, down = nil, nil
			}
			for _, w := range p {
				lo, hi := of(w)
				if !lo.OK || !hi.OK || hi.Val < lo.Val {
					end()
					continue
				}
				up = append(up, b.point(i, w.t, top+laneH*(1-hi.Val)))
				down = append(down, b.point(i, w.t, top+laneH*(1-lo.Val)))
			}
			end()
		}
	}
}

// blanks writes where a longer time without a known wind begins.
func (b *ribbon) blanks() {
	for _, s := range b.stretches {
		from := -1
		for i, w := range s.rows {
			if !w.known && from < 0 {
				from = i
			}
			if from >= 0 && (w.known || i+1 == len(s.rows)) {
				if w.t.Seconds(s.rows[from].t)*b.perS > 140 {
					x, _ := b.x(s.rows[from].t)
					p, at := b.on(x)
					p.Blanks = append(p.Blanks, tick{fmt.Sprintf("%.0f", at+6), "wind not known"})
				}
				from = -1
			}
		}
	}
}
