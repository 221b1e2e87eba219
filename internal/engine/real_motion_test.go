package engine_test

import (
	"os"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/replay"
)

// realRun replays a recording with its own wind left out.
func realRun(t *testing.T, name string, lengthM float64) (states []boat.Status, cues []boat.Cue, turns int) {
	t.Helper()
	f, err := os.Open("../../testdata/real/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	_, err = replay.Run(replay.Job{Log: f, Settings: boat.Settings{LengthM: lengthM, Jib: true, IgnoreWind: true}, Heard: func(o boat.Output) {
		switch {
		case o.Status != nil:
			states = append(states, *o.Status)
		case o.Cue != nil:
			cues = append(cues, *o.Cue)
		case o.Manoeuvre != nil:
			turns++
		}
	}})
	if err != nil {
		t.Fatal(err)
	}
	if len(states) < 300 {
		t.Fatalf("expected minutes of states, got %d", len(states))
	}
	return states, cues, turns
}

// With their own wind left out nothing in these recordings tells which side it is
// on: one boat stays on one tack without a level, one motors, and one sends her
// course every five to ten seconds, too seldom to see her slow in a tack. The coach
// must not claim a wind, nor speak. Truth of the recordings: testdata/real/README.md.
func TestRealBoatsClaimNoSide(t *testing.T) {
	for _, c := range []struct {
		log     string
		lengthM float64
	}{
		{"gulf_of_finland_2014-08-15_no_wind.nmea", 10},
		{"gulf_of_finland_2014-08-15_no_wind.nmea", 0},
		{"finland_motoring.nmea", 10},
		{"finland_motoring.nmea", 0},
		{"neuse_river_2016-08-12.nmea", 8},
	} {
		states, cues, _ := realRun(t, c.log, c.lengthM)
		known := 0
		for _, s := range states {
			if s.TWDKnown {
				known++
			}
		}
		t.Logf("%-42s %5d s, wind claimed in %d, %d cues", c.log, len(states), known, len(cues))
		if known > 0 {
			t.Errorf("%s: a wind is claimed for %d s", c.log, known)
		}
		if len(cues) > 0 {
			t.Errorf("%s: %d cues, the first %+v", c.log, len(cues), cues[0])
		}
	}
}
