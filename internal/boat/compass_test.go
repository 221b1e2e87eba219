package boat

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"helmcue/internal/geo"
)

// Source: NMEA 0183, HDG 98.3 with deviation 0.1 E and variation 12.6 W reads 98.4
// magnetic and 85.8 true: east is added on the way to true.
func TestDeviationHasTheSignOfTheTrade(t *testing.T) {
	s := State{VarDeg: -12.6, VarOK: true, CompassRef: Magnetic, OwnCompass: true, Deviation: Deviation{ADeg: 0.1}}
	if got := s.FromCompass(98.3, Magnetic); math.Abs(got-85.8) > 1e-9 {
		t.Errorf("98.3 on the compass is %.2f true, expected 85.8", got)
	}
	if got, ref, ok := s.OnCompass(85.8); !ok || ref != Magnetic || math.Abs(got-98.3) > 1e-9 {
		t.Errorf("85.8 true shows as %.2f %s, expected 98.3 mag", got, ref)
	}
	s.OwnCompass = false
	if got, _, _ := s.OnCompass(85.8); math.Abs(got-98.4) > 1e-9 {
		t.Errorf("a phone's error is not the sailor's compass's: got %.2f, expected 98.4", got)
	}
}

func TestCompassThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		small := rapid.Float64Range(-15, 15)
		s := State{
			VarDeg: rapid.Float64Range(-30, 30).Draw(t, "var"), VarOK: true, OwnCompass: rapid.Bool().Draw(t, "own"),
			CompassRef: rapid.SampledFrom([]Ref{True, Magnetic}).Draw(t, "ref"),
			Deviation:  Deviation{small.Draw(t, "a"), small.Draw(t, "b"), small.Draw(t, "c")},
		}
		want := rapid.Float64Range(0, 359.99).Draw(t, "true")
		deg, ref, ok := s.OnCompass(want)
		if !ok || deg < 0 || deg >= 360 {
			t.Fatalf("got %v %v", deg, ok)
		}
		if back := s.FromCompass(deg, ref); math.Abs(geo.Diff(want, back)) > 0.01 {
			t.Fatalf("%v true shows as %v, which is %v", want, deg, back)
		}
	})
}

func TestNoCompassHeadingWithoutVariation(t *testing.T) {
	if _, _, ok := (State{CompassRef: Magnetic}).OnCompass(90); ok {
		t.Error("without the variation nobody can say what the compass shows")
	}
}

func TestCurrentSetsOnlyWhereItIsSure(t *testing.T) {
	c := Current{EastKn: 0.6, NorthKn: -0.6, SDKn: 0.2, OK: true}
	if r := c.SetDeg(); !r.OK || math.Abs(r.Val-135) > 1e-9 || math.Abs(c.DriftKn()-0.6*math.Sqrt2) > 1e-9 {
		t.Errorf("set %+v, drift %v", r, c.DriftKn())
	}
	c.SDKn = 0.5
	if r := c.SetDeg(); r.OK {
		t.Errorf("a drift of %.2f ± %.2f kn sets to %+v", c.DriftKn(), c.SDKn, r)
	}
}
