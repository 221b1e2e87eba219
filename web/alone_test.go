package web_test

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"helmcue/internal/boat"
)

// heeled opens the sailor's page of the real service, sets off, and heels the boat
// over so far that the sheet must go: the one cue that comes again and again.
func heeled(t *testing.T, a *aboard) *tab {
	t.Helper()
	b := open(t, &double{Server: a.Server}, "/sailor#"+a.code)
	b.setOff()
	return b
}

// setOff readies the page and heels the boat.
func (b *tab) setOff() {
	b.t.Helper()
	b.underway()
	b.tap("#fixed")
	b.tap("#ready")
	b.awaitText("#items", "Without a link this phone speaks by itself")
	b.tap("#go")
	b.orient("deviceorientationabsolute", 315, 2, 42, "")
}

// underway has the page's receiver tell once a second of a boat that makes three
// knots to the north-east. Set before ready is tapped.
func (b *tab) underway() {
	b.t.Helper()
	b.js(`navigator.geolocation.watchPosition = (ok) => setInterval(() => {
		const m = ((Date.now() % 1e7) / 1000) * 1.54 * Math.SQRT1_2;
		ok({ coords: { latitude: 47.1 + m / 111200, longitude: 8.2 + m / 75700, accuracy: 4, speed: 1.54, heading: 45 }, timestamp: Date.now() });
	}, 1000); 0`)
}

// heardCue is one cue a sailor heard.
type heardCue struct {
	at  boat.Time
	cue boat.Cue
	own bool
}

// heardOf returns what the recording says was heard, in order of time.
func heardOf(ins []boat.Input, outs []boat.Output) []heardCue {
	cues := map[int]boat.Cue{}
	for _, o := range outs {
		if o.Cue != nil {
			cues[o.Cue.ID] = *o.Cue
		}
	}
	var out []heardCue
	for _, in := range ins {
		if in.Kind != boat.SpokenIn || in.Spoken.What != "started" {
			continue
		}
		if own := in.Spoken.Own; own != nil {
			out = append(out, heardCue{in.T, *own, true})
		} else {
			out = append(out, heardCue{in.T, cues[in.Spoken.ID], false})
		}
	}
	slices.SortFunc(out, func(a, b heardCue) int { return int(a.at - b.at) })
	return out
}

// The link is cut and mended twenty times at random. The recording is whole, the
// voice goes on through the long gaps, and nothing is said twice or late.
func TestTheVoiceStaysInTheBoat(t *testing.T) {
	t.Parallel()
	a := newAboard(t, coach(t))
	b := heeled(t, a)
	dice := rand.New(rand.NewPCG(5, 9))
	for i := range 20 {
		time.Sleep(time.Duration(400+dice.IntN(1200)) * time.Millisecond)
		a.cut()
		gap := 200 + dice.IntN(600)
		if i%3 == 0 {
			gap = 4500 + dice.IntN(2500)
		}
		time.Sleep(time.Duration(gap) * time.Millisecond)
		a.mend()
		b.awaitText("#how", "listening")
	}
	time.Sleep(2 * time.Second)
	b.allHome()
	ins, outs := a.read()
	if n := whole(t, ins, 0); n < 400 {
		t.Errorf("%d samples are recorded", n)
	}
	heard := heardOf(ins, outs)
	own, theirs := 0, 0
	for i, h := range heard {
		if h.own {
			own++
		} else {
			theirs++
		}
		if h.cue.Key == "" || h.cue.Words == "" {
			t.Errorf("heard at %d, and no cue is recorded for it", h.at)
		}
		if late := h.at - h.cue.Expires; late > 150 {
			t.Errorf("%q was begun %d ms after it had expired", h.cue.Words, late)
		}
		if i > 0 && heard[i-1].cue.Key == h.cue.Key && h.at-heard[i-1].at < 3000 {
			t.Errorf("%q was said at %d and again %d ms later (own: %t, then %t)", h.cue.Words, heard[i-1].at, h.at-heard[i-1].at, heard[i-1].own, h.own)
		}
	}
	t.Logf("%d cues heard of the service's coach, %d of the phone's own", theirs, own)
	if own < 5 || theirs < 3 {
		t.Errorf("%d cues of the phone's own and %d of the service's are heard: want some of both", own, theirs)
	}
}
