package debrief

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

const eps = 1e-9

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > within {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

func costs(r Report) map[string]Cost {
	out := map[string]Cost{}
	for _, c := range r.Costs {
		out[c.What] = c
	}
	return out
}

// Numbers by hand. Best VMG: 4 kn times cos 45. A pinching second at 35 degrees
// and half of 3.6 kn makes 1.8 cos 35 good, so it loses 4 cos 45 - 1.8 cos 35 =
// 1.3540 kn. A slow second at 45 degrees and 0.8 loses 0.8 cos 45 = 0.5657 kn. A
// reach at 0.75 of 4 kn loses one knot.
func TestWhereMetresWent(t *testing.T) {
	m := newMade()
	m.sail(100)
	m.at45(0.8)
	m.sail(50)
	m.set(boat.CloseHauled, 35, 0.5)
	m.now.TargetKn = boat.Some(3.6)
	m.sail(40)
	m.now.TargetKn = boat.Some(4)
	m.set(boat.Reaching, 90, 0.75)
	m.now.TargetTWA = boat.Reading{}
	m.sail(30)
	r := Build(m.Session)

	c := costs(r)
	kn := geo.KnotMS
	near(t, "pinching, m", c[CostPinching].Metres, 40*kn*(4*math.Sqrt2/2-1.8*math.Cos(geo.Rad(35))), 1e-6)
	near(t, "pinching, m, by hand", c[CostPinching].Metres, 40*1.3540*0.51444, 0.01)
	near(t, "slow, m, by hand", c[CostSlow].Metres, 50*0.5657*0.51444+30*1*0.51444, 0.01)
	near(t, "slow, s", c[CostSlow].Seconds, 80, eps)
	near(t, "upwind", r.Target.UpwindS, 190, eps)
	near(t, "upwind on", r.Target.UpwindOnS, 150, eps)
	near(t, "too close", r.Target.UpwindHighS, 40, eps)
	near(t, "speed judged", r.Target.SpeedS, 220, eps)
	near(t, "speed on", r.Target.SpeedOnS, 100, eps)
	near(t, "longest good run", r.Target.LongestFastS, 150, eps)
	near(t, "sailed", r.SailedS, 220, eps)
	if r.LengthM != 4 || r.Boat != "Wren" || r.Start != start+1000 {
		t.Errorf("length %v, boat %q, start %v", r.LengthM, r.Boat, r.Start)
	}
	// 27.9 m pinching against 30.0 m slow: the larger comes first.
	if r.Costs[0].What != CostSlow {
		t.Errorf("most went on %s", r.Costs[0].What)
	}
}

func TestTacksAreInLengthsOfThisBoat(t *testing.T) {
	m := newMade()
	for _, lost := range []float64{20, 6, 8, 7, 16} {
		m.sail(60)
		m.tack(lost)
	}
	m.sail(60)
	r := Build(m.Session)
	near(t, "first tack", r.Turns[0].LostLengths.Val, 5, eps) // 20 m of a 4 m boat, whatever the manoeuvre said
	near(t, "in tacks", costs(r)[CostTacks].Metres, 57, eps)
	near(t, "sailed with turns", r.SailedS, 60*6+50, eps)
	near(t, "upwind without turns", r.Target.UpwindS, 60*6-5, eps) // the second in which a turn begins is the turn's
	for want, got := range map[string]string{
		"3 of 5 tacks cost two lengths or less, the best 1.5 lengths.": r.Well,
		"Most went in the tacks: about 55 m (14 lengths) of 55 m":      r.MostCost,
		"Next time: tack from a reach, three of four for 2 lengths":    r.Practise,
	} {
		if !strings.HasPrefix(got, want) {
			t.Errorf("got %q, want it to begin %q", got, want)
		}
	}
}

func TestBetterTacksAreNoticed(t *testing.T) {
	m := newMade()
	for _, lost := range []float64{20, 18, 12, 10, 9, 8} {
		m.sail(60)
		m.tack(lost)
	}
	r := Build(m.Session)
	if want := "The tacks got better: about 4.8 lengths each at first, 2.1 lengths at the end."; r.Well != want {
		t.Errorf("got %q, want %q", r.Well, want)
	}
}

func TestTooLittleSailing(t *testing.T) {
	m := newMade()
	m.sail(100)
	r := Build(m.Session)
	if r.Well != "Only 1 min 40 s of sailing was recorded." || !strings.HasPrefix(r.MostCost, "Nothing is judged") {
		t.Errorf("got %q, %q", r.Well, r.MostCost)
	}
	m = newMade()
	m.set(boat.Motoring, 10, 1)
	m.sail(600)
	if r = Build(m.Session); !strings.HasPrefix(r.Well, "She was under motor for 10 min") {
		t.Errorf("got %q", r.Well)
	}
	if r = Build(Session{}); !strings.HasPrefix(r.Well, "No readings") || len(r.Missing) == 0 {
		t.Errorf("got %q, missing %q", r.Well, r.Missing)
	}
}

func TestUnknownWindIsSaid(t *testing.T) {
	m := newMade()
	m.now.TWDKnown = false
	m.now.TWDOther = boat.Some(90)
	m.sail(300)
	m.say(boat.BearAway, "bear away slightly", boat.Some(5))
	m.angle(60)
	m.sail(60)
	r := Build(m.Session)
	if r.Target.SpeedS != 0 || r.Target.UpwindS != 0 || len(r.Costs) != 0 {
		t.Errorf("judged without a wind: %+v %+v", r.Target, r.Costs)
	}
	if r.Said[0].Answer != CannotTell {
		t.Errorf("an angle to an unknown wind was taken for an answer: %v", r.Said[0].Answer)
	}
	if all := strings.Join(r.Missing, "\n"); !strings.Contains(all, "The wind was never known") {
		t.Errorf("missing: %s", all)
	}
	if r.MostCost != "What cost most cannot be told: the wind was not known." {
		t.Errorf("got %q", r.MostCost)
	}
}

func TestStreamingIsTheSame(t *testing.T) {
	m := newMade()
	m.sail(60)
	m.say(boat.HeadUp, "head her up a touch", boat.Some(5))
	m.sail(200)
	m.tack(8)
	m.sail(30)
	b := NewBuilder(m.Config)
	i := 0
	for _, o := range m.Outputs {
		for ; i < len(m.Inputs) && m.Inputs[i].T <= o.Time(); i++ {
			b.Input(m.Inputs[i])
		}
		b.Output(o)
	}
	first := b.Report()
	if got, want := b.Report(), Build(m.Session); !reflect.DeepEqual(got, want) || !reflect.DeepEqual(first, got) {
		t.Error("the streamed report differs from the built one, or the second from the first")
	}
}

func TestWindOverTime(t *testing.T) {
	m := newMade()
	m.now.TWDDeg = boat.Some(358)
	m.sail(60)
	m.now.TWDDeg = boat.Some(2)
	m.sail(60)
	m.now.TWDDeg = boat.Some(20)
	m.sail(60)
	r := Build(m.Session)
	near(t, "first third", r.Wind.FirstDeg.Val, 358, 1e-6)
	near(t, "last third", r.Wind.LastDeg.Val, 20, 1e-6)
	if f := facts(r); f != "3 min recorded, 3 min of it sailing · wind from 000°, later 020° · 9 knots · 0 tacks" {
		t.Errorf("facts: %s", f)
	}
}

// A tack that bore away afterwards turned through 176 degrees: against keeping on
// it seems to have won thirty lengths, which is no news of the tack.
func TestTurnsThatRanOnAreNotScored(t *testing.T) {
	m := newMade()
	m.sail(200)
	m.tack(-120)
	m.Outputs[len(m.Outputs)-1].Manoeuvre.TurnDeg = boat.Some(176)
	m.sail(60)
	m.tack(10)
	r := Build(m.Session)
	if r.Turns[0].LostLengths.OK || !r.Turns[1].LostLengths.OK {
		t.Errorf("lost: %v, %v", r.Turns[0].LostLengths, r.Turns[1].LostLengths)
	}
	near(t, "in tacks", costs(r)[CostTacks].Metres, 10, eps)
	if p := turnLines(r); p[0].Lost != "–" || p[1].Lost != "2.5" {
		t.Errorf("table: %+v", p)
	}
}

// Under way for ten minutes on an unknown wind: neither sailing nor drifting.
func TestUnsureIsSaid(t *testing.T) {
	m := newMade()
	m.now.Mode, m.now.TWDKnown = boat.Unknown, false
	m.sail(600)
	r := Build(m.Session)
	near(t, "unsure", r.UnsureS, 600, eps)
	if !strings.Contains(r.Well, "how she was sailed cannot be told") {
		t.Errorf("got %q", r.Well)
	}
}

// A wind known by direction alone gives no target: the page says so.
func TestWindWithoutSpeed(t *testing.T) {
	m := newMade()
	m.now.Share, m.now.TargetKn, m.now.TargetTWA, m.now.TWSKn = boat.Reading{}, boat.Reading{}, boat.Reading{}, boat.Reading{}
	m.sail(600)
	r := Build(m.Session)
	if !strings.Contains(strings.Join(r.Missing, " "), "wind's speed was not known") || !strings.HasPrefix(r.MostCost, "What cost most cannot be told") {
		t.Errorf("missing %q, cost %q", r.Missing, r.MostCost)
	}
}

func TestACurrentIsInTheFacts(t *testing.T) {
	m := newMade()
	m.sail(100)
	if s := facts(Build(m.Session)); strings.Contains(s, "water") {
		t.Errorf("still water: %s", s)
	}
	m.now.SetDeg, m.now.DriftKn = boat.Some(138), boat.Some(0.5)
	m.sail(100)
	m.now.SetDeg, m.now.DriftKn = boat.Reading{}, boat.Reading{}
	m.sail(100)
	if s := facts(Build(m.Session)); !strings.Contains(s, "water setting towards 140°, 0.5 knots") {
		t.Errorf("a current was told: %s", s)
	}
}
