package app

import (
	"encoding/json"
	"math/rand/v2"
	"strings"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/page"
	"helmcue/internal/phonemsg"
	"helmcue/internal/replay"
	"helmcue/internal/sim"
)

// both sails a boat whose instruments speak to the service and whose phone carries a
// coach of its own: what the phone sends goes to both, what the instruments say goes
// to the service, and to the page as the service hands it on.
type both struct {
	t      *testing.T
	a      *adrift
	sim    *sim.Sim
	own    *page.Engine
	dice   *rand.Rand
	linked bool
	here   []string // what each said, as JSON
	there  []string
	last   boat.Status // of the page's
}

func newBoth(t *testing.T, seed uint64) *both {
	a := newAdrift(t, true)
	s, err := sim.New("first-lesson", seed, a.now)
	if err != nil {
		t.Fatal(err)
	}
	b := &both{t: t, a: a, sim: s, own: page.New(), dice: rand.New(rand.NewPCG(seed, 3)), linked: true}
	a.seat.settings = s.Settings()
	a.seat.said = func(_ string, o boat.Output) { b.there = append(b.there, b.text(o)) }
	a.seat.told = func(_ string, in boat.Input) {
		if b.linked {
			m, err := phonemsg.Encode(phonemsg.Input{Boat: "Wren", Input: in})
			if err != nil {
				t.Fatal(err)
			}
			b.hear(string(m))
		}
	}
	set, err := json.Marshal(message{"type": "settings", "t": a.now, "settings": a.seat.settings})
	if err != nil {
		t.Fatal(err)
	}
	b.hear(string(set))
	return b
}

type message map[string]any

func (b *both) text(o boat.Output) string {
	b.t.Helper()
	out, err := json.Marshal(o)
	if err != nil {
		b.t.Fatal(err)
	}
	return string(out)
}

// hear tells the page's engine a message, and keeps what it says.
func (b *both) hear(m string) {
	b.t.Helper()
	out, err := b.own.Hear([]byte(m))
	if err != nil {
		b.t.Fatalf("%s: %v", m, err)
	}
	var outs []boat.Output
	if err := json.Unmarshal(out, &outs); err != nil {
		b.t.Fatal(err)
	}
	for _, o := range outs {
		b.here = append(b.here, b.text(o))
		if o.Status != nil {
			b.last = *o.Status
		}
	}
}

// sail lets seconds go by; instruments tell the apparent wind and the speed through
// the water once a second, as three sentences would.
func (b *both) sail(seconds int) {
	b.t.Helper()
	for i := range seconds * 10 {
		for _, in := range b.sim.Step() {
			var line strings.Builder
			if err := replay.WriteLine(&line, in); err != nil {
				b.t.Fatal(err)
			}
			m, err := phonemsg.Decode([]byte(line.String()))
			if err != nil {
				b.t.Fatal(err)
			}
			b.a.now = in.T
			b.hear(line.String())
			if b.linked {
				if err := b.a.seat.take(phonemsg.ToInputs(m, 0, nil)); err != nil {
					b.t.Fatal(err)
				}
			}
		}
		if i%10 != 3 {
			continue
		}
		tr, at := b.sim.Truth(), b.sim.Now()+37
		for _, s := range []boat.Sample{
			{TWDDeg: boat.Some(geo.Wrap360(tr.TWDDeg + 2*b.dice.NormFloat64())), TWSKn: boat.Some(tr.TWSKn)},
			{WaterKn: boat.Some(max(0, tr.STWKn+0.1*b.dice.NormFloat64()))},
		} {
			if err := b.a.seat.take([]boat.Input{{T: at, Kind: boat.SampleIn, Source: "nmea", Sample: &s}}); err != nil {
				b.t.Fatal(err)
			}
			at++
		}
	}
}

// While there is a link the page's coach is told what the instruments tell, and knows
// and says what the service's does. When the link is gone it goes on with what the
// phone senses: the instruments' wind ages, and is not held for new.
func TestInstrumentsReachThePagesCoach(t *testing.T) {
	for seed := range uint64(2) {
		b := newBoth(t, seed+1)
		b.sail(240)
		if len(b.here) != len(b.there) || len(b.here) < 240 {
			t.Fatalf("seed %d: the page's coach said %d things, the service's %d", seed, len(b.here), len(b.there))
		}
		cues := 0
		for i := range b.here {
			if b.here[i] != b.there[i] {
				t.Fatalf("seed %d: the page's coach said %s, the service's %s", seed, b.here[i], b.there[i])
			}
			if strings.Contains(b.here[i], `"type":"cue"`) {
				cues++
			}
		}
		if cues < 3 {
			t.Errorf("seed %d: only %d cues to compare", seed, cues)
		}
		linked := b.last
		b.linked = false
		b.sail(300)
		alone := b.last
		t.Logf("seed %d: direction sure to %.1f° and force to %.1f kn with instruments, %.1f° and %.1f kn five minutes without", seed,
			linked.TWDSDDeg.Val, linked.TWSSDKn.Val, alone.TWDSDDeg.Val, alone.TWSSDKn.Val)
		if alone.TWSKn.OK && alone.TWSSDKn.Val < 1.5*linked.TWSSDKn.Val {
			t.Errorf("seed %d: the wind's force is held to be as sure as with instruments: %.2f kn, and was %.2f", seed, alone.TWSSDKn.Val, linked.TWSSDKn.Val)
		}
		if alone.TWDKnown && alone.TWDSDDeg.Val <= linked.TWDSDDeg.Val {
			t.Errorf("seed %d: the direction is held to be surer than with instruments: %.2f°, and was %.2f°", seed, alone.TWDSDDeg.Val, linked.TWDSDDeg.Val)
		}
	}
}
