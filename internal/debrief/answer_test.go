package debrief

import (
	"testing"

	"helmcue/internal/boat"
)

// Each case: what was asked, what she did after, what that is.
func TestAnswers(t *testing.T) {
	type act func(m *made)
	stay := func(m *made) { m.sail(40) }
	to := func(deg float64) act { return func(m *made) { m.sail(2); m.angle(deg); m.sail(40) } }
	pace := func(share float64) act {
		return func(m *made) { m.sail(3); m.now.Share = boat.Some(share); m.sail(40) }
	}
	heel := func(deg float64) act { return func(m *made) { m.sail(1); m.lean = deg; m.sail(40) } }
	for _, c := range []struct {
		name   string
		key    boat.Key
		amount float64
		then   act
		want   Answer
	}{
		{"bears away by half", boat.BearAway, 10, to(50), Yes},
		{"bears away too little", boat.BearAway, 10, to(49), No},
		{"goes the other way", boat.BearAway, 5, to(40), No},
		{"heads up", boat.HeadUp, 5, to(42), Yes},
		{"stays", boat.HeadUp, 5, stay, No},
		{"answers too late", boat.HeadUp, 5, func(m *made) { m.sail(12); m.angle(40); m.sail(20) }, No},
		{"one wave is no answer", boat.HeadUp, 5, func(m *made) { m.sail(2); m.angle(40); m.sail(1); m.angle(45); m.sail(20) }, No},
		{"tacks instead", boat.HeadUp, 5, func(m *made) { m.sail(1); m.tack(5); m.sail(20) }, CannotTell},
		{"speed rises after easing", boat.Ease, 0, pace(1.05), Yes},
		{"nothing shows after easing", boat.Trim, 0, stay, CannotTell},
		{"a luff is not seen", boat.LuffTest, 0, pace(1.1), CannotTell},
		{"comes up when the sheet goes", boat.LetGo, 0, heel(3), Yes},
		{"stays over", boat.LetGo, 0, heel(9), No},
		{"leans out", boat.SitOut, 0, heel(6), Yes},
		{"sits in", boat.SitIn, 0, heel(14), Yes},
		{"waits for speed", boat.LetRun, 0, pace(0.9), Yes},
		{"does not wait", boat.LetRun, 0, func(m *made) { m.at45(0.6); m.sail(40) }, No},
		{"tacks when told", boat.PrepareTack, 0, func(m *made) { m.sail(8); m.tack(5) }, Yes},
		{"does not tack: perhaps not clear", boat.PrepareTack, 0, stay, CannotTell},
		{"praise asks for nothing", boat.Good, 0, stay, NotAsked},
		{"a look is not counted", boat.Look, 0, stay, NotAsked},
		{"out of irons", boat.InIrons, 0, func(m *made) { m.now.Mode = boat.Irons; m.sail(8); m.now.Mode = boat.Reaching; m.sail(9) }, Yes},
		{"stays in irons", boat.InIrons, 0, func(m *made) { m.now.Mode = boat.Irons; m.sail(60) }, No},
		{"steers the heading", boat.SteerTo, 210, to(60), Yes},
		{"steers another", boat.SteerTo, 180, to(60), No},
		{"holds straight", boat.Straighten, 0, stay, Yes},
		{"goes on turning", boat.Straighten, 0, func(m *made) {
			for i := range 20 {
				m.angle(45 + 5*float64(i))
				m.sail(1)
			}
		}, No},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := newMade()
			m.sail(30)
			amount := boat.Reading{}
			if c.amount != 0 {
				amount = boat.Some(c.amount)
			}
			m.say(c.key, "words", amount)
			m.Outputs[len(m.Outputs)-1].Cue.Ref = boat.True
			c.then(m)
			got := Build(m.Session).Said[0]
			if got.Answer != c.want {
				t.Errorf("got %v (%s), want %v", got.Answer, got.Because, c.want)
			}
			if (got.Because == "") != (c.want == NotAsked) {
				t.Errorf("because %q", got.Because)
			}
		})
	}
}

// The made session lies in mid-Atlantic, where the World Magnetic Model puts the
// compass some nine degrees west: 220 on it is about 211 true.
func TestMagneticHeadingIsComparedTrue(t *testing.T) {
	m := newMade()
	m.sail(30)
	m.say(boat.SteerTo, "steer two two zero", boat.Some(220))
	m.Outputs[len(m.Outputs)-1].Cue.Ref = boat.Magnetic
	m.angle(70) // heading 200 true
	m.sail(30)
	if got := Build(m.Session).Said[0]; got.Answer != No || got.Because != "within 11° of it" {
		t.Errorf("got %v, %q", got.Answer, got.Because)
	}
}

func TestDroppedCuesAreNotHeldAgainstAnyone(t *testing.T) {
	m := newMade()
	m.sail(30)
	id := m.say(boat.HeadUp, "head her up a touch", boat.Some(5))
	m.in(boat.Input{Kind: boat.SpokenIn, Spoken: &boat.Spoken{ID: id, Where: "phone", What: "dropped"}})
	m.sail(30)
	id = m.say(boat.HeadUp, "head her up a touch", boat.Some(5))
	m.in(boat.Input{Kind: boat.SpokenIn, Spoken: &boat.Spoken{ID: id, Where: "phone", What: "dropped"}})
	m.in(boat.Input{Kind: boat.SpokenIn, Spoken: &boat.Spoken{ID: id, Where: "boat", What: "finished"}})
	m.sail(30)
	r := Build(m.Session)
	if r.Said[0].Answer != NotHeard || r.Said[1].Answer != No {
		t.Errorf("got %v and %v, want not heard and no", r.Said[0].Answer, r.Said[1].Answer)
	}
	if yes, no, unknown := r.Counted(); yes != 0 || no != 1 || unknown != 0 {
		t.Errorf("counted %d, %d, %d", yes, no, unknown)
	}
}

func TestWornPhoneHasNoHeel(t *testing.T) {
	m := newMade()
	m.in(boat.Input{Kind: boat.SettingsIn, Settings: &boat.Settings{Boat: "Wren", LengthM: 4, Mount: boat.Worn}})
	m.sail(30)
	m.say(boat.SitOut, "hike out", boat.Reading{})
	m.lean = 0
	m.sail(30)
	if got := Build(m.Session).Said[0]; got.Answer != CannotTell {
		t.Errorf("got %v, want cannot tell", got.Answer)
	}
}
