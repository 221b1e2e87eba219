package cue

import (
	"math"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// The thresholds tested in this package are common practice of instructors, no
// source, where no other source stands beside a test.

const t0 = boat.Time(1_800_000_000_000)

// scene sails a coach through situations at 10 Hz.
type scene struct {
	t    *testing.T
	c    *Coach
	s    Situation
	cues []boat.Cue
}

// newScene is a boat sailed well: close-hauled on starboard tack in 9 knots, past
// the first silence.
func newScene(t *testing.T, level boat.Level) *scene {
	sc := fresh(t, level)
	sc.run(70, nil)
	sc.cues = nil
	return sc
}

func fresh(t *testing.T, level boat.Level) *scene {
	sc := &scene{t: t, c: New(1), s: wellSailed(level)}
	return sc
}

func wellSailed(level boat.Level) Situation {
	s := Situation{
		Now:      t0,
		Settings: boat.Settings{Level: level, LengthM: 4.2, LimitKn: 15},
		Wind:     boat.Wind{DirDeg: boat.Some(0), SDDeg: 3, LoDeg: 355, HiDeg: 5, Known: true, SpeedKn: boat.Some(9), SpeedSD: 1, By: "fix"},
		Target:   boat.Target{BeatDeg: 44, BeatKn: 3.8, BeatVMG: 2.73, RunDeg: 150, RunKn: 3.6, RunVMG: 3.1, HereKn: 3.8, NoSailUp: 33, OK: true},
		Mode:     boat.CloseHauled, ModeSince: t0, TauS: 4,
	}
	s.State = boat.State{T: t0, PosOK: true, HeadingBy: "compass", CompassRef: boat.Magnetic, VarDeg: 4, VarOK: true,
		HeelDeg: boat.Some(-8), YawDps: boat.Some(0), Mount: boat.Fixed, Batt: boat.Some(0.8)}
	s.angle(44)
	s.pace(1)
	return s
}

// angle sets the boat's angle to the wind, starboard positive.
func (s *Situation) angle(twa float64) {
	s.TWADeg = boat.Some(geo.Wrap180(twa))
	s.State.HeadingDeg = boat.Some(geo.Wrap360(s.Wind.DirDeg.Or(0) - twa))
	s.State.COGDeg = s.State.HeadingDeg
}

// pace sets her share of the speed of a beat.
func (s *Situation) pace(share float64) {
	s.Share = boat.Some(share)
	s.State.SpeedKn = boat.Some(3.8 * share)
	s.State.SOGKn = s.State.SpeedKn
}

// mode changes the way of sailing.
func (s *Situation) mode(m boat.Mode) {
	if s.Mode != m {
		s.Mode, s.ModeSince = m, s.Now
	}
}

// noWind takes the wind away.
func (s *Situation) noWind() {
	s.Wind, s.TWADeg, s.Share, s.Target = boat.Wind{}, boat.Reading{}, boat.Reading{}, boat.Target{}
	s.mode(boat.Unknown)
}

// turn puts her into a phase of a turn of the kind that begins at start.
func (s *Situation) turn(kind string, phase boat.TurnPhase, start boat.Time) {
	s.Turn = boat.Turn{Kind: kind, Phase: phase, Start: start, EntryKn: 3.6, Eye: start.After(2.5), Settled: start.After(7)}
	switch {
	case phase == boat.NoTurn:
		s.Turn = boat.Turn{}
	case phase == boat.JustSteady:
	case kind == "gybe":
		s.mode(boat.Gybing)
	default:
		s.mode(boat.Tacking)
	}
}

// run sails on for sec seconds; each, if any, changes the situation before the
// coach sees it, by the seconds since the run began.
func (sc *scene) run(sec float64, each func(*Situation, float64)) *scene {
	from := sc.s.Now
	for n := 0; float64(n) < sec*10; n++ {
		sc.s.Now += 100
		sc.s.State.T = sc.s.Now
		if each != nil {
			each(&sc.s, sc.s.Now.Seconds(from))
		}
		for _, c := range sc.c.Decide(sc.s) {
			sound(sc.t, c)
			sc.cues = append(sc.cues, c)
		}
		sc.s.Scored = nil
	}
	return sc
}

// keys lists what was said, with variants.
func (sc *scene) keys() []string {
	var out []string
	for _, c := range sc.cues {
		name := string(c.Key)
		if c.Variant != "" {
			name += ":" + c.Variant
		}
		out = append(out, name)
	}
	return out
}

// first returns the first cue, which must have the key, or fails.
func (sc *scene) first(key boat.Key) boat.Cue {
	sc.t.Helper()
	if len(sc.cues) == 0 || sc.cues[0].Key != key {
		sc.t.Fatalf("first said %v, want %s", sc.keys(), key)
	}
	return sc.cues[0]
}

// never fails where the key was said.
func (sc *scene) never(keys ...boat.Key) {
	sc.t.Helper()
	for _, c := range sc.cues {
		for _, k := range keys {
			if c.Key == k {
				sc.t.Errorf("said %s (%s) at %.1f s, want silence on it", c.Key, c.Why, c.T.Seconds(t0))
			}
		}
	}
}

func (sc *scene) silent() {
	sc.t.Helper()
	if len(sc.cues) != 0 {
		sc.t.Errorf("said %v (%s), want silence", sc.keys(), sc.cues[0].Why)
	}
}

// variants are the forms that the phrase book has at some level.
func variants(k boat.Key) []string {
	switch k {
	case boat.HeadUp, boat.BearAway:
		return []string{"little", "5", "10"}
	case boat.Ease, boat.Trim:
		return []string{"", "hair", "little", "more"}
	case boat.Look:
		return []string{"luff", "flat_water", "under_sail", "windward_shoulder"}
	case boat.InIrons:
		return []string{"stuck", "sheet_loose", "bow_turned", "jib"}
	case boat.TurnNow:
		return []string{"", "gybe"}
	case boat.PrepareTack, boat.PrepareGybe:
		return []string{"", "heading"}
	case boat.SteerTo:
		return []string{"heading"}
	case boat.Bearing:
		return []string{"mark", "ramp"}
	case boat.Good:
		return []string{"", "once_more"}
	case boat.Lifted, boat.Headed:
		return []string{"5", "10", "15"}
	case boat.Intro:
		return []string{"", "closeness_test"}
	case boat.System:
		return []string{"position", "compass", "phone", "battery"}
	}
	return []string{""}
}

// sound fails where a cue is not one that anybody could speak and explain.
func sound(t interface{ Errorf(string, ...any) }, c boat.Cue) {
	bad := func(why string) { t.Errorf("cue %+v: %s", c, why) }
	if c.Why == "" || c.WhyCode == "" {
		bad("no reason")
	}
	if c.Expires <= c.T {
		bad("expired when made")
	}
	if !(c.Conf > 0 && c.Conf <= 1) {
		bad("confidence out of 0..1")
	}
	if c.Key != boat.Say && !contains(variants(c.Key), c.Variant) {
		bad("no such variant in the phrase book")
	}
	if (c.Key == boat.Look || c.Key == boat.InIrons || c.Key == boat.System) && c.WhyCode != c.Variant {
		bad("why_code and variant differ")
	}
	if c.Amount.OK && (math.IsNaN(c.Amount.Val) || math.Mod(c.Amount.Val, 5) != 0 || c.Amount.Val < 0 || c.Amount.Val >= 360) {
		bad("amount is no multiple of five, 0..355")
	}
	heading := c.Variant == "heading" || c.Key == boat.Bearing
	if heading != (c.Ref == boat.True || c.Ref == boat.Magnetic) || heading && !c.Amount.OK {
		bad("a heading needs amount and ref, and nothing else has a ref")
	}
	degrees := c.Key == boat.HeadUp || c.Key == boat.BearAway || c.Key == boat.Lifted || c.Key == boat.Headed
	if degrees && !(c.Amount.OK && c.Amount.Val >= 5 && c.Amount.Val <= 15) {
		bad("a change needs 5, 10 or 15 degrees")
	}
	if c.Level == boat.Beginner && (c.Key == boat.SteerTo || c.Key == boat.Lifted || c.Key == boat.Headed || heading || c.Variant == "5" || c.Variant == "10") {
		bad("not a beginner's words")
	}
	if c.Level != boat.Beginner && (c.Key == boat.Ease || c.Key == boat.Trim) && c.Size == "" {
		bad("no size")
	}
}

func contains(all []string, s string) bool {
	for _, a := range all {
		if a == s {
			return true
		}
	}
	return false
}
