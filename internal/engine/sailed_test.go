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

// Two boats on one lake: one sails into the lee of the wood and loses way, the other,
// whom the chart alone leaves in doubt, is told of that lee only after the first one's
// lull came to her, and not by one elsewhere or of long ago.
func TestALullOfAnotherBoatIsASecondSign(t *testing.T) {
	f := geo.NewFrame(geo.Position{LatDeg: 20, LonDeg: -35})
	at := func(x, y float64) boat.LonLat { p := f.From(x, y); return boat.LonLat{p.LonDeg, p.LatDeg} }
	begin := boat.Time(1_800_030_000_000)
	sail := func(lull *boat.Lull) (told, lulls int) {
		e := New()
		e.Step(boat.Input{T: begin, Kind: boat.SettingsIn, Settings: &boat.Settings{LengthM: 4.2, Water: passChart(600)}})
		e.Step(boat.Input{T: begin, Kind: boat.WindFixIn, WindFix: &boat.WindFix{Method: "chase", DirDeg: boat.Some(0), SDDeg: boat.Some(5), Kn: boat.Some(9)}})
		for s := 0.0; s < 130; s++ { // to the west, across the wind, eleven of the wood's heights off
			if s == 20 && lull != nil {
				e.Step(boat.Input{T: begin.After(s), Kind: boat.LullIn, Source: "service", Lull: lull})
			}
			p := f.From(170-s*passKn*geo.KnotMS, -107)
			for _, o := range e.Step(boat.Input{T: begin.After(s), Kind: boat.SampleIn, Sample: &boat.Sample{
				LatDeg: boat.Some(p.LatDeg), LonDeg: boat.Some(p.LonDeg), AccM: boat.Some(4), SOGKn: boat.Some(passKn), COGDeg: boat.Some(270),
				HeadingDeg: boat.Some(270), HeadingRef: boat.True, HeelDeg: boat.Some(-8), PitchDeg: boat.Some(0), YawDps: boat.Some(0), Mount: boat.Fixed,
			}}) {
				if o.Cue != nil && (o.Cue.WhyCode == "flat_water" || o.Cue.WhyCode == "lee") {
					told++
				}
				if o.Lull != nil {
					lulls++
				}
			}
		}
		return told, lulls
	}
	for _, k := range []struct {
		name string
		lull *boat.Lull
		told int
	}{
		{"no other boat", nil, 0},
		{"another lost way there", &boat.Lull{T: begin.After(15), At: at(-60, -90)}, 1},
		{"in open water", &boat.Lull{T: begin.After(15), At: at(-60, -700)}, 0},
		{"long ago", &boat.Lull{T: begin.After(-900), At: at(-60, -90)}, 0},
	} {
		if told, lulls := sail(k.lull); told != k.told || lulls != 0 {
			t.Errorf("%s: told %d times, want %d; %d lulls of her own", k.name, told, k.told, lulls)
		}
	}
}
