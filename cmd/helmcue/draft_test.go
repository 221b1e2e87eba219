package main

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/lake"
	"helmcue/internal/replay"
	"helmcue/internal/water"
)

// Of three real recordings (provenance: testdata/real/README.md) a chart is made and
// read again: it holds every place at which she was under way.
func TestAChartFromRealTracks(t *testing.T) {
	logs, err := filepath.Glob("../../testdata/real/*.nmea")
	if err != nil || len(logs) < 3 {
		t.Fatal(logs, err)
	}
	for _, log := range logs {
		name := filepath.Join(t.TempDir(), "draft.geojson")
		if err := (&draftCmd{Files: []string{log}, Buffer: 15, Out: name}).Run(context.Background()); err != nil {
			t.Fatal(err)
		}
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		w, notes, err := lake.Read(f)
		f.Close()
		if err != nil || len(notes) == 0 || !w.Draft || len(w.Sailed) < 100 {
			t.Fatalf("%s: %v, %d notes, draft %v, %d places sailed", log, err, len(notes), w.Draft, len(w.Sailed))
		}
		chart, err := water.New(w, 0)
		if err != nil {
			t.Fatal(err)
		}
		in, out := afloat(t, chart, log)
		t.Logf("%s: %d places within, %d without", filepath.Base(log), in, out)
		if in < 300 || 50*out > in { // a jump, or a place beside a silence, is not drawn
			t.Errorf("%s: %d places within the chart, %d without", log, in, out)
		}
	}
}

func afloat(t *testing.T, chart *water.Chart, log string) (in, out int) {
	t.Helper()
	f, err := os.Open(log)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	kn := 0.0
	_, err = replay.Run(replay.Job{Log: f, Seen: func(i boat.Input) {
		s := i.Sample
		if s == nil {
			return
		}
		kn = s.SOGKn.Or(kn)
		if !s.LatDeg.OK || kn < 2 {
			return
		}
		if chart.Afloat(geo.Position{LatDeg: s.LatDeg.Val, LonDeg: s.LonDeg.Val}) {
			in++
		} else {
			out++
		}
	}})
	if err != nil {
		t.Fatal(err)
	}
	return in, out
}
