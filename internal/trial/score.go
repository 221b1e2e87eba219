package trial

import (
	"cmp"
	"math"
	"slices"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Score is what came of one session or of many. Its counts are of seconds, except
// where they say otherwise.
type Score struct {
	Sessions int
	After    int // since the second tack was done
	Known    int // of these, the wind was known
	Inside   int // of those, the truth lay in the 90 % interval
	Err      Errors
	Slow     Errors // against the mean wind of the half minute, which leaves its flutter out
	Beat     Errors // of Slow, while she beat

	Bound, BeatBound float64 // summed squares of the bound of Slow and Beat, degrees squared

	Claimed int // known, while the wind came from a side
	Wrong   int // and it came from the other one
	OneTack int // known before the first turn with nothing that tells the side
	Lock    []float64
	Never   int // sessions in which it never became known

	Hours  float64 // in which shifts could be called
	False  int     // calls of a shift that was not there
	Shifts int     // lasting shifts there were
	Delays []float64
	Motor  int // cues while she motored
}

// Merge adds another score.
func (s *Score) Merge(o *Score) {
	s.Sessions += o.Sessions
	s.After += o.After
	s.Known += o.Known
	s.Inside += o.Inside
	s.Err.Merge(&o.Err)
	s.Slow.Merge(&o.Slow)
	s.Beat.Merge(&o.Beat)
	s.Bound += o.Bound
	s.BeatBound += o.BeatBound
	s.Claimed += o.Claimed
	s.Wrong += o.Wrong
	s.OneTack += o.OneTack
	s.Lock = append(s.Lock, o.Lock...)
	s.Never += o.Never
	s.Hours += o.Hours
	s.False += o.False
	s.Shifts += o.Shifts
	s.Delays = append(s.Delays, o.Delays...)
	s.Motor += o.Motor
}

// BoundRMS is the bound in the mean over the moments of Slow, and BeatBoundRMS over
// those of Beat, degrees; NaN where there are none.
func (s *Score) BoundRMS() float64 { return math.Sqrt(s.Bound / float64(s.Slow.n)) }

// BeatBoundRMS is BoundRMS on the beat.
func (s *Score) BeatBoundRMS() float64 { return math.Sqrt(s.BeatBound / float64(s.Beat.n)) }

// moment is one second of a session: what was believed and what was true.
type moment struct {
	st       boat.Status
	twd, twa float64 // the truth
	slow     float64 // the mean of twd over half a minute round it
	heading  float64 // true
	aim      float64 // the wind angle she means to sail, unsigned
	cog, sog float64
	mode     boat.Mode
	boundSq  float64 // squared bound, degrees squared; 0: not reckoned
	after    bool    // the second tack was done
}

// A side means something between these angles off the wind: nearer the bow or the
// stern, an error of a few degrees changes it.
const (
	sideLoDeg = 25.0
	sideHiDeg = 155.0
)

// take scores one second.
func (s *Score) take(m moment) {
	known := m.st.TWDKnown && m.st.TWDDeg.OK
	off := geo.Diff(m.twd, m.st.TWDDeg.Or(0))
	if a := math.Abs(m.twa); known && a > sideLoDeg && a < sideHiDeg {
		s.Claimed++
		if geo.Wrap180(m.twa+off)*m.twa < 0 {
			s.Wrong++
		}
	}
	if !m.after {
		return
	}
	s.After++
	if !known {
		return
	}
	s.Known++
	s.Err.Add(off)
	slow := geo.Diff(m.slow, m.st.TWDDeg.Val)
	s.Slow.Add(slow)
	s.Bound += m.boundSq
	if m.mode == boat.CloseHauled || m.mode == boat.Tacking {
		s.Beat.Add(slow)
		s.BeatBound += m.boundSq
	}
	if geo.Wrap360(m.twd-m.st.TWDLoDeg.Val) <= geo.Wrap360(m.st.TWDHiDeg.Val-m.st.TWDLoDeg.Val) {
		s.Inside++
	}
}

// median returns the middle of the values, NaN of none.
func median(v []float64) float64 { return quantile(v, 0.5) }

func quantile(v []float64, q float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	v = slices.Clone(v)
	slices.SortFunc(v, cmp.Compare[float64])
	return v[int(math.Ceil(q*float64(len(v))))-1]
}
