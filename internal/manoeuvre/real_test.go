package manoeuvre_test

import (
	"bufio"
	"compress/gzip"
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/manoeuvre"
)

// nmeaClock reads just enough NMEA 0183 for this test: RMC for time, speed and
// course, MWV for the relative wind, VHW for speed through the water. Anything
// that fails its checksum is passed over.
type nmeaClock struct {
	s       boat.State
	day     boat.Time
	stw     boat.Time
	wind    boat.Time
	lastRMC boat.Time
}

// fields splits a line whose checksum holds.
func fields(line string) []string {
	i := strings.LastIndexByte(line, '$')
	j := strings.LastIndexByte(line, '*')
	if i < 0 || j < i || j+3 > len(line) {
		return nil
	}
	sum := byte(0)
	for k := i + 1; k < j; k++ {
		sum ^= line[k]
	}
	want, err := strconv.ParseUint(line[j+1:j+3], 16, 8)
	if err != nil || byte(want) != sum {
		return nil
	}
	return strings.Split(line[i+1:j], ",")
}

func number(f []string, i int) boat.Reading {
	if i >= len(f) {
		return boat.Reading{}
	}
	v, err := strconv.ParseFloat(f[i], 64)
	if err != nil {
		return boat.Reading{}
	}
	return boat.Some(v)
}

// take reads one line and says whether time went on.
func (c *nmeaClock) take(line string) bool {
	f := fields(line)
	if len(f) == 0 || len(f[0]) != 5 {
		return false
	}
	switch f[0][2:] {
	case "MWV":
		a := number(f, 1)
		if len(f) > 5 && f[2] == "R" && f[5] == "A" && a.OK {
			if a.Val > 180 {
				a.Val -= 360
			}
			c.s.AWADeg, c.s.AWSKn, c.wind = a, number(f, 3), c.s.T
		}
	case "VHW":
		if v := number(f, 5); v.OK {
			c.s.WaterKn, c.stw = v, c.s.T
		}
	case "RMC":
		h := number(f, 1)
		if !h.OK || len(f) < 10 || f[2] != "A" {
			return false
		}
		sec := int(h.Val)
		t := c.day + boat.Time(sec/10000*3600+sec/100%100*60+sec%100)*1000
		if t <= c.lastRMC {
			return false
		}
		c.lastRMC, c.s.T = t, t
		c.s.SOGKn, c.s.COGDeg = number(f, 7), number(f, 8)
		return true
	}
	return false
}

// state is what holds at the last RMC, readings older than 15 s left out.
func (c *nmeaClock) state() boat.State {
	s := c.s
	if s.T.Seconds(c.wind) > 15 {
		s.AWADeg, s.AWSKn = boat.Reading{}, boat.Reading{}
	}
	if s.T.Seconds(c.stw) > 15 {
		s.WaterKn = boat.Reading{}
	}
	s.SpeedKn = s.SOGKn
	if s.WaterKn.OK {
		s.SpeedKn = s.WaterKn
	}
	if s.COGDeg.OK && s.SOGKn.Val > 0.7 {
		s.HeadingDeg, s.HeadingBy = s.COGDeg, "course"
	}
	return s
}

const real = "../../testdata/real/"

// The river recording holds three tacks and one gybe under sail, and twelve minutes
// under engine and sail together (source: testdata/real/README.md, which gives its
// provenance and licence; the times were read off its instruments' wind by hand).
// Before them, leaving under what looks like the engine in two or three knots of
// wind, her bow crosses the wind once more at 68911 s: told or not, that one is open.
func TestRiverRecording(t *testing.T) {
	told, sights := sailRiver(t)
	if sights < 1000 {
		t.Fatalf("only %d sights were read from the recording", sights)
	}
	want := []struct {
		kind     string
		from, to float64 // the angle was last clear on the old side, first on the new, seconds of the day
	}{
		{"tack", 69024, 69050}, {"tack", 70599, 70622}, {"tack", 71584, 71604}, {"gybe", 73945, 73960},
	}
	i := 0
	for _, m := range told {
		eye := m.Eye.Seconds(riverDay)
		switch {
		case i < len(want) && m.Kind == want[i].kind && eye >= want[i].from && eye <= want[i].to:
			i++
		case math.Abs(eye-68911) > 10:
			t.Errorf("told a %s at %.0f s that was not sailed", m.Kind, eye)
		}
		if eye > 69850 && eye < 70475 {
			t.Errorf("told a %s at %.0f s, under engine", m.Kind, eye)
		}
	}
	if i != len(want) {
		t.Errorf("%d of the %d manoeuvres were told in order", i, len(want))
	}
}

const riverDay = boat.Time(1_470_960_000_000) // 12 August 2016, 0 h UTC

func sailRiver(t *testing.T) (told []boat.Manoeuvre, sights int) {
	t.Helper()
	file, err := os.Open(real + "neuse_river_2016-08-12.nmea")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	w := manoeuvre.New()
	c := &nmeaClock{day: riverDay}
	lines := bufio.NewScanner(file)
	for lines.Scan() {
		if c.take(lines.Text()) {
			sights++
			_, some := w.Step(manoeuvre.Sight{State: c.state(), LengthM: 7})
			told = append(told, some...)
		}
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
	return told, sights
}

// csvRows reads one of the reference files beside the recordings.
func csvRows(t *testing.T, name string) [][]string {
	file, err := os.Open(real + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	z, err := gzip.NewReader(file)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(z).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

// Sixty-five minutes under engine to windward (source: testdata/real/README.md).
func TestMotoringRecording(t *testing.T) {
	w := manoeuvre.New()
	rows := csvRows(t, "finland_motoring_truth.csv.gz")
	for _, f := range rows {
		s := boat.State{T: boat.Time(number(f, 0).Val * 1000), HeadingDeg: number(f, 1), WaterKn: number(f, 2),
			SOGKn: number(f, 3), COGDeg: number(f, 4), AWADeg: number(f, 5), AWSKn: number(f, 6), TWADeg: number(f, 7)}
		s.SpeedKn = s.WaterKn
		if s.HeadingDeg.OK {
			s.HeadingBy = "compass"
		}
		_, told := w.Step(manoeuvre.Sight{State: s, LengthM: 12})
		for _, m := range told {
			t.Errorf("told a %s at %.0f s of a trip under engine", m.Kind, m.Eye.Seconds(0))
		}
	}
	if len(rows) < 1000 {
		t.Errorf("only %d rows were read", len(rows))
	}
}
