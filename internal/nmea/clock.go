package nmea

import (
	"math"
	"strconv"
	"time"

	"helmcue/internal/boat"
)

const day = boat.Time(24 * 3600 * 1000)

// stamp is the time a sentence carries.
type stamp struct {
	ok    bool
	ofDay boat.Time // since midnight UTC
	dated bool
	date  boat.Time // midnight
}

// timeOfDay reads hhmmss or hhmmss.sss; 60 is a leap second.
func (f *fields) timeOfDay(i int) stamp {
	s := f.text(i)
	if s == "" {
		return stamp{}
	}
	if len(s) < 6 || len(s) > 6 && s[6] != '.' {
		f.bad = true
		return stamp{}
	}
	h, err1 := strconv.ParseUint(s[:2], 10, 8)
	m, err2 := strconv.ParseUint(s[2:4], 10, 8)
	sec := (&fields{f: []string{s[4:]}}).number(0)
	if err1 != nil || err2 != nil || !sec.OK || h > 23 || m > 59 || sec.Val < 0 || sec.Val >= 61 {
		f.bad = true
		return stamp{}
	}
	ms := math.Round(sec.Val * 1000)
	return stamp{ok: true, ofDay: boat.Time(h*3600+m*60)*1000 + boat.Time(ms)}
}

// withDate adds a date to a stamp; a day that does not exist is malformed.
func (f *fields) withDate(s stamp, y, m, d int) stamp {
	t := time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC)
	if t.Year() != y || int(t.Month()) != m || t.Day() != d {
		f.bad = true
		return s
	}
	s.dated, s.date = true, boat.Time(t.UnixMilli())
	return s
}

// ddmmyy reads RMC's date. Two digits of 80 and above are 19yy: the satellites
// whose time it is began in 1980.
func (f *fields) ddmmyy(i int, s stamp) stamp {
	t := f.text(i)
	if t == "" || !s.ok {
		return s
	}
	v, err := strconv.ParseUint(t, 10, 32)
	if err != nil || len(t) != 6 {
		f.bad = true
		return s
	}
	y := int(v%100) + 2000
	if y >= 2080 {
		y -= 100
	}
	return f.withDate(s, y, int(v/100%100), int(v/10000))
}

// Steps of a source's clock beyond these are believed only when the next
// sentence with a time agrees: one bad time must not move the session.
const (
	stepBack    = boat.Time(2_000)
	stepForward = boat.Time(60_000)
	agree       = boat.Time(30_000)
)

// clock follows the time a source tells and keeps one that never goes back.
type clock struct {
	known   bool
	dated   bool      // a date was told, or is not waited for any more
	undated bool      // it is not waited for: dates are passed over
	dev     boat.Time // the source's clock at its last believed time
	shift   boat.Time // added to the source's clock, after it was set back
	doubt   boat.Time // a time that was not believed yet
	unsure  bool
	last    boat.Time // what was given out
	delay   boat.Time // live: least time on the way lately, arrival less the source's clock
	delays  bool      // delay is known
}

// resolve returns the source's clock in full. Without a date it is the moment
// nearest to what is known: so midnight is passed, and sentences of two devices
// either side of it do not jump by a day.
func (c *clock) resolve(s stamp, arrived boat.Time) boat.Time {
	switch {
	case s.dated:
		return s.date + s.ofDay
	case c.known:
		return nearest(s.ofDay, c.dev)
	case arrived > 0:
		return nearest(s.ofDay, arrived)
	}
	return s.ofDay
}

func nearest(ofDay, to boat.Time) boat.Time {
	days := math.Round(float64(to-ofDay) / float64(day))
	return ofDay + boat.Time(days)*day
}

// tell takes the source's time and returns what it means on the session's line.
func (c *clock) tell(dev boat.Time) boat.Time {
	if !c.known {
		c.known, c.dev = true, dev
		return c.forward(dev)
	}
	if step := dev - c.dev; step < -stepBack || step > stepForward {
		if !c.unsure || dev < c.doubt || dev-c.doubt > agree {
			c.unsure, c.doubt = true, dev
			return c.last
		}
		if step < 0 { // the source was set back: go on from where the session is
			c.shift = c.last - dev
		}
	}
	c.unsure = false
	c.dev = dev
	return c.forward(dev + c.shift)
}

func (c *clock) forward(t boat.Time) boat.Time {
	c.last = max(c.last, t)
	return c.last
}

// A source's delay may grow by one part in this many of the time passed, which
// is more than its clock drifts, and at once where it grew beyond maxDelay,
// which is more than a link holds back: then its clock was set.
const (
	drift    = 1000
	maxDelay = boat.Time(60_000)
)

// live maps the source's time to the clock of arrival. The least delay seen is
// the best estimate of how the two clocks differ: sentences that a slow link
// held back keep their spacing.
func (c *clock) live(dev, arrived boat.Time) boat.Time {
	d := arrived - dev
	switch grown := c.delay + (dev-c.dev)/drift; {
	case !c.delays || d < c.delay || d > c.delay+maxDelay:
		c.delay, c.delays = d, true
	case dev > c.dev:
		c.delay = min(d, grown)
	}
	c.known, c.dev = true, dev
	return c.forward(dev + c.delay)
}
