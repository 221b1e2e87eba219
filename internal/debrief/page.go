package debrief

import (
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"math"
	"strings"
	"time"

	"helmcue/internal/boat"
)

// Look is how a page is drawn. The zero Look uses the reader's own typeface.
type Look struct {
	Font []byte // a WOFF2 file of Atkinson Hyperlegible Next, put into the page
}

// WriteHTML writes a report as one page that needs nothing beside it, with the
// reader's own typeface. Errors are those of w.
func WriteHTML(w io.Writer, r Report) error { return Look{}.WriteHTML(w, r) }

// WriteHTML writes a report as one page that needs nothing beside it. The page
// holds the font where the Look has one. Errors are those of w.
func (l Look) WriteHTML(w io.Writer, r Report) error {
	t, err := template.New("page").Parse(pageText + ribbonText + trackText + tablesText)
	if err != nil {
		return fmt.Errorf("reading the page's template: %w", err)
	}
	if err := t.ExecuteTemplate(w, "page", newPage(r, l)); err != nil {
		return fmt.Errorf("writing the debrief: %w", err)
	}
	return nil
}

// page is a report in the words and numbers that the template sets.
type page struct {
	Report
	Title    string
	Facts    string
	Style    template.CSS
	Began    string
	Turned   []turnLine
	Gained   bool // some turn lost less than nothing
	Listed   []saidLine
	Times    []fact
	Lost     []fact
	Counts   string
	Pieces   []piece
	RibbonH  string
	LaneYs   []laneName
	MarksY   string
	Track    *chart
	MarkList []fact

	Practised []practisedLine
}

type fact struct{ Name, Value string }

type laneName struct {
	Name, TopWords, LowWords  string
	Line, Mid, UpperY, LowerY string // heights
}

type turnLine struct {
	Time, Kind, To, Turn, Back, Lost string
}

type saidLine struct {
	N                                   int
	Time, Words, Why, Because, Answered string
	Strong, OnRibbon, Own               bool
}

func newPage(r Report, l Look) page {
	p := page{Report: r, Title: title(r), Facts: facts(r), RibbonH: fmt.Sprintf("%.0f", ribbonH), MarksY: fmt.Sprintf("%.0f", wordsTop-34)}
	css := style
	if len(l.Font) > 0 {
		css = `@font-face { font-family: "Atkinson Hyperlegible Next"; font-weight: 200 800; src: url(data:font/woff2;base64,` +
			base64.StdEncoding.EncodeToString(l.Font) + `) format("woff2"); }` + css
	}
	p.Style = template.CSS(css)
	p.Began = time.UnixMilli(int64(r.Start)).UTC().Format("2 January 2006 15:04") + " UTC"
	p.Pieces = newRibbon(&r).draw()
	p.LaneYs = laneNames()
	p.Track = newChart(&r)
	p.Turned, p.Times, p.Lost = turnLines(r), timeFacts(r), costFacts(r)
	p.Practised = practisedLines(r)
	p.Listed, p.Counts = saidLines(r, p.Pieces), counts(r)
	for _, t := range p.Turned {
		p.Gained = p.Gained || strings.HasPrefix(t.Lost, "−")
	}
	for _, m := range r.Marks {
		p.MarkList = append(p.MarkList, fact{clock(m.T, r.Start), m.Text})
	}
	return p
}

func title(r Report) string {
	switch {
	case r.Name != "" && r.Boat != "":
		return r.Name + ", " + r.Boat
	case r.Name != "":
		return r.Name
	case r.Boat != "":
		return "Debrief, " + r.Boat
	}
	return "Debrief"
}

// lastS is how long the session was, its last second counted.
func (r *Report) lastS() float64 {
	if len(r.rows) == 0 {
		return 0
	}
	return r.End.Seconds(r.Start) + 1
}

// facts is the line under the heading.
func facts(r Report) string {
	s := spell(r.lastS()) + " recorded, " + spell(r.SailedS) + " of it sailing"
	if r.Wind.FirstDeg.OK {
		first, last := five(r.Wind.FirstDeg.Val), five(r.Wind.LastDeg.Or(r.Wind.FirstDeg.Val))
		s += " · wind from " + first
		if first != last {
			s += ", later " + last
		}
	} else {
		s += " · wind not known"
	}
	if r.Wind.Kn.OK {
		s += fmt.Sprintf(" · %.0f knots", r.Wind.Kn.Val)
	}
	if r.Water.SetDeg.OK {
		s += fmt.Sprintf(" · water setting towards %s, %.1f knots", five(r.Water.SetDeg.Val), r.Water.DriftKn.Val)
	}
	tacks, gybes := 0, 0
	for _, t := range r.Turns {
		if t.Kind == "gybe" {
			gybes++
		} else {
			tacks++
		}
	}
	s += " · " + count(tacks, "tack", "tacks")
	if gybes > 0 {
		s += ", " + count(gybes, "gybe", "gybes")
	}
	return s
}

func laneNames() []laneName {
	name := func(i int, n, top, low string, zero float64) laneName {
		y := laneY(i)
		return laneName{
			Name: n, TopWords: top, LowWords: low, Line: fmt.Sprintf("%.1f", y+laneH*(1-zero)),
			UpperY: fmt.Sprintf("%.0f", y+10), LowerY: fmt.Sprintf("%.0f", y+laneH), Mid: fmt.Sprintf("%.0f", y+laneH/2+5),
		}
	}
	return []laneName{
		name(0, "angle", "starboard", "port", 0.5),
		name(1, "speed", "", "", 1/1.25),
		name(2, "heel", "starboard", "port", 0.5),
		name(3, "wind", "veered", "backed", 0.5),
	}
}

func turnLines(r Report) []turnLine {
	var out []turnLine
	for _, t := range r.Turns {
		l := turnLine{Time: clock(t.Start, r.Start), Kind: t.Kind, To: t.To, Turn: "–", Back: "–", Lost: "–"}
		if t.TurnDeg.OK {
			l.Turn = fmt.Sprintf("%.0f°", t.TurnDeg.Val)
		}
		if t.RecoveredS.OK {
			l.Back = fmt.Sprintf("%.0f s", t.RecoveredS.Val)
		}
		if t.LostLengths.OK {
			l.Lost = signed(math.Max(-99, math.Min(999, t.LostLengths.Val)))
		}
		out = append(out, l)
	}
	return out
}

func timeFacts(r Report) []fact {
	t := r.Target
	var out []fact
	add := func(name string, n, of float64) {
		if of > 0 {
			out = append(out, fact{name, spell(n) + " of " + spell(of)})
		}
	}
	add("at nine tenths of her speed or more", t.SpeedOnS, t.SpeedS)
	add("close-hauled, within 5° of the best angle", t.UpwindOnS, t.UpwindS)
	add("close-hauled, closer than that", t.UpwindHighS, t.UpwindS)
	add("close-hauled, further off than that", t.UpwindLowS, t.UpwindS)
	return out
}

func costFacts(r Report) []fact {
	names := []fact{{CostTacks, "tacks"}, {CostPinching, "pinching"}, {CostLow, "sailing low close-hauled"}, {CostSlow, "too slow at a good angle"}, {CostIrons, "in irons"}}
	var out []fact
	for _, c := range r.Costs {
		for _, n := range names {
			if n.Name == c.What && c.Metres >= 2.5 {
				out = append(out, fact{n.Value, metres(c.Metres) + ", " + whole(c.Metres/r.LengthM)})
			}
		}
	}
	return out
}

func counts(r Report) string {
	yes, no, unknown := r.Counted()
	if yes+no+unknown == 0 {
		return ""
	}
	s := "Answered: " + of(yes, yes+no, "request that can be checked", "requests that can be checked") + "."
	if unknown > 0 {
		s += " For " + count(unknown, "more", "more") + " it cannot be told."
	}
	return s
}

func saidLines(r Report, pieces []piece) []saidLine {
	shown := map[int]bool{}
	for _, p := range pieces {
		for _, m := range p.Marks {
			shown[m.ID] = true
		}
	}
	var out []saidLine
	for i, s := range r.Said {
		l := saidLine{N: i + 1, Time: clock(s.T, r.Start), Words: s.Words, Why: s.Why, Because: s.Because,
			Answered: s.Answer.String(), Strong: strong(s.Urgency), Own: s.Own, OnRibbon: shown[i+1]}
		if s.Answer == NotAsked {
			l.Answered = "–"
		}
		if l.Words == "" {
			l.Words = string(s.Key)
		}
		out = append(out, l)
	}
	return out
}

// strong says which cues are set in bold: those that warn.
func strong(u boat.Urgency) bool { return u == boat.Warning || u == boat.Danger }

// signed writes a number to a tenth, with the typeface's own minus.
func signed(v float64) string {
	s := fmt.Sprintf("%.1f", math.Abs(v))
	if v < 0 && s != "0.0" {
		return "−" + s
	}
	return s
}
