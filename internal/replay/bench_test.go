package replay

import (
	"bytes"
	"errors"
	"io"
	"slices"
	"testing"
	"time"

	"helmcue/internal/boat"
	"helmcue/internal/engine"
	"helmcue/internal/logfile"
	"helmcue/internal/recording"
	"helmcue/internal/sim"
)

const hours = 3

// file is a recording in memory.
type file struct{ bytes.Buffer }

func (*file) Sync() error  { return nil }
func (*file) Close() error { return nil }

// session sails three simulated hours with the coach and records them as the
// service does.
func session(b *testing.B) []byte {
	b.Helper()
	s, err := sim.New("shifty-morning", 1, 1_900_000_000_000)
	if err != nil {
		b.Fatal(err)
	}
	f := &file{}
	w, err := recording.Create(f, recording.Header{})
	if err != nil {
		b.Fatal(err)
	}
	eng, set := engine.New(), s.Settings()
	step := func(in boat.Input) {
		if err := w.Input(in); err != nil {
			b.Fatal(err)
		}
		for _, o := range eng.Step(in) {
			if err := w.Output(o); err != nil {
				b.Fatal(err)
			}
			if o.Cue != nil {
				s.Hear(*o.Cue)
			}
		}
	}
	step(boat.Input{T: s.Now(), Kind: boat.SettingsIn, Settings: &set})
	for range hours * 36000 {
		for _, in := range s.Step() {
			step(in)
		}
	}
	if err := w.Close(); err != nil {
		b.Fatal(err)
	}
	return f.Bytes()
}

// BenchmarkReplay is three hours at ten samples a second through the engine; its
// floor is reading the same file and doing nothing.
func BenchmarkReplay(b *testing.B) {
	data := session(b)
	b.Run("floor", func(b *testing.B) {
		for b.Loop() {
			l, err := logfile.Open(bytes.NewReader(data), logfile.Options{})
			if err != nil {
				b.Fatal(err)
			}
			for err == nil {
				_, err = l.Next()
			}
			if !errors.Is(err, io.EOF) {
				b.Fatal(err)
			}
		}
		realTime(b)
	})
	b.Run("engine", func(b *testing.B) {
		for b.Loop() {
			if _, err := Run(Job{Log: bytes.NewReader(data), Out: io.Discard}); err != nil {
				b.Fatal(err)
			}
		}
		realTime(b)
	})
}

func realTime(b *testing.B) {
	b.ReportMetric(hours*3600/(b.Elapsed().Seconds()/float64(b.N)), "x-real-time")
}

// BenchmarkDecision is from a sample to what the engine says about it,
// sample by sample over an hour; beside it, what share of a core the hour's work
// would take live, its clock readings included.
func BenchmarkDecision(b *testing.B) {
	s, err := sim.New("shifty-morning", 1, 1_900_000_000_000)
	if err != nil {
		b.Fatal(err)
	}
	var ins []boat.Input
	for range 36000 {
		ins = append(ins, s.Step()...)
	}
	set := s.Settings()
	took := make([]time.Duration, 0, len(ins))
	for b.Loop() {
		took = took[:0]
		eng := engine.New()
		eng.Step(boat.Input{T: ins[0].T, Kind: boat.SettingsIn, Settings: &set})
		for _, in := range ins {
			began := time.Now()
			eng.Step(in)
			took = append(took, time.Since(began))
		}
	}
	var all time.Duration
	for _, d := range took {
		all += d
	}
	b.ReportMetric(100*all.Seconds()/3600, "%-of-a-core-live")
	slices.Sort(took)
	p := func(q float64) float64 { return float64(took[int(q*float64(len(took)-1))].Nanoseconds()) / 1000 }
	b.ReportMetric(p(0.5), "p50-µs")
	b.ReportMetric(p(0.99), "p99-µs")
}
