package phonemsg

import (
	"testing"

	"helmcue/internal/boat"
)

func decoded(t *testing.T, in string) Msg {
	t.Helper()
	m, err := Decode([]byte(in))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestToInputs(t *testing.T) {
	late := func(sent boat.Time) boat.Time { return sent + 1000 }
	cases := []struct {
		in     string
		kinds  []boat.Kind
		t      boat.Time
		sent   boat.Time
		source string
	}{
		{`{"type":"sample","t":500,"sog":2}`, []boat.Kind{boat.SampleIn}, 1500, 500, "phone"},
		{`{"type":"samples","batch":[{"t":500},{"t":600}]}`, []boat.Kind{boat.SampleIn, boat.SampleIn}, 1500, 500, "phone"},
		{`{"type":"wind_fix","t":500,"method":"head_to_wind"}`, []boat.Kind{boat.WindFixIn}, 1500, 500, "phone"},
		{`{"type":"answer","t":500,"done":true}`, []boat.Kind{boat.AnswerIn}, 1500, 500, "phone"},
		{`{"type":"hidden","t":500}`, []boat.Kind{boat.Hidden}, 1500, 500, "phone"},
		{`{"type":"shown","t":500}`, []boat.Kind{boat.Shown}, 1500, 500, "phone"},
		{`{"type":"spoken","t":500,"id":1}`, []boat.Kind{boat.SpokenIn}, 1500, 500, "phone"},
		{`{"type":"act","t":500,"act":"quiet"}`, []boat.Kind{boat.ActIn}, 1500, 500, "instructor"},
		{`{"type":"act","t":500,"act":"wind","dir":10}`, []boat.Kind{boat.WindFixIn}, 1500, 500, "instructor"},
		{`{"type":"bye"}`, nil, 0, 0, ""},
		{`{"type":"join","v":1,"role":"sailor","token":"x"}`, nil, 0, 0, ""},
	}
	for _, c := range cases {
		got := ToInputs(decoded(t, c.in), 9000, late)
		if len(got) != len(c.kinds) {
			t.Errorf("%s: %d inputs, want %d", c.in, len(got), len(c.kinds))
			continue
		}
		for i, in := range got {
			if in.Kind != c.kinds[i] || in.Source != c.source {
				t.Errorf("%s: input %d is %s from %s", c.in, i, in.Kind, in.Source)
			}
		}
		if len(got) > 0 && (got[0].T != c.t || got[0].Sent != c.sent) {
			t.Errorf("%s: at %d sent %d, want %d and %d", c.in, got[0].T, got[0].Sent, c.t, c.sent)
		}
	}
}

// TestLogTimesStand: without a clock map the sender's clock is the time line.
func TestLogTimesStand(t *testing.T) {
	in := ToInputs(decoded(t, `{"type":"sample","t":500,"sog":2}`), 9000, nil)
	if in[0].T != 500 {
		t.Errorf("at %d, want 500", in[0].T)
	}
}

func TestInstructorsWind(t *testing.T) {
	in := ToInputs(decoded(t, `{"type":"act","t":1,"act":"wind","dir":200,"ref":"mag","sd":8,"kn":9}`), 1, nil)[0]
	want := boat.WindFix{DirDeg: boat.Some(200), Ref: boat.Magnetic, SDDeg: boat.Some(8), Kn: boat.Some(9), Method: "chase"}
	if *in.WindFix != want {
		t.Errorf("got %+v, want %+v", *in.WindFix, want)
	}
}

func TestNorthIsZero(t *testing.T) {
	s := ToInputs(decoded(t, `{"type":"sample","t":1,"hdg":360,"hdgRef":"mag","cog":360}`), 1, nil)[0].Sample
	if s.HeadingDeg != boat.Some(0) || s.COGDeg != boat.Some(0) {
		t.Errorf("360 became %+v and %+v, want a present 0", s.HeadingDeg, s.COGDeg)
	}
}

func TestChange(t *testing.T) {
	was := boat.Settings{Boat: "Otter", LimitKn: 15}
	act := func(in string) boat.Act { return *ToInputs(decoded(t, in), 1, nil)[0].Act }
	got, ok := Change(was, act(`{"type":"act","t":1,"act":"level","level":"expert"}`))
	if !ok || got.Level != boat.Expert || got.Boat != "Otter" || got.LimitKn != 15 {
		t.Errorf("level: %+v %v", got, ok)
	}
	got, ok = Change(was, act(`{"type":"act","t":1,"act":"limit","kn":12.5}`))
	if !ok || got.LimitKn != 12.5 {
		t.Errorf("limit: %+v %v", got, ok)
	}
	for _, a := range []boat.Act{{Act: "quiet"}, {Act: "limit", Text: "NaN"}, {Act: "limit", Text: "-3"}, {Act: "level", Text: "guru"}} {
		if got, ok := Change(was, a); ok || got.LimitKn != 15 || got.Level != 0 {
			t.Errorf("%+v changed settings to %+v", a, got)
		}
	}
}
