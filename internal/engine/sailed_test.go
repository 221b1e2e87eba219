package engine

import (
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// An engine remembers where she sailed under a wind that is known, beside what the
// chart brought; a draft's shores are no shores.
func TestWhereSheSailsIsRemembered(t *testing.T) {
	f := geo.NewFrame(geo.Position{LatDeg: 20, LonDeg: -35})
	before := f.From(0, 700)
	chart := passChart(600)
	chart.Draft, chart.Sailed = true, []boat.LonLat{{before.LonDeg, before.LatDeg}}
	e, at := New(), boat.Time(1_800_030_000_000)
	codes := map[string]int{}
	see := func(out []boat.Output) {
		for _, o := range out {
			if o.Note != nil {
				codes[o.Note.Code]++
			}
			if o.Cue != nil && o.Cue.Key == boat.Shore {
				t.Errorf("told of a shore by a draft: %v", o.Cue.Why)
			}
		}
	}
	see(e.Step(boat.Input{T: at, Kind: boat.SettingsIn, Settings: &boat.Settings{LengthM: 4.2, Water: chart}}))
	see(e.Step(boat.Input{T: at, Kind: boat.WindFixIn, WindFix: &boat.WindFix{Method: "chase", DirDeg: boat.Some(90), SDDeg: boat.Some(5), Kn: boat.Some(9)}}))
	for s := 0.0; s < 150; s++ { // to the north, across the wind, over the draft's wood
		p := f.From(-300, -200+s*passKn*geo.KnotMS)
		see(e.Step(boat.Input{T: at.After(s), Kind: boat.SampleIn, Sample: &boat.Sample{
			LatDeg: boat.Some(p.LatDeg), LonDeg: boat.Some(p.LonDeg), AccM: boat.Some(4), SOGKn: boat.Some(passKn), COGDeg: boat.Some(0),
			HeadingDeg: boat.Some(0), HeadingRef: boat.True, HeelDeg: boat.Some(-8), PitchDeg: boat.Some(0), YawDps: boat.Some(0), Mount: boat.Fixed,
		}}))
	}
	if codes["water_draft"] != 1 || codes["no_chart"] != 1 {
		t.Errorf("notes %v, want one each of a draft and of no chart", codes)
	}
	m := e.lake.sailed
	if m.Visits(before) != 1 || !m.Along(f.From(-300, -150), 0, 180) || m.Visits(f.From(-200, -100)) != 0 {
		t.Error("not remembered where she was, and where the chart said")
	}
}
