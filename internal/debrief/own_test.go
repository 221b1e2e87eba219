package debrief

import (
	"bytes"
	"strings"
	"testing"

	"helmcue/internal/boat"
)

// A session that was sailed away from the link for its second minute: what the phone
// said by itself stands in the review where it was said, judged as any other cue, and
// what the service would have said then does not.
func TestThePhonesOwnCuesAreListed(t *testing.T) {
	m := newMade()
	m.sail(30)
	heard := m.say(boat.HeadUp, "head her up, five degrees", boat.Some(5))
	m.in(boat.Input{Kind: boat.SpokenIn, Source: "phone", Spoken: &boat.Spoken{ID: heard, What: "started"}})
	m.sail(30)
	meant := m.say(boat.BearAway, "bear away five degrees", boat.Some(5))
	m.in(boat.Input{Kind: boat.SpokenIn, Source: "service", Spoken: &boat.Spoken{ID: meant, What: "dropped", Note: boat.PhoneSpoke}})
	own := boat.Cue{T: m.t, ID: 7_000_001, Key: boat.BearAway, Words: "bear away ten degrees", Amount: boat.Some(10), Urgency: boat.Steer, Why: "of its own"}
	m.sail(1)
	for _, what := range []string{"started", "finished"} {
		m.in(boat.Input{Kind: boat.SpokenIn, Source: "phone", Spoken: &boat.Spoken{ID: own.ID, Where: "phone", What: what, Own: &own}})
	}
	m.angle(55)
	m.sail(20)
	late := boat.Cue{T: m.t, ID: 7_000_002, Key: boat.HeadUp, Words: "head her up, ten degrees", Amount: boat.Some(10)}
	m.in(boat.Input{Kind: boat.SpokenIn, Source: "phone", Spoken: &boat.Spoken{ID: late.ID, What: "dropped", Note: "could not be said in time", Own: &late}})
	m.sail(10)
	m.say(boat.Good, "that is good", boat.Reading{})
	m.sail(10)

	r := Build(m.Session)
	var got []string
	for _, s := range r.Said {
		line := s.Words + ": " + s.Answer.String()
		if s.Own {
			line += ", own"
		}
		got = append(got, line)
	}
	want := []string{"head her up, five degrees: no", "bear away ten degrees: yes, own", "head her up, ten degrees: not heard, own", "that is good: not asked"}
	if strings.Join(got, "; ") != strings.Join(want, "; ") {
		t.Errorf("the review lists %q, want %q", got, want)
	}
	if s := r.Said[1]; !s.PosOK || s.T != own.T {
		t.Errorf("the phone's own cue has lost its place or its time: %+v", s)
	}
	var page bytes.Buffer
	if err := WriteHTML(&page, r); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(page.String(), "said by the phone itself, without a link"); n != 2 {
		t.Errorf("the page marks %d cues as the phone's own, want 2", n)
	}
}
