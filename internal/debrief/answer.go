package debrief

import (
	"fmt"
	"math"
	"sort"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Answer is whether the sailor did what a cue asked, as far as it can be seen.
type Answer int

// The answers. Only Yes and No are counted.
const (
	NotAsked   Answer = iota // the cue asks for nothing that could be counted
	CannotTell               // an answer would not show, or something hides it
	Yes
	No
	NotHeard // it was dropped or could not be played
)

// Answers returns every Answer.
func Answers() []Answer { return []Answer{NotAsked, CannotTell, Yes, No, NotHeard} }

func (a Answer) String() string {
	names := []string{"not asked", "cannot tell", "yes", "no", "not heard"}
	if a < 0 || int(a) >= len(names) {
		return fmt.Sprintf("(%d)", int(a))
	}
	return names[a]
}

// Bounds of an answer. Common practice, no source.
const (
	beforeS    = 3.0  // the seconds before a cue that it is compared with
	helmS      = 10.0 // a change of course shows within
	weightS    = 8.0
	sheetS     = 15.0
	speedS     = 20.0
	leastTurn  = 3.0  // degrees, where a cue names no amount: half of it counts
	leastHeel  = 3.0  // degrees
	leastShare = 0.03 // of the expected speed; a log wanders by about as much
	runShare   = 0.85 // way enough to harden in
)

// answers judges every cue by the seconds around it.
func (r *Report) answers(told bool, heard map[int]string) {
	for i := range r.Said {
		c := &r.Said[i]
		if what := heard[c.ID]; told && (what == "dropped" || what == "failed") {
			c.Answer, c.Because = NotHeard, "it could not be played in time"
			continue
		}
		c.Answer, c.Because = r.judge(*c)
	}
}

// judge holds the one rule for each key. Keys that are not here ask for nothing
// that shows: praise, looks, warnings and facts.
func (r *Report) judge(s Said) (Answer, string) {
	c := s.Cue
	switch c.Key {
	case boat.HeadUp:
		return r.helm(c, -1)
	case boat.BearAway:
		return r.helm(c, 1)
	case boat.SteerTo:
		return r.steered(s)
	case boat.Straighten:
		return r.straightened(c)
	case boat.LetGo:
		return r.heel(c, -2*leastHeel, 5)
	case boat.SitOut:
		return r.heel(c, -leastHeel, weightS)
	case boat.SitIn:
		return r.heel(c, leastHeel, weightS)
	case boat.Ease, boat.Trim, boat.Back:
		return r.sheeted(c)
	case boat.LuffTest:
		return CannotTell, "the luff cannot be seen from here"
	case boat.BuildSpeed, boat.TooSlow:
		return r.quickened(c, 0.7, 0.1)
	case boat.LetRun:
		return r.quickened(c, runShare, math.Inf(1))
	case boat.PrepareTack:
		return r.turned(c, "tack", 30)
	case boat.TurnNow:
		return r.turned(c, "", 15)
	case boat.InIrons:
		return r.freed(c)
	}
	return NotAsked, ""
}

// rowsIn returns the rows with from < t <= to.
func (r *Report) rowsIn(from, to boat.Time) []row {
	first := sort.Search(len(r.rows), func(i int) bool { return r.rows[i].t > from })
	end := sort.Search(len(r.rows), func(i int) bool { return r.rows[i].t > to })
	if end < first {
		return nil
	}
	return r.rows[first:end]
}

func (r *Report) before(c boat.Cue) []row           { return r.rowsIn(c.T.After(-beforeS), c.T) }
func (r *Report) after(c boat.Cue, s float64) []row { return r.rowsIn(c.T, c.T.After(s)) }

// mean of one reading over rows.
func mean(rows []row, of func(row) boat.Reading) boat.Reading {
	var a tally
	for _, w := range rows {
		a.add(of(w))
	}
	return a.mean()
}

// furthest returns the largest value of sign times the reading that two rows
// running reached: one row alone may be a wave.
func furthest(rows []row, sign float64, of func(row) boat.Reading) boat.Reading {
	var best boat.Reading
	for i := 1; i < len(rows); i++ {
		a, b := of(rows[i-1]), of(rows[i])
		if !a.OK || !b.OK {
			continue
		}
		if v := math.Min(sign*a.Val, sign*b.Val); !best.OK || v > best.Val {
			best = boat.Some(v)
		}
	}
	return best
}

func offWind(w row) boat.Reading {
	if !w.twaDeg.OK {
		return boat.Reading{}
	}
	return boat.Some(math.Abs(w.twaDeg.Val))
}

func lean(w row) boat.Reading {
	if !w.heelDeg.OK {
		return boat.Reading{}
	}
	return boat.Some(math.Abs(w.heelDeg.Val))
}

func pace(w row) boat.Reading { return w.share }

// helm: answered when the angle off the wind changed the asked way by half the
// amount within ten seconds.
func (r *Report) helm(c boat.Cue, sign float64) (Answer, string) {
	was, now := mean(r.before(c), offWind), furthest(r.after(c, helmS), sign, offWind)
	if !was.OK || !now.OK {
		return CannotTell, "the wind was not known"
	}
	if r.turnBegins(c.T, helmS, "") {
		return CannotTell, "she turned through the wind meanwhile"
	}
	change := now.Val - sign*was.Val
	need := math.Abs(c.Amount.Or(leastTurn)) / 2
	return yes(change >= need), fmt.Sprintf("angle %.0f° to %.0f° off the wind", was.Val, sign*now.Val)
}

// steered: answered when the bow came within ten degrees of the heading. A
// magnetic heading is compared after allowing for the variation of the place.
func (r *Report) steered(c Said) (Answer, string) {
	want, ok := trueHeading(c)
	if !ok {
		return CannotTell, "the variation here was not known"
	}
	near := boat.Reading{}
	for _, w := range r.after(c.Cue, helmS) {
		if !w.heading.OK {
			continue
		}
		if d := math.Abs(geo.Diff(w.heading.Val, want)); !near.OK || d < near.Val {
			near = boat.Some(d)
		}
	}
	if !near.OK {
		return CannotTell, "no heading was heard"
	}
	return yes(near.Val <= 10), fmt.Sprintf("within %.0f° of it", near.Val)
}

// trueHeading returns the heading a cue names, true. The model's doubt must be
// small beside the ten degrees that count.
func trueHeading(c Said) (float64, bool) {
	if !c.Amount.OK {
		return 0, false
	}
	if c.Ref == boat.True {
		return c.Amount.Val, true
	}
	if !c.PosOK {
		return 0, false
	}
	variation, sd, _ := geo.Declination(c.Pos, 0, geo.Year(int64(c.T)))
	return geo.Wrap360(c.Amount.Val + variation), sd < 3
}

// straightened: answered when the heading then stayed within six degrees for
// three seconds.
func (r *Report) straightened(c boat.Cue) (Answer, string) {
	rows := r.after(c, weightS)
	seen := false
	for i := 3; i < len(rows); i++ {
		widest, ok := 0.0, true
		for _, w := range rows[i-3 : i] {
			ok = ok && w.heading.OK && rows[i].heading.OK
			widest = math.Max(widest, math.Abs(geo.Diff(w.heading.Val, rows[i].heading.Val)))
		}
		seen = seen || ok
		if ok && widest <= 6 {
			return Yes, "the heading held"
		}
	}
	if !seen {
		return CannotTell, "no heading was heard"
	}
	return No, "she went on turning"
}

// heel: answered when she came up (change < 0) or leant over by that much.
func (r *Report) heel(c boat.Cue, change, within float64) (Answer, string) {
	sign := math.Copysign(1, change)
	was, now := mean(r.before(c), lean), furthest(r.after(c, within), sign, lean)
	if !was.OK || !now.OK {
		return CannotTell, "heel was not known"
	}
	return yes(now.Val-sign*was.Val >= math.Abs(change)), fmt.Sprintf("heel %.0f° to %.0f°", was.Val, sign*now.Val)
}

// sheeted: the sheet is not seen, so only a gain in speed shows; without one it
// cannot be told.
func (r *Report) sheeted(c boat.Cue) (Answer, string) {
	was := mean(r.before(c), pace)
	now := mean(r.rowsIn(c.T.After(sheetS/3), c.T.After(sheetS)), pace)
	if was.OK && now.OK && now.Val-was.Val >= leastShare {
		return Yes, "speed rose"
	}
	return CannotTell, "the sheet cannot be seen, and the speed did not show it"
}

// quickened: answered when her share of the expected speed reached enough, or
// rose by gain.
func (r *Report) quickened(c boat.Cue, enough, gain float64) (Answer, string) {
	was, now := mean(r.before(c), pace), furthest(r.after(c, speedS), 1, pace)
	if !now.OK {
		return CannotTell, "the wind was not known"
	}
	got := now.Val >= enough || was.OK && now.Val-was.Val >= gain
	return yes(got), fmt.Sprintf("speed came to %.1f of what she could do", now.Val)
}

// turned: a turn that does not follow is no fault, the water may not have been clear.
func (r *Report) turned(c boat.Cue, kind string, within float64) (Answer, string) {
	if r.turnBegins(c.T, within, kind) {
		return Yes, "she turned"
	}
	return CannotTell, "no turn followed; perhaps it was not clear"
}

func (r *Report) turnBegins(t boat.Time, within float64, kind string) bool {
	for _, m := range r.Turns {
		if m.Start >= t && m.Start <= t.After(within) && (kind == "" || m.Kind == kind) {
			return true
		}
	}
	return false
}

// freed: answered when she was out of irons within twenty seconds.
func (r *Report) freed(c boat.Cue) (Answer, string) {
	rows := r.after(c, speedS)
	for _, w := range rows {
		if w.mode != boat.Irons {
			return Yes, fmt.Sprintf("out of irons after %.0f s", w.t.Seconds(c.T))
		}
	}
	if len(rows) == 0 {
		return CannotTell, "the session ends there"
	}
	return No, "she stayed in irons"
}

func yes(b bool) Answer {
	if b {
		return Yes
	}
	return No
}
