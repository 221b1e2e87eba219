package exercise

import (
	"fmt"
	"math"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// legTry is a leg to windward: to a mark of the chart that lies upwind, or to one set
// straight upwind. The best time is the part of its distance that lies upwind at her
// polar's best speed made good in the wind believed at the start; what she lost in
// tacks is hers to keep small.
type legTry struct {
	lengths float64
	mark    geo.Position
	set     boat.Time
	upDeg   float64 // towards the mark at the start
	metres  float64
	bestS   float64
	tacks   int
	told    boat.Time // the bearing
	asked   boat.Time // the tack
	tackT   boat.Time
	turn    boat.Time // the start of the last tack
}

const (
	legLengths = 60.0
	legNearLen = 5.0
	legNearM   = 20.0
	legGood    = 0.75
	bearAfterS = 10.0 // after a tack, and
	bearAgainS = 45.0
	layDeg     = 4.0 // beyond the layline
	legSlowest = 4.0 // times the best time, and it is given up
	knotMS     = 1852.0 / 3600
)

func newLeg(st boat.PlanStep) try {
	t := &legTry{lengths: st.Lengths}
	if t.lengths < 4*legNearLen {
		t.lengths = legLengths
	}
	return t
}

func (t *legTry) step(s *Sight) move {
	if !s.State.PosOK {
		return waiting("waits: the position is not known")
	}
	if t.set == 0 {
		return t.place(s)
	}
	if s.Turn.Kind == "tack" && s.Turn.Phase == boat.PastEye && s.Turn.Start != t.turn {
		t.tacks++
		t.turn, t.tackT = s.Turn.Start, s.Now
	}
	d := geo.Distance(s.State.Pos, t.mark)
	b, ok := geo.Bearing(s.State.Pos, t.mark)
	m := move{begun: true, text: fmt.Sprintf("to the mark, about %.0f m", math.Round(d/50)*50)}
	there := d <= math.Max(legNearM, legNearLen*s.Settings.LengthM) || ok && math.Abs(geo.Diff(t.upDeg, b)) > 90
	switch {
	case there:
		m.end = t.result(s, d)
	case s.Now.Seconds(t.set) > legSlowest*t.bestS:
		return failed("", "not there after four times the best time")
	case ok:
		t.words(s, b, &m)
	}
	return m
}

func (t *legTry) place(s *Sight) move {
	if s.Mode != boat.CloseHauled || !s.past.steady(s.Now, 10, 8) || !(s.Target.BeatVMG > 0.3) {
		return waiting("waits for a steady course close-hauled")
	}
	t.upDeg = s.Wind.DirDeg.Val
	t.metres = t.lengths * s.Settings.LengthM
	t.mark = geo.Destination(s.State.Pos, t.upDeg, t.metres)
	why := "the mark is set %.0f m upwind"
	if m, up, ok := s.markUpwind(t.metres); ok {
		t.mark, t.metres, why = m, up, "a mark of the chart lies %.0f m upwind"
	}
	if !s.room(t.mark) {
		return waiting("waits: the mark would lie too near the shore")
	}
	t.set, t.told = s.Now, s.Now
	t.bestS = t.metres / (s.Target.BeatVMG * knotMS)
	return move{begun: true, text: fmt.Sprintf(why, t.metres), prompt: s.bearing(t.mark, fmt.Sprintf(why, t.metres))}
}

// markUpwind returns the nearest mark of the chart that takes a beat, between half of
// metres and three times as far, and how far upwind it is.
func (s *Sight) markUpwind(metres float64) (mark geo.Position, upM float64, ok bool) {
	best := 3 * metres
	for _, p := range s.Water.Marks {
		b, there := geo.Bearing(s.State.Pos, p)
		d := geo.Distance(s.State.Pos, p)
		if off := s.offWind(b); there && off <= s.Target.BeatDeg/2 && d >= metres/2 && d < best {
			mark, upM, ok, best = p, float64(d*math.Cos(geo.Rad(off))), true, d
		}
	}
	return mark, upM, ok
}

// words asks for the tack on the layline and names the bearing now and then.
func (t *legTry) words(s *Sight, bearing float64, m *move) {
	if !s.straight() || s.Planned || s.unfit() != "" {
		return
	}
	// On the other tack she would point at the mark from here.
	over := float64(s.side() * geo.Diff(s.Wind.DirDeg.Or(bearing), bearing))
	if s.Mode == boat.CloseHauled && over >= s.Target.BeatDeg+layDeg && (t.asked == 0 || s.Now.Seconds(t.asked) > againS) {
		t.asked = s.Now
		m.turn = boat.TurnWish{Kind: "tack", Why: fmt.Sprintf("the mark bears %.0f° off the wind: the other tack lays it", over)}
		return
	}
	if t.tackT > t.told && s.Now.Seconds(t.tackT) > bearAfterS && s.Now.Seconds(t.told) > bearAgainS {
		t.told = s.Now
		m.prompt = s.bearing(t.mark, "on the new tack")
	}
}

func (t *legTry) result(s *Sight, d float64) *end {
	sailed := s.Now.Seconds(t.set)
	share := t.bestS / math.Max(1, sailed)
	return &end{good: d <= 2*math.Max(legNearM, legNearLen*s.Settings.LengthM) && share >= legGood,
		why:   fmt.Sprintf("%.0f m upwind in %.0f s with %d tacks; %.0f s at her best speed to windward", t.metres, sailed, t.tacks, t.bestS),
		score: map[string]float64{"seconds": sailed, "best_s": t.bestS, "tacks": float64(t.tacks), "time_share": share}}
}
