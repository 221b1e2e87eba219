package nmea

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"helmcue/internal/boat"
)

// one decodes a single body as a live line and returns the sample, or nil.
func one(t *testing.T, body string) (*boat.Sample, Count) {
	t.Helper()
	d := NewDecoder()
	in := d.Line(withSum(body), 1)
	if len(in) > 1 {
		t.Fatalf("%s gave %d inputs", body, len(in))
	}
	if len(in) == 0 {
		return nil, d.Count()
	}
	return in[0].Sample, d.Count()
}

// why is the one reason a line was skipped for.
func why(t *testing.T, c Count) Reason {
	t.Helper()
	for _, r := range Reasons() {
		if c.Skipped[r] > 0 {
			return r
		}
	}
	t.Fatalf("nothing skipped in %+v", c)
	return 0
}

func TestRefused(t *testing.T) {
	cases := []struct {
		body string
		want Reason
	}{
		{"$GPRMC,123519,V,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W", BadStatus},
		{"$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W,N", BadStatus},
		{"$GPRMC,123519,A,4807.038,N,01131.000,E,NaN,084.4,230394,003.1,W", BadField},
		{"$GPRMC,123519,A,4807.038,N,01131.000,E,Inf,084.4,230394,003.1,W", BadField},
		{"$GPRMC,123519,A,4807.038,N,01131.000,E,0x10,084.4,230394,003.1,W", BadField},
		{"$GPRMC,123519,A,4867.038,N,01131.000,E,1,084.4,230394,003.1,W", BadField}, // 67 minutes
		{"$GPRMC,123519,A,9107.038,N,01131.000,E,1,084.4,230394,003.1,W", BadField},
		{"$GPRMC,123519,A,4807.038,Q,01131.000,E,1,084.4,230394,003.1,W", BadField},
		{"$GPRMC,253519,A,4807.038,N,01131.000,E,1,084.4,230394,003.1,W", BadField},
		{"$GPRMC,123519,A,4807.038,N,01131.000,E,1,084.4,310294,003.1,W", BadField}, // 31 February
		{"$GPRMC,123519,A,4807.038,N,01131.000,E,1,084.4,230394,003.1,", BadField},  // sign not told
		{"$GPGGA,123519,4807.038,N,01131.000,E,0,08,0.9,545.4,M,46.9,M,,", BadStatus},
		{"$GPGLL,4807.038,N,01131.000,E,123519,V,N", BadStatus},
		{"$WIMWV,45.0,R,10,,A", BadField}, // speed without its unit
		{"$WIMWV,45.0,,10,N,A", BadField}, // neither apparent nor true
		{"$WIMWV,45.0,R,10,N,", BadStatus},
		{"$IIHDT,,T", NoReadings},
		{"$IIHDT,400,T", NoReadings},
		{"$SDDBT,8.46,f,2.58,M,1.41,F", UnknownType},
		{"$IIVPW,4.5,N,6.7,M", UnknownType}, // the engine works out its own
		{"$PGRME,15.0,M,45.0,M,25.0,M", UnknownType},
		{"!AIVDM,1,1,,A,13aGt0PP0jPN@9fMPKVDJgwfR>`<,0", UnknownType},
		{"$GPRMC", BadField},
		{"$HCXDR,A,171,D,PITCH,A", BadField},
	}
	for _, c := range cases {
		s, count := one(t, c.body)
		if s != nil {
			t.Errorf("%s: kept as %+v", c.body, *s)
			continue
		}
		if got := why(t, count); got != c.want {
			t.Errorf("%s: skipped for %q, want %q", c.body, got, c.want)
		}
	}
}

func TestOutOfRangeIsAbsent(t *testing.T) {
	s, _ := one(t, "$HCXDR,A,171,D,PITCH,A,-37,D,ROLL")
	if s == nil || s.PitchDeg.OK || s.HeelDeg != boat.Some(-37) {
		t.Errorf("pitch 171 must be absent and roll -37 stay: %+v", s)
	}
	s, _ = one(t, "$WIMWV,45.0,R,900,N,A")
	if s == nil || s.AWSKn.OK || s.AWADeg != boat.Some(45) {
		t.Errorf("900 knots must be absent and the angle stay: %+v", s)
	}
}

func TestReadings(t *testing.T) {
	cases := []struct {
		body string
		want boat.Sample
	}{
		// VTG without knots: 18.52 km/h are 10 knots (international nautical mile, 1852 m).
		{"$GPVTG,360,T,,M,,N,18.52,K,A", boat.Sample{COGDeg: boat.Some(0), SOGKn: boat.Some(10)}},
		{"$IIVHW,,T,350,M,,N,,K", boat.Sample{HeadingDeg: boat.Some(350), HeadingRef: boat.Magnetic}},
		{"$WIMWV,358,T,,N,A", boat.Sample{TWADeg: boat.Some(-2)}},
		{"$WIMWV,180,R,10,S,A", boat.Sample{AWADeg: boat.Some(180), AWSKn: boat.Some(10 * 1.609344 / 1.852)}},
		{"$IIVWT,180,L,,,,,,", boat.Sample{TWADeg: boat.Some(180)}},
		{"$HCHDG,359.5,1.0,E,,", boat.Sample{HeadingDeg: boat.Some(0.5), HeadingRef: boat.Magnetic}},
		{"$WIMWD,,T,90,M,10,N,,M", boat.Sample{TWSKn: boat.Some(10)}}, // magnetic, variation not known
		{"$GPGGA,123519,4807.038,S,01131.000,W,1,08,0.9,545.4,M,46.9,M,,",
			boat.Sample{LatDeg: boat.Some(-(48 + 7.038/60)), LonDeg: boat.Some(-(11 + 31.0/60))}},
		// One transducer the library does not know costs the others nothing.
		{"$IIXDR,X,1.5,Q,ODD,A,5,D,Heel", boat.Sample{HeelDeg: boat.Some(5)}},
	}
	for _, c := range cases {
		s, count := one(t, c.body)
		if s == nil {
			t.Errorf("%s: not kept: %v", c.body, count)
		} else if *s != c.want {
			t.Errorf("%s: got %+v, want %+v", c.body, *s, c.want)
		}
	}
}

// A magnetic wind direction is turned by the variation the source stated.
func TestMagneticWindDirection(t *testing.T) {
	d := NewDecoder()
	d.Line(withSum("$HCHDG,10,,,4.5,W"), 1)
	in := d.Line(withSum("$WIMWD,,T,2,M,10,N,,M"), 2)
	if len(in) != 1 || in[0].Sample.TWDDeg != boat.Some(357.5) {
		t.Fatalf("want 357.5 true, got %+v", in)
	}
}

func TestSalvage(t *testing.T) {
	const good = "$HCHDT,115.1,T*2D"
	cases := map[string]struct {
		line string
		gave int
		why  Reason
	}{
		"noise before":            {"\x00\xffx$VW" + good, 1, 0},
		"two run together":        {good + good, 2, 0},
		"cut one before":          {"$GPRMC,1235" + good, 1, 0},
		"bad one before":          {"$HCHDT,115.2,T*2D" + good, 1, 0},
		"rubbish behind":          {good + "xyz\r\n", 1, 0},
		"nothing":                 {" \r\n", 0, Empty},
		"boot message":            {"Start GPS Rx - serial1 at 4800", 0, NotSentence},
		"cut off":                 {"$HCHDT,115.1", 0, NoChecksum},
		"cut in checksum":         {"$HCHDT,115.1,T*2", 0, NoChecksum},
		"wrong checksum":          {"$HCHDT,115.2,T*2D", 0, BadChecksum},
		"binary":                  {"$HC\x01DT\xff\xfe", 0, NotSentence},
		"right sum, no address":   {withSum("$VWVVWVHW,,T"), 0, BadChecksum},
		"spaces before":           {"   " + good, 1, 0},
		"block of tags before it": {`\s:1,c:1120959341*hh\` + good, 1, 0},
	}
	for name, c := range cases {
		d := NewDecoder()
		in := d.Line(c.line, 1)
		if len(in) != c.gave {
			t.Errorf("%s: gave %d inputs, want %d", name, len(in), c.gave)
		}
		if c.gave == 0 {
			if got := why(t, d.Count()); got != c.why {
				t.Errorf("%s: skipped for %q, want %q", name, got, c.why)
			}
		}
	}
}

// A source that never sends checksums is believed after twenty sentences; one
// that sends them elsewhere never is without.
func TestSentencesWithoutChecksum(t *testing.T) {
	d := NewDecoder()
	for i := range neverSummed {
		if in := d.Line("$HCHDT,115.1,T", 1); in != nil {
			t.Fatalf("believed after %d", i)
		}
	}
	if in := d.Line("$HCHDT,115.1,T", 1); len(in) != 1 {
		t.Fatal("not believed after twenty")
	}
	d.Line("$HCHDT,115.1,T*2D", 1)
	if in := d.Line("$HCHDT,115.1,T", 1); in != nil {
		t.Fatal("a cut sentence among summed ones was believed")
	}
}

func TestCountIdentityAndRanges(t *testing.T) {
	pieces := []string{"$", "!", "*", ",", "GPRMC,", "123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W",
		"*6A", "\xff", "NaN", "1e9", "-", "$HCHDT,115.1,T*2D", "$WIMWV,320,R,15.0,M,A*0B", "IIXDR,A,20,D,HEEL", "\r"}
	rapid.Check(t, func(rt *rapid.T) {
		d := NewDecoder()
		live := rapid.Bool().Draw(rt, "live")
		last := boat.Time(math.MinInt64)
		n := rapid.IntRange(1, 30).Draw(rt, "lines")
		for i := range n {
			line := strings.Join(rapid.SliceOf(rapid.SampledFrom(pieces)).Draw(rt, "pieces"), "")
			if rapid.Bool().Draw(rt, "sum") && strings.HasPrefix(line, "$") {
				line = withSum(line)
			}
			at := boat.Time(0)
			if live {
				at = boat.Time(1_700_000_000_000 + 100*i)
			}
			for _, in := range d.Line(line, at) {
				if in.T < last {
					rt.Fatalf("time went back from %d to %d", last, in.T)
				}
				last = in.T
				if bad := outOfRange(in.Sample); bad != "" {
					rt.Fatalf("%q gave %s", line, bad)
				}
			}
		}
		d.Flush()
		if c := d.Count(); c.Lines != n || c.Kept+c.Total() != n {
			rt.Fatalf("%d lines, counted %v", n, c)
		}
	})
}

func outOfRange(s *boat.Sample) string {
	for _, r := range []struct {
		name   string
		r      boat.Reading
		lo, hi float64
	}{
		{"lat", s.LatDeg, -90, 90}, {"lon", s.LonDeg, -180, 180}, {"sog", s.SOGKn, 0, maxKn},
		{"cog", s.COGDeg, 0, 360}, {"hdg", s.HeadingDeg, 0, 360}, {"var", s.VarDeg, -180, 180},
		{"heel", s.HeelDeg, -180, 180}, {"pitch", s.PitchDeg, -90, 90}, {"stw", s.WaterKn, 0, maxKn},
		{"awa", s.AWADeg, -180, 180}, {"aws", s.AWSKn, 0, maxKn}, {"twa", s.TWADeg, -180, 180},
		{"tws", s.TWSKn, 0, maxKn}, {"twd", s.TWDDeg, 0, 360},
	} {
		if r.r.OK && !(r.r.Val >= r.lo && r.r.Val <= r.hi) {
			return r.name + " out of range"
		}
	}
	if s.HeadingDeg.OK != (s.HeadingRef != "") {
		return "a heading without its reference"
	}
	return ""
}

func FuzzLine(f *testing.F) {
	for _, s := range []string{"$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A",
		"$IIXDR,C,28.9,C,AIRTEMP,A,-0.9,D,HEEL,A,0.3,D,TRIM,P,1.021,B,BARO,A,32.2,D,RUDDER*0C",
		"$HCHDT,115.1,T*2D$WIMWV,320,R,15.0,M,A*0B", "$GPZDA,101000,,,,00,*48", "!!VER:1.9,UID:MEGA"} {
		f.Add(s, true)
		f.Add(s, false)
	}
	f.Fuzz(func(t *testing.T, line string, live bool) {
		d := NewDecoder()
		at := boat.Time(0)
		if live {
			at = 1_700_000_000_000
		}
		in := append(d.Line(line, at), d.Line(withSum("$"+line), at)...)
		in = append(in, d.Flush()...)
		for _, i := range in {
			if bad := outOfRange(i.Sample); bad != "" {
				t.Fatal(bad)
			}
		}
		if c := d.Count(); c.Kept+c.Total() != 2 || c.Lines != 2 {
			t.Fatalf("2 lines, counted %v", c)
		}
	})
}

func TestReasonsHaveNames(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Reasons() {
		s := r.String()
		if s == "" || strings.HasPrefix(s, "(") || seen[s] {
			t.Errorf("reason %d has no name of its own: %q", int(r), s)
		}
		seen[s] = true
	}
	if len(seen) != int(reasons) {
		t.Errorf("%d names for %d reasons", len(seen), reasons)
	}
}

func BenchmarkLine(b *testing.B) {
	d := NewDecoder()
	const line = "$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A"
	for b.Loop() {
		if d.Line(line, 1) == nil {
			b.Fatal("not kept")
		}
	}
}
