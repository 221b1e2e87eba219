package shift

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Sight is what the Watch looks at, at one moment.
type Sight struct {
	State   boat.State
	Wind    boat.Wind
	Target  boat.Target
	Mode    boat.Mode
	TWADeg  boat.Reading // its sign tells the tack
	Turn    boat.Turn
	Coached bool // her heading is one that was asked for
	// Polar is her speed in knots at a wind speed in knots and an angle to it, 0..180.
	Polar func(twsKn, twaDeg float64) float64
}

const (
	turnedS  = 20.0  // after a turn her heading says nothing yet
	staleS   = 900.0 // a mean of the tack is kept so long while she is on the other
	holdS    = 150.0 // a shift called is reported so long
	unclearS = 60.0  // then the new heading is taken for the mean, and nothing was said
	swungDeg = 6.0   // nearer to the mean of ten minutes it is back where it was, or on its way there
	sensible = 1000  // degrees or knots beyond which a reading is none
	freshS   = 5.0   // an instrument's word
	keptLn   = 0.1   // change of her speed, as a logarithm, beyond which it was not kept: who foots without easing slows, too
	provedS  = 120.0 // on one tack, before its mean tells a lasting shift from a swing
)

// windDir is the wind's direction where an instrument shows it.
func (s *Sight) windDir() boat.Reading {
	if s.Wind.By == "instrument" && s.Wind.Known && s.Wind.AgeS < freshS {
		return s.Wind.DirDeg
	}
	return boat.Reading{}
}

func (s *Sight) side() float64 { return math.Copysign(1, s.TWADeg.Val) }

// Watch follows one boat. Make it with New; it is for one goroutine.
type Watch struct {
	gather gather
	tack   [2]tack // port, starboard
	swing  swing
	shift  boat.Shift
	quietT boat.Time // of the last turn
	doubtT boat.Time // since when a call is unclear; 0: none
	doubt  int
	from   boat.Time // where the departure in doubt began
	recent []block
	trial  trial
}

// tack is what is known of one tack. Headings are relative to origin.
type tack struct {
	origin boat.Reading
	by     string // motion or instrument
	seen   boat.Time
	sum    sum
	slow   slow
}

// New makes a Watch that knows nothing.
func New() *Watch { return &Watch{} }

// Step takes the boat at one moment, in order of time, ten times a second or at
// least once, and returns the shift that holds.
func (w *Watch) Step(s Sight) boat.Shift {
	now := s.State.T
	for _, r := range []*boat.Reading{&s.State.HeadingDeg, &s.State.SpeedKn, &s.TWADeg, &s.Wind.DirDeg, &s.Wind.SpeedKn} {
		r.OK = r.OK && math.Abs(r.Val) <= sensible // no NaN is: one of them would stay in a mean for good
	}
	if s.Turn.Phase != boat.NoTurn || s.Mode == boat.Tacking || s.Mode == boat.Gybing || s.Mode == boat.Irons {
		w.quietT, w.gather = now, gather{}
		w.clear()
		w.trial = trial{}
	}
	if w.shift.Kind != "" && now.Seconds(w.shift.CalledT) > holdS {
		w.clear()
	}
	w.close(&s)
	if !w.shows(&s) {
		w.gather = gather{}
		return w.shift
	}
	if b, ok := w.gather.add(&s); ok {
		w.block(&s, b)
	}
	return w.shift
}

// shows says whether this moment tells anything of the wind.
func (w *Watch) shows(s *Sight) bool {
	if !s.TWADeg.OK || !s.State.HeadingDeg.OK || w.quietT != 0 && s.State.T.Seconds(w.quietT) < turnedS {
		return false
	}
	if s.windDir().OK {
		return s.Mode.Sailing()
	}
	return s.Mode == boat.CloseHauled && !s.Coached && w.trial.asked == 0
}

// clear forgets the shift reported, not what was learned.
func (w *Watch) clear() {
	w.doubtT = 0
	w.shift = boat.Shift{ID: w.shift.ID, PeriodS: w.shift.PeriodS, SwingDeg: w.shift.SwingDeg, Close: w.shift.Close}
}

func (w *Watch) block(s *Sight, b block) {
	side := s.side()
	k := w.onTack(s, b)
	val := b.headDeg
	if b.dirDeg.OK {
		val = b.dirDeg.Val
	}
	clock := geo.Diff(k.origin.Val, val)
	w.swing.take(b.t, k.slow.off(clock))
	w.shift.PeriodS, w.shift.SwingDeg = w.swing.known()
	w.recent = append(w.recent, b)
	w.recent = w.recent[max(0, len(w.recent)-24):]
	lift := float64(side * clock)
	call := k.sum.take(b.t, lift, b.lnKn, w.shift.SwingDeg.Or(0))
	if w.doubtT == 0 && call != 0 {
		w.doubtT, w.doubt, w.from = b.t, call, k.sum.upT
		if call < 0 {
			w.from = k.sum.downT
		}
	}
	if w.doubtT != 0 {
		w.weigh(s, k, b)
	}
}

// onTack returns the test of the tack she is on, begun anew where what it knows is
// old or was learned from another witness.
func (w *Watch) onTack(s *Sight, b block) *tack {
	i := 0
	if s.side() > 0 {
		i = 1
	}
	k := &w.tack[i]
	val, by := boat.Some(b.headDeg), "motion"
	if b.dirDeg.OK {
		val, by = b.dirDeg, "instrument"
	}
	if !k.origin.OK || k.by != by || b.t.Seconds(k.seen) > staleS {
		*k = tack{origin: val, by: by, sum: newSum()}
		w.swing = swing{}
	}
	if k.seen != 0 && b.t.Seconds(k.seen) > turnedS {
		w.recent = nil
	}
	k.seen = b.t
	return k
}

// weigh decides what a departure is, or leaves it unclear for a while.
func (w *Watch) weigh(s *Sight, k *tack, b block) {
	d := w.since(s, k)
	if math.Abs(d.lift) < leastLift || d.lift*float64(w.doubt) < 0 { // she is back
		w.settle(k)
		return
	}
	v := d.odds.verdict()
	if k.by == "instrument" {
		if b.t == w.doubtT { // the step lies within this block, which tells half of it
			return
		}
		v = byWind
	}
	w.shift.Unclear, w.shift.Helm = v == unclear, ""
	switch {
	case v == byWind && k.by != "instrument" && math.Abs(d.ln) > keptLn:
		w.shift.Unclear = true
	case v == byWind && math.Abs(d.lift) < callLift:
	case v == byWind:
		w.call(k, d, b)
		return
	case v == byHelm && d.lift > 0:
		w.shift.Helm = "pinch"
	case v == byHelm:
		w.shift.Helm = "foot"
	}
	if b.t.Seconds(w.doubtT) > unclearS {
		w.adopt(k, d.lift)
	}
}

// departure is what she did from where it began.
type departure struct {
	lift float64 // mean, degrees
	ln   float64 // mean change of her speed's logarithm
	odds odds
}

func (w *Watch) since(s *Sight, k *tack) departure {
	var d departure
	n, before := 0.0, 0.0
	for _, b := range w.recent {
		off := b.lnKn - k.sum.lnKn
		if b.t >= w.from {
			val := b.headDeg
			if k.by == "instrument" {
				val = b.dirDeg.Or(b.headDeg)
			}
			lift := float64(s.side()*geo.Diff(k.origin.Val, val)) - k.sum.mean
			d.lift, d.ln, n = d.lift+lift, d.ln+off, n+1
			d.odds.take(s, pace{off, before, k.sum.lnScale}, lift)
		}
		before = off
	}
	if n > 0 {
		d.lift, d.ln = d.lift/n, d.ln/n
	}
	return d
}

func (w *Watch) settle(k *tack) {
	k.sum.up, k.sum.down, w.doubtT = 0, 0, 0
	w.shift.Unclear, w.shift.Helm = false, ""
}

// adopt takes the new heading for the mean without a word.
func (w *Watch) adopt(k *tack, lift float64) {
	k.sum.restart(k.sum.mean + lift)
	w.settle(k)
}

func (w *Watch) call(k *tack, d departure, b block) {
	lift := d.lift
	side := -1.0
	if k == &w.tack[1] {
		side = 1
	}
	id, period, far, close := w.shift.ID+1, w.shift.PeriodS, w.shift.SwingDeg, w.shift.Close
	kind := boat.Persistent
	fromSlow := float64(side * (float64(k.sum.mean*side) + float64(lift*side) - k.slow.mean))
	mean := math.Min(meanBlocks, k.sum.n) * blockS
	young := k.by != "instrument" && mean < provedS
	swings := math.Max(float64(far.Or(-2)*1.3)+2, float64(k.slow.far()*1.3))
	if young || math.Abs(lift) <= swings || fromSlow*lift < 0 || math.Abs(fromSlow) < swungDeg {
		kind = boat.Oscillating
	}
	w.shift = boat.Shift{
		Kind: kind, ID: id, LiftDeg: lift, SDDeg: k.sum.scale / math.Sqrt(1-carry*carry), Since: w.from, CalledT: b.t, By: k.by,
		PeriodS: period, SwingDeg: far, Close: close,
		Why: fmt.Sprintf("%+.0f° against the mean of the last %.0f s on this tack, speed %+.0f %%", lift, mean, 100*(math.Exp(d.ln)-1)),
	}
	k.sum.restart(k.sum.mean + lift)
	w.doubtT = 0
}
