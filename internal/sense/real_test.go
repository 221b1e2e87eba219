package sense_test

import (
	"errors"
	"io"
	"math"
	"os"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
	"helmcue/internal/logfile"
	"helmcue/internal/sense"
)

// listen runs a recording through a filter and returns its last state with a
// heading, and how many there were.
func listen(t *testing.T, name string) (last boat.State, n int) {
	t.Helper()
	f, err := os.Open("../../testdata/real/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	log, err := logfile.Open(f, logfile.Options{})
	if err != nil {
		t.Fatal(err)
	}
	filter := sense.New(boat.Fixed)
	var now boat.Time
	for {
		in, err := log.Next()
		if errors.Is(err, io.EOF) {
			return last, n
		}
		if err != nil {
			t.Fatal(err)
		}
		if in.Sample == nil {
			continue
		}
		now = max(now, in.T)
		filter.Add(in.T, *in.Sample)
		if st := filter.State(now); st.HeadingDeg.OK {
			last = st
			n++
		}
	}
}

// One boat stays on one tack with a compass and a log, the others have no compass.
// In none of them can a compass error be told. What the truth file of the first
// holds: course 4.6 degrees to port of the bow in the mean, 0.3 kn faster over the
// ground than through the water; see testdata/real/README.md.
func TestRealRecordingsProveNoCompassError(t *testing.T) {
	for _, c := range []struct{ name, by string }{
		{"gulf_of_finland_2014-08-15_no_wind.nmea", "compass"},
		{"finland_motoring.nmea", "course"},
		{"neuse_river_2016-08-12.nmea", "course"},
	} {
		s, n := listen(t, c.name)
		t.Logf("%s: heading %.1f ± %.1f, current %.2f E %.2f N ± %.2f kn, leeway %.1f ± %.1f, lag %.2f ± %.2f s", c.name,
			s.HeadingDeg.Val, s.HeadingSDDeg, s.Current.EastKn, s.Current.NorthKn, s.Current.SDKn, s.LeewayDeg, s.LeewaySDDeg, s.GPSLagS, s.GPSLagSDS)
		if n < 1000 || s.HeadingBy != c.by {
			t.Fatalf("%s: %d headings, the last by %q", c.name, n, s.HeadingBy)
		}
		if s.Deviation != (boat.Deviation{}) {
			t.Errorf("%s: a compass error is claimed: %+v", c.name, s.Deviation)
		}
		if s.Current.DriftKn() > 1 || s.Current.SDKn < 0.15 || s.Current.SetDeg().OK {
			t.Errorf("%s: current %+v", c.name, s.Current)
		}
		if s.HeadingSDDeg < 3 || s.GPSLagSDS < 0.3 {
			t.Errorf("%s: sure to %.1f degrees and %.2f s", c.name, s.HeadingSDDeg, s.GPSLagSDS)
		}
	}
	s, _ := listen(t, "gulf_of_finland_2014-08-15_no_wind.nmea")
	along := s.Current.EastKn*math.Sin(geo.Rad(191)) + s.Current.NorthKn*math.Cos(geo.Rad(191))
	if along < 0 || along > 0.4 {
		t.Errorf("current along the course %.2f kn, log and receiver differ by 0.3 kn", along)
	}
}
