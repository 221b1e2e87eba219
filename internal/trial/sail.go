package trial

import (
	"fmt"
	"math"
	"strings"

	"helmcue/internal/boat"
	"helmcue/internal/engine"
	"helmcue/internal/geo"
)

// Sail sails one session and scores it. The same session gives the same score. An
// unknown scenario is an error that lists the known ones.
func Sail(s Session) (*Score, error) {
	for _, sc := range scenarios() {
		if sc.name != s.Scenario {
			continue
		}
		m, err := sc.prepare()
		if err != nil {
			return nil, fmt.Errorf("scenario %s: %w", sc.name, err)
		}
		return newTrip(s, sc, m).sailed(), nil
	}
	return nil, fmt.Errorf("expected a scenario (%s), got %q", strings.Join(Scenarios(), ", "), s.Scenario)
}

func newTrip(s Session, sc scenario, m maker) *trip {
	return &trip{session: s, scenario: sc, sim: m(s.Seed), eng: engine.New()}
}

// sailed sails the trip and scores it.
func (t *trip) sailed() *Score {
	t.sail()
	return t.score()
}

// trip is a session under way.
type trip struct {
	session  Session
	scenario scenario
	sim      world
	eng      *engine.Engine

	ms      []moment
	calls   []call
	motor   int
	turns   int // tacks and gybes begun
	tacks   int // tacks done
	last    boat.Mode
	turning bool
	oneTack int
}

// call is one shift that was called.
type call struct {
	i    int     // moment
	lift float64 // degrees, header negative
}

func (t *trip) sail() {
	set := t.sim.Settings()
	t.eng.Step(boat.Input{T: start, Kind: boat.SettingsIn, Settings: &set})
	for range t.session.Minutes * 600 * max(1, t.scenario.times) {
		for _, in := range t.sim.Step() {
			if in.Kind == boat.WindFixIn && !t.fix(&in) {
				continue
			}
			for _, o := range t.eng.Step(in) {
				t.heard(o)
			}
		}
	}
}

// fix makes the fix that the variant asks for of the scenario's own, and says
// whether there is one.
func (t *trip) fix(in *boat.Input) bool {
	f := *in.WindFix
	f.Method, f.Ref = "hand", boat.True
	f.DirDeg = boat.Some(geo.Wrap360(t.sim.Truth().TWDDeg + t.session.Variant.OffDeg))
	in.WindFix = &f
	return t.session.Variant.Fix
}

func (t *trip) heard(o boat.Output) {
	switch {
	case o.Status != nil:
		t.second(*o.Status)
	case o.Cue != nil:
		t.cue(*o.Cue)
		if t.session.Variant.Obeys {
			t.sim.Hear(*o.Cue)
		}
	}
}

func (t *trip) cue(c boat.Cue) {
	if t.last == boat.Motoring && coaches(c.Key) {
		t.motor++
	}
	if c.Key == boat.Lifted || c.Key == boat.Headed {
		lift := c.Amount.Or(5)
		if c.Key == boat.Headed {
			lift = -lift
		}
		t.calls = append(t.calls, call{len(t.ms) - 1, lift})
	}
}

// coaches says whether a cue tells how to sail: a warning of land, another boat or
// a failing phone is as good under engine.
func coaches(key boat.Key) bool {
	switch key {
	case boat.System, boat.WindLost, boat.Shore, boat.OtherBoat, boat.Bearing, boat.Dark, boat.Rest, boat.Say:
		return false
	}
	return true
}

func (t *trip) second(st boat.Status) {
	truth := t.sim.Truth()
	turning := truth.Mode == boat.Tacking || truth.Mode == boat.Gybing
	if turning && !t.turning {
		t.turns++
	}
	if t.turning && !turning && t.last == boat.Tacking {
		t.tacks++
	}
	t.turning, t.last = turning, truth.Mode
	if t.turns == 0 && st.TWDKnown && !t.session.Variant.Fix && t.scenario.noHeel {
		t.oneTack++
	}
	t.ms = append(t.ms, moment{
		st: st, twd: truth.TWDDeg, twa: truth.TWADeg, heading: truth.HeadingDeg,
		aim: truth.AimDeg, cog: truth.COGDeg, sog: truth.SOGKn, mode: truth.Mode, after: t.tacks >= 2,
	})
}

func (t *trip) score() *Score {
	told, lasting := t.scenario.told, t.scenario.lasting
	if r, ok := t.sim.(*race); ok {
		told.jumps, lasting = r.steps, r.steps
	}
	if t.session.Variant.Fix {
		told.fixSDDeg = math.Max(2, math.Abs(t.session.Variant.OffDeg))
	}
	slowWind(t.ms)
	bound(t.ms, told)
	s := &Score{Sessions: 1, OneTack: t.oneTack, Motor: t.motor}
	for _, m := range t.ms {
		s.take(m)
	}
	t.lock(s)
	t.shifts(s, lasting)
	return s
}

// lock finds how long she sailed before the wind was known, seconds.
func (t *trip) lock(s *Score) {
	sailed := 0.0
	for _, m := range t.ms {
		if m.st.TWDKnown {
			s.Lock = append(s.Lock, sailed)
			return
		}
		if m.mode.Sailing() {
			sailed++
		}
	}
	if sailed > 0 {
		s.Never++
	}
}
