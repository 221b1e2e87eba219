package debrief

import (
	"fmt"
	"math"
	"strings"

	"helmcue/internal/geo"
)

// The track's measures, in its own units.
const (
	trackW    = 640.0
	trackEdge = 40.0
	leastSpan = 50.0 // metres: a boat at her mooring is not blown up
	mostWords = 14
)

// chart is the track ready to be drawn, north up.
type chart struct {
	W, H  string
	Lines []line
	Start spot
	End   spot
	Said  []spot // where each cue was heard
	Wide  []spot // words for a wide page, in small letters
	Slim  []spot // words for a narrow one, fewer and larger
	Scale scale
	Wind  *arrow
}

type spot struct {
	X, Y, Words, Anchor string
	Strong              bool
}

type scale struct {
	X1, X2, Y, Words string
}

type arrow struct {
	X1, Y1, X2, Y2, Head, Words, TextX, TextY string
}

// tracker fits positions to the page.
type tracker struct {
	frame      geo.Frame
	minE, minN float64
	maxN       float64
	perM       float64
	w, h       float64
	offE, offN float64
	path       [][2]float64 // places on the page along the track, close enough to see what it runs through
	corner     box          // with least of the track in it: the wind stands there
}

func newTracker(rows []row) (*tracker, bool) {
	t := &tracker{}
	var maxE float64
	n := 0
	for _, w := range rows {
		if !w.posOK || math.Abs(w.pos.LatDeg) >= 89.9 || math.Abs(w.pos.LonDeg) > 360 {
			continue
		}
		if n == 0 {
			t.frame = geo.NewFrame(w.pos)
		}
		e, north := t.frame.To(w.pos)
		if n == 0 {
			t.minE, maxE, t.minN, t.maxN = e, e, north, north
		}
		t.minE, maxE = math.Min(t.minE, e), math.Max(maxE, e)
		t.minN, t.maxN = math.Min(t.minN, north), math.Max(t.maxN, north)
		n++
	}
	if n < 2 {
		return nil, false
	}
	spanE, spanN := math.Max(maxE-t.minE, leastSpan), math.Max(t.maxN-t.minN, leastSpan)
	t.perM = math.Min((trackW-2*trackEdge)/spanE, (trackW-2*trackEdge)/spanN)
	t.w = trackW
	t.h = math.Max(300, float64(spanN*t.perM)+2*trackEdge)
	t.offE = (t.w - float64((maxE-t.minE)*t.perM)) / 2
	t.offN = (t.h - float64((t.maxN-t.minN)*t.perM)) / 2
	t.walk(rows)
	t.choose()
	return t, true
}

// walk fills path, with a place every few units also where rows are far apart.
func (t *tracker) walk(rows []row) {
	const step = 6.0
	for _, w := range rows {
		if !w.posOK {
			continue
		}
		x, y := t.at(w.pos)
		if n := len(t.path); n > 0 {
			from := t.path[n-1]
			d := math.Hypot(x-from[0], y-from[1])
			if d < step {
				continue
			}
			for f := step; f < d && d < 2*trackW; f += step {
				t.path = append(t.path, [2]float64{from[0] + (x-from[0])*f/d, from[1] + (y-from[1])*f/d})
			}
		}
		t.path = append(t.path, [2]float64{x, y})
	}
}

// choose takes the corner for the wind; bottom left is the scale's.
func (t *tracker) choose() {
	const wide, high = 150, 112
	least := -1
	for _, c := range []box{{trackW - wide, 0, trackW, high}, {0, 0, wide, high}, {trackW - wide, t.h - high, trackW, t.h}} {
		n := 0
		for _, p := range t.path {
			if p[0] > c.x1 && p[0] < c.x2 && p[1] > c.y1 && p[1] < c.y2 {
				n++
			}
		}
		if least < 0 || n < least {
			least, t.corner = n, c
		}
	}
}

func (t *tracker) at(p geo.Position) (x, y float64) {
	e, n := t.frame.To(p)
	return t.offE + (e-t.minE)*t.perM, t.offN + (t.maxN-n)*t.perM
}

// newChart draws the track, nil where there were no positions.
func newChart(r *Report) *chart {
	t, ok := newTracker(r.rows)
	if !ok {
		return nil
	}
	c := &chart{W: fmt.Sprintf("%.0f", t.w), H: fmt.Sprintf("%.0f", t.h)}
	c.lines(r, t)
	c.Wind = windArrow(r, t)
	c.Scale = newScale(t)
	c.Wide = layWords(r, t, 15)
	c.Slim = layWords(r, t, 26)
	for _, s := range r.Said {
		if x, y, ok := seat(t, s); ok && s.Answer != NotHeard {
			c.Said = append(c.Said, spot{X: fmt.Sprintf("%.0f", x), Y: fmt.Sprintf("%.0f", y)})
		}
	}
	return c
}

// thickness is the share of speed drawn: four steps, and one for not known.
func thickness(w row) string {
	switch {
	case !w.share.OK:
		return "t0"
	case w.share.Val < 0.5:
		return "t1"
	case w.share.Val < 0.75:
		return "t2"
	case w.share.Val < onShare:
		return "t3"
	}
	return "t4"
}

func (c *chart) lines(r *Report, t *tracker) {
	var pts []string
	class := ""
	end := func() {
		if len(pts) > 1 {
			c.Lines = append(c.Lines, line{strings.Join(pts, " "), class})
		}
		pts = nil
	}
	lastX, lastY := math.Inf(1), math.Inf(1)
	for i, w := range r.rows {
		if !w.posOK || i > 0 && w.t.Seconds(r.rows[i-1].t) > 10 {
			end()
			if !w.posOK {
				continue
			}
		}
		x, y := t.at(w.pos)
		p := fmt.Sprintf("%.1f,%.1f", x, y)
		if k := thickness(w); k != class {
			if len(pts) > 0 {
				pts = append(pts, p)
			}
			end()
			class = k
		} else if len(pts) > 0 && math.Hypot(x-lastX, y-lastY) < 1.5 {
			continue
		}
		pts = append(pts, p)
		lastX, lastY = x, y
		if c.Start.X == "" {
			c.Start = spot{X: fmt.Sprintf("%.0f", x), Y: fmt.Sprintf("%.0f", y)}
		}
		c.End = spot{X: fmt.Sprintf("%.0f", x), Y: fmt.Sprintf("%.0f", y)}
	}
	end()
}

// newScale is a straight bar of a round number of metres.
func newScale(t *tracker) scale {
	length := 10.0
	for _, m := range []float64{20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 20000, 50000, 100000, 1e6} {
		if m*t.perM <= trackW/4 {
			length = m
		}
	}
	words := fmt.Sprintf("%.0f m", length)
	if length >= 1000 {
		words = fmt.Sprintf("%.0f km", length/1000)
	}
	return scale{"12", fmt.Sprintf("%.1f", 12+float64(length*t.perM)), fmt.Sprintf("%.0f", t.h-12), words}
}

// windArrow flies with the last of the wind, in the corner with most room.
func windArrow(r *Report, t *tracker) *arrow {
	if !r.Wind.LastDeg.OK {
		return nil
	}
	sin, cos := math.Sincos(geo.Rad(r.Wind.LastDeg.Val))
	const half = 28.0
	cx, cy := (t.corner.x1+t.corner.x2)/2, t.corner.y1+42
	f := func(along, across float64) string {
		return fmt.Sprintf("%.1f %.1f", cx-along*sin-across*cos, cy+along*cos-across*sin)
	}
	return &arrow{
		X1: fmt.Sprintf("%.1f", cx+half*sin), Y1: fmt.Sprintf("%.1f", cy-half*cos),
		X2: fmt.Sprintf("%.1f", cx-half*sin), Y2: fmt.Sprintf("%.1f", cy+half*cos),
		Head:  "M" + f(half+4, 0) + "L" + f(half-12, 7) + "L" + f(half-12, -7) + "Z",
		TextX: fmt.Sprintf("%.0f", cx), TextY: fmt.Sprintf("%.0f", t.corner.y1+100),
		Words: "wind " + five(r.Wind.LastDeg.Val),
	}
}

// seat returns where a cue was heard on the page.
func seat(t *tracker, s Said) (x, y float64, ok bool) {
	if !s.PosOK {
		return 0, 0, false
	}
	x, y = t.at(s.Pos)
	return x, y, x >= 0 && x <= t.w && y >= 0 && y <= t.h
}
