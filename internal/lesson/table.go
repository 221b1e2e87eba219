package lesson

import (
	"fmt"
	"io"
	"math"

	"helmcue/internal/boat"
)

// column is one figure of the table.
type column struct {
	name  string
	about string
	text  func(Row) string
}

func columns() []column {
	n := func(r Row) *Result { return &r.By[Nobody] }
	o := func(r Row) *Result { return &r.By[Ours] }
	k := func(r Row) *Result { return &r.By[Knowing] }
	return []column{
		{"vmg", "way made good to windward with nobody speaking, knots", func(r Row) string { return number(n(r).Taught.VMGKn(), 2) }},
		{"gain", "by how much it grows with our coach, %", func(r Row) string { g, _ := r.Gain(Ours); return number(g, 1) }},
		{"kept", "what of it is left when the voice goes quiet", func(r Row) string { _, g := r.Gain(Ours); return number(g, 1) }},
		{"bound", "by how much it grows with the all-knowing coach, %", func(r Row) string { g, _ := r.Gain(Knowing); return number(g, 1) }},
		{"bkept", "and what of that is left", func(r Row) string { _, g := r.Gain(Knowing); return number(g, 1) }},
		{"part", "gain over bound, %", func(r Row) string { return number(r.part(), 0) }},
		{"tack", "boat lengths lost in a tack, nobody speaking", func(r Row) string { return number(n(r).TackLen/float64(n(r).TackSeen), 1) }},
		{"ours", "with our coach", func(r Row) string { return number(o(r).TackLen/float64(o(r).TackSeen), 1) }},
		{"bound", "with the all-knowing one", func(r Row) string { return number(k(r).TackLen/float64(k(r).TackSeen), 1) }},
		{"irons", "seconds in irons in an hour to windward, nobody speaking", func(r Row) string { return number(n(r).Taught.ironsPerHour(), 0) }},
		{"ours", "with our coach", func(r Row) string { return number(o(r).Taught.ironsPerHour(), 0) }},
		{"cues", "our cues a minute", func(r Row) string { return number(float64(o(r).Said.Cues)/o(r).minutes(), 2) }},
		{"corr", "corrections among them", func(r Row) string { return number(float64(o(r).Said.Corrections)/o(r).minutes(), 2) }},
		{"bcorr", "corrections of the all-knowing coach a minute", func(r Row) string { return number(float64(k(r).Said.Corrections)/k(r).minutes(), 2) }},
		{"air", "share of the time that our coach talks, outside turns, %", func(r Row) string { return number(o(r).Said.AirS/o(r).minutes()/0.6, 1) }},
		{"right", "share of our directed cues that were right, %", func(r Row) string { return o(r).Said.Directed.percent() }},
		{"late", "share of them that no longer were when they were heard, %", func(r Row) string { return number(100*float64(o(r).Said.Late)/float64(o(r).Said.Directed.N), 1) }},
		{"false", "share of praise for the sheet that was not earned, %", func(r Row) string { return o(r).Said.Praise.wrong() }},
		{"contr", "our contradictions an hour", func(r Row) string { return number(60*float64(o(r).Said.Contradictions)/o(r).minutes(), 2) }},
	}
}

// minutes is how long somebody might speak.
func (r *Result) minutes() float64 { return r.Taught.AllS / 60 }

func (s Sailed) ironsPerHour() float64 { return 3600 * s.IronsS / s.BeatS }

// number writes a figure, or a dash where there is none.
func number(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "-"
	}
	return fmt.Sprintf("%.*f", decimals, v)
}

func (c Count) percent() string { return number(100*float64(c.Right)/float64(c.N), 1) }
func (c Count) wrong() string   { return number(100-100*float64(c.Right)/float64(c.N), 1) }

// part is the share of what could be gained that was gained, percent; NaN where there
// was nothing to gain.
func (r Row) part() float64 {
	ours, _ := r.Gain(Ours)
	most, _ := r.Gain(Knowing)
	if most < 1 {
		return math.NaN()
	}
	return 100 * ours / most
}

// Pool is all rows as one.
func Pool(rows []Row) Row {
	out := Row{Name: "all together"}
	for _, r := range rows {
		for t := range r.By {
			out.By[t].Merge(&r.By[t])
		}
	}
	return out
}

// Table writes the rows as plain columns under a line of names.
func Table(w io.Writer, rows []Row) error {
	if _, err := fmt.Fprintf(w, "%-20s", "learner and wind"); err != nil {
		return err
	}
	for _, c := range columns() {
		fmt.Fprintf(w, " %6s", c.name) //nolint:errcheck // the last write tells
	}
	for _, r := range rows {
		fmt.Fprintf(w, "\n%-20s", r.Name) //nolint:errcheck // the last write tells
		for _, c := range columns() {
			fmt.Fprintf(w, " %6s", c.text(r)) //nolint:errcheck // the last write tells
		}
	}
	_, err := fmt.Fprintln(w)
	return err
}

// Keys writes how many of each kind of directed cue of ours were right.
func Keys(w io.Writer, r Row) error {
	for _, k := range boat.Keys() {
		c, ok := r.By[Ours].ByKey[k]
		if !ok {
			continue
		}
		if _, err := fmt.Fprintf(w, "# %-12s right %5d of %5d, %s %%\n", k, c.Right, c.N, c.percent()); err != nil {
			return err
		}
	}
	return nil
}

// Legend says what the columns are, one a line, each after "# ".
func Legend(w io.Writer) error {
	for _, c := range columns() {
		if _, err := fmt.Fprintf(w, "# %-6s %s\n", c.name, c.about); err != nil {
			return err
		}
	}
	return nil
}
