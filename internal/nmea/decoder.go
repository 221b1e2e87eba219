package nmea

import (
	"maps"
	"strings"

	lib "github.com/adrianmo/go-nmea"

	"helmcue/internal/boat"
)

// Limits of what is held back from a log while its time is not known.
const (
	maxHeld     = 1000 // inputs before any time
	waitForDate = 32   // lines after the first time: some two rounds of a busy source
	neverSummed = 20   // sentences without a checksum until a source may go without
)

// Decoder reads the lines of one source, in the order they came. It belongs to
// one goroutine.
type Decoder struct {
	parser    lib.SentenceParser
	base      lib.BaseSentence
	count     Count
	clock     clock
	held      []boat.Input // from a log, until its time and date are known
	timed     int          // lines since the first time, while the date is not known
	doubtful  int          // from this one of held on, the time is not believed yet
	summed    bool         // a checksum was seen
	unsummed  int          // sentences without one
	variation boat.Reading // last stated
}

// NewDecoder returns a decoder that has read nothing.
func NewDecoder() *Decoder {
	d := &Decoder{count: Count{Unused: map[string]int{}}}
	d.parser = lib.SentenceParser{
		// Checked before, where a source without checksums can be told from a cut line.
		CheckCRC:       func(lib.BaseSentence, string) error { return nil },
		OnBaseSentence: func(b *lib.BaseSentence) error { d.base = *b; return nil },
		// The library refuses a whole list for one transducer it does not know.
		CustomParsers: map[string]lib.ParserFunc{
			"XDR": func(b lib.BaseSentence) (lib.Sentence, error) { return b, nil },
		},
	}
	return d
}

// Line reads one line, with or without its end. It returns the samples in it
// and those it released, T never decreasing.
//
// From a log, arrived is 0: T is the source's own time, a sentence without one
// has the time last told, and samples are held back until the time is known and
// the date known or given up. From a live source, arrived is when the line
// came, on the session's time line: T is the source's time moved there, by the
// least delay seen, and arrived for sentences without time; nothing is held.
// Sent is the source's own clock where the sentence told it. Decoders must not
// mix the two.
func (d *Decoder) Line(line string, arrived boat.Time) []boat.Input {
	d.count.Lines++
	kept, why := false, NotSentence
	if strings.TrimSpace(line) == "" {
		why = Empty
	}
	var out []boat.Input
	for _, f := range frames(line) {
		s, reason, ok := d.read(f)
		if !ok {
			why = reason
			continue
		}
		in, ok := d.stamp(s, arrived)
		if !ok {
			why = NoTime
			continue
		}
		kept = true
		out = append(out, in...)
	}
	if !kept {
		d.count.Skipped[why]++
		return nil
	}
	d.count.Kept++
	return d.release(out, arrived)
}

// read takes one framed sentence to a sample.
func (d *Decoder) read(f framed) (s *sentence, why Reason, ok bool) {
	switch {
	case f.sum:
		d.summed = true
		if !f.good {
			return nil, BadChecksum, false
		}
	case !plain(f.raw):
		return nil, NotSentence, false
	default:
		d.unsummed++
		if d.summed || d.unsummed <= neverSummed {
			return nil, NoChecksum, false
		}
	}
	body, _, _ := strings.Cut(f.raw[1:], "*")
	address, rest, _ := strings.Cut(body, ",")
	_, typ, err := lib.ParsePrefix(address)
	how := reader(typ)
	if err != nil || how == nil || f.raw[0] != '$' {
		d.unused(address)
		return nil, UnknownType, false
	}
	// Lost bytes can join two sentences of one kind where the checksum does not see it.
	joined := strings.Contains(rest, address)
	if _, err := d.parser.Parse(f.raw); err != nil || joined {
		return nil, BadField, false
	}
	return d.judge(how)
}

func (d *Decoder) judge(how func(*sentence)) (*sentence, Reason, bool) {
	s := &sentence{fields: fields{f: d.base.Fields}, variation: d.variation}
	how(s)
	switch {
	case s.invalid:
		return nil, BadStatus, false
	case s.bad:
		return nil, BadField, false
	case s.out == boat.Sample{} && !s.at.ok:
		return nil, NoReadings, false
	}
	d.variation = first(s.out.VarDeg, d.variation)
	return s, 0, true
}

func (d *Decoder) unused(address string) {
	if _, ok := d.count.Unused[address]; ok || len(d.count.Unused) < maxTypes {
		d.count.Unused[address]++
	}
}

// stamp gives the sample its time. It returns no input for a sentence that told
// only the time, and not ok where too much is held back already.
func (d *Decoder) stamp(s *sentence, arrived boat.Time) (in []boat.Input, ok bool) {
	c := &d.clock
	one := boat.Input{Kind: boat.SampleIn, Source: "nmea", Sample: &s.out}
	switch {
	case s.at.ok && arrived > 0:
		one.Sent = c.resolve(s.at, arrived)
		one.T = c.live(one.Sent, arrived)
	case s.at.ok:
		one.Sent, one.T = d.logTime(s.at)
	case arrived > 0:
		one.T = c.forward(arrived)
	case !c.known && len(d.held) >= maxHeld:
		return nil, false
	default:
		one.T = c.last
	}
	if s.out == (boat.Sample{}) {
		return nil, true
	}
	return []boat.Input{one}, true
}

// logTime takes a time told in a log, and sets right what is held back because
// of it.
func (d *Decoder) logTime(s stamp) (dev, t boat.Time) {
	c := &d.clock
	if c.undated {
		s.dated = false
	}
	if s.dated && c.known && !c.dated {
		d.redate(nearest(0, s.date+s.ofDay-c.dev))
	}
	c.dated = c.dated || s.dated
	dev = c.resolve(s, 0)
	first, before, doubt := !c.known, c.unsure, c.doubt
	t = c.tell(dev)
	switch {
	case first:
		d.retime(0, t)
	case c.unsure: // a new doubt; what was held for another one keeps its time
		d.doubtful = len(d.held)
	case before && dev >= doubt && dev-doubt <= agree:
		d.retime(d.doubtful, doubt+c.shift)
	}
	return dev, t
}

// retime sets what is held back from one on to a time known only now.
func (d *Decoder) retime(from int, t boat.Time) {
	for i := min(from, len(d.held)); i < len(d.held); i++ {
		d.held[i].T = max(d.held[i].T, t)
	}
}

// redate moves all that was told without a date by whole days.
func (d *Decoder) redate(by boat.Time) {
	c := &d.clock
	c.dev, c.last, c.doubt = c.dev+by, c.last+by, c.doubt+by
	for i := range d.held {
		d.held[i].T += by
		if d.held[i].Sent != 0 {
			d.held[i].Sent += by
		}
	}
}

// release holds inputs of a log back until their times are final.
func (d *Decoder) release(in []boat.Input, arrived boat.Time) []boat.Input {
	c := &d.clock
	if arrived > 0 {
		return in
	}
	if c.known && !c.dated {
		if d.timed++; d.timed > waitForDate {
			c.dated, c.undated = true, true
		}
	}
	final := c.known && c.dated && !c.unsure
	if final && d.held == nil {
		return in
	}
	d.held = append(d.held, in...)
	if !final {
		return nil
	}
	return d.Flush()
}

// Flush returns what is still held back at the end of a log. Where no time was
// told in all of it, nothing has a place: the lines are counted as skipped.
func (d *Decoder) Flush() []boat.Input {
	out := d.held
	d.held, d.doubtful = nil, 0
	if len(out) > 0 && !d.clock.known {
		d.count.Skipped[NoTime] += d.count.Kept
		d.count.Kept = 0
		return nil
	}
	return out
}

// Count returns what became of the lines so far.
func (d *Decoder) Count() Count {
	c := d.count
	c.Unused = maps.Clone(c.Unused)
	return c
}
