package nmea

import (
	"slices"
	"testing"
	"time"

	"helmcue/internal/boat"
)

func rmc(hhmmss, ddmmyy string) string {
	return withSum("$GPRMC," + hhmmss + ",A,4807.038,N,01131.000,E,1,84.4," + ddmmyy + ",,,A")
}
func gll(hhmmss string) string { return withSum("$GPGLL,4807.038,N,01131.000,E," + hhmmss + ",A,A") }

const hdt = "$HCHDT,115.1,T*2D"

func utc(y, m, d, h, min, s int) boat.Time {
	return boat.Time(time.Date(y, time.Month(m), d, h, min, s, 0, time.UTC).UnixMilli())
}

func times(lines ...string) []boat.Time {
	d := NewDecoder()
	var in []boat.Input
	for _, l := range lines {
		in = append(in, d.Line(l, 0)...)
	}
	in = append(in, d.Flush()...)
	var out []boat.Time
	for _, i := range in {
		out = append(out, i.T)
	}
	return out
}

func TestTimeOfALog(t *testing.T) {
	ten := utc(2014, 8, 15, 10, 0, 0)
	sec := boat.Time(1000)
	cases := map[string]struct {
		lines []string
		want  []boat.Time
	}{
		"before the first time": {[]string{hdt, hdt, rmc("100000", "150814")}, []boat.Time{ten, ten, ten}},
		"between times":         {[]string{rmc("100000", "150814"), hdt, rmc("100001", "150814"), hdt}, []boat.Time{ten, ten, ten + sec, ten + sec}},
		"thousandths":           {[]string{rmc("100000.250", "150814")}, []boat.Time{ten + 250}},
		"date told late":        {[]string{hdt, gll("100000"), hdt, rmc("100001", "150814")}, []boat.Time{ten, ten, ten, ten + sec}},
		"date told past midnight": {[]string{gll("235959"), rmc("000000", "160814")},
			[]boat.Time{utc(2014, 8, 15, 23, 59, 59), utc(2014, 8, 16, 0, 0, 0)}},
		"no date":               {[]string{gll("101000"), gll("101002")}, []boat.Time{36_600_000, 36_602_000}},
		"no date over midnight": {[]string{gll("235959"), gll("000001")}, []boat.Time{86_399_000, 86_401_000}},
		"two devices at midnight": {[]string{rmc("235959", "150814"), rmc("000000", "160814"), gll("235959.5"), gll("000001")},
			[]boat.Time{utc(2014, 8, 15, 23, 59, 59), utc(2014, 8, 16, 0, 0, 0), utc(2014, 8, 16, 0, 0, 0), utc(2014, 8, 16, 0, 0, 1)}},
		"a little back":  {[]string{rmc("100001", "150814"), rmc("100000", "150814"), rmc("100002", "150814")}, []boat.Time{ten + sec, ten + sec, ten + 2*sec}},
		"one wrong time": {[]string{rmc("100000", "150814"), rmc("180000", "150814"), rmc("100001", "150814")}, []boat.Time{ten, ten, ten + sec}},
		"one wrong date": {[]string{rmc("100000", "150814"), rmc("100001", "150899"), rmc("100002", "150814")}, []boat.Time{ten, ten, ten + 2*sec}},
		"a gap of an hour": {[]string{rmc("100000", "150814"), rmc("110000", "150814"), hdt, rmc("110001", "150814"), hdt},
			[]boat.Time{ten, ten + 3600*sec, ten + 3600*sec, ten + 3601*sec, ten + 3601*sec}},
		"set back an hour": {[]string{rmc("100000", "150814"), rmc("090000", "150814"), rmc("090001", "150814"), rmc("090003", "150814")},
			[]boat.Time{ten, ten, ten, ten + 2*sec}},
		"ends in doubt":  {[]string{rmc("100000", "150814"), rmc("110000", "150814")}, []boat.Time{ten, ten}},
		"ZDA tells":      {[]string{withSum("$GPZDA,100000,15,08,2014,00,00"), hdt}, []boat.Time{ten}},
		"old date":       {[]string{rmc("220516", "130694")}, []boat.Time{utc(1994, 6, 13, 22, 5, 16)}},
		"no time at all": {[]string{hdt, hdt}, nil},
	}
	for name, c := range cases {
		if got := times(c.lines...); !slices.Equal(got, c.want) {
			t.Errorf("%s: got %v, want %v", name, got, c.want)
		}
	}
}

// A log without a time is refused line by line, and all of it is counted.
func TestLogWithoutTime(t *testing.T) {
	d := NewDecoder()
	for range maxHeld + 50 {
		if in := d.Line(hdt, 0); in != nil {
			t.Fatalf("gave %+v", in)
		}
	}
	d.Flush()
	if c := d.Count(); c.Kept != 0 || c.Skipped[NoTime] != maxHeld+50 {
		t.Fatalf("counted %v", c)
	}
}

// After the wait for a date is over, one that comes late does not move the log.
func TestDateAfterTheWait(t *testing.T) {
	d := NewDecoder()
	n := 0
	for i := range waitForDate + 2 {
		n += len(d.Line(gll("10000"+string(rune('0'+i%10))), 0))
	}
	if n != waitForDate+2 {
		t.Fatalf("%d inputs given out after the wait, want %d", n, waitForDate+2)
	}
	for _, s := range []string{"100010", "100011", "100012"} {
		for _, in := range d.Line(rmc(s, "150814"), 0) {
			if in.T > day {
				t.Fatalf("moved to %d", in.T)
			}
			n++
		}
	}
	if n != waitForDate+5 {
		t.Fatalf("%d inputs, want %d", n, waitForDate+5)
	}
}

// A live source's times are moved to the clock of arrival and keep their
// spacing when a link holds lines back.
func TestTimeOfALiveSource(t *testing.T) {
	d := NewDecoder()
	at := utc(2026, 7, 1, 12, 0, 0)
	var got []boat.Time
	feed := func(line string, arrived boat.Time) {
		for _, in := range d.Line(line, arrived) {
			got = append(got, in.T-at)
		}
	}
	feed(hdt, at)                                   // no time: arrival
	feed(rmc("115959", "010726"), at+200)           // the source is 1.2 s behind: T is arrival
	feed(rmc("120000", "010726"), at+1200)          // as much
	feed(rmc("120001", "010726"), at+3900)          // held back
	feed(rmc("120002", "010726"), at+3900)          // came with it: a second later all the same
	feed(rmc("120003", "010726"), at+4200)          // in time again
	feed(rmc("110000", "010726"), at+5000)          // its clock was set
	feed(rmc("110001", "010726"), at+6000)          //
	feed(withSum("$GPGLL,,,,,110002,A,A"), at+7000) // a time of day and nothing else
	feed(rmc("235959", "010726"), at+8000)          // a wrong time: never past arrival
	feed(rmc("110004", "010726"), at+9000)          //
	want := []boat.Time{0, 200, 1200, 2201, 3202, 4200, 5000, 6000, 8000, 9000}
	if len(got) != len(want) {
		t.Fatalf("got %v, want %v", got, want)
	}
	for i := range want {
		if d := got[i] - want[i]; d < -5 || d > 5 { // the delay may creep by a thousandth
			t.Errorf("input %d at %d, want %d", i, got[i], want[i])
		}
	}
}

// A receiver that tells no date is put on the day of arrival.
func TestLiveWithoutDate(t *testing.T) {
	d := NewDecoder()
	at := utc(2026, 7, 2, 0, 0, 1)
	in := d.Line(gll("235959"), at)
	if len(in) != 1 || in[0].Sent != utc(2026, 7, 1, 23, 59, 59) || in[0].T != at {
		t.Fatalf("got %+v", in)
	}
}
