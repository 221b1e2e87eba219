package track

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/muktihari/fit/encoder"
	"github.com/muktihari/fit/profile/filedef"
	"github.com/muktihari/fit/profile/mesgdef"
	"github.com/muktihari/fit/profile/typedef"
	"github.com/tkrajina/gpxgo/gpx"

	"helmcue/internal/boat"
	"helmcue/internal/geo"
)

// Everything here is sailed on a lake that is made up.
var start = time.Date(2026, 5, 3, 12, 0, 0, 0, time.UTC)

func near(t *testing.T, what string, got boat.Reading, want, tol float64) {
	t.Helper()
	if !got.OK || math.Abs(geo.Wrap180(got.Val-want)) > tol {
		t.Errorf("%s: got %+v, want %v", what, got, want)
	}
}

const gpxHead = `<?xml version="1.0"?><gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1" xmlns:x="urn:x"><trk><trkseg>`
const gpxTail = `</trkseg></trk></gpx>`

// sailed is a GPX track due east at 4 knots, a point a second.
func sailed(n int) string {
	var b strings.Builder
	b.WriteString(gpxHead)
	p := geo.Position{LatDeg: 54, LonDeg: 10}
	for i := range n {
		fmt.Fprintf(&b, `<trkpt lat="%.8f" lon="%.8f"><time>%s</time></trkpt>`, p.LatDeg, p.LonDeg,
			start.Add(time.Duration(i)*time.Second).Format(time.RFC3339))
		p = geo.Destination(p, 90, 4*geo.KnotMS)
	}
	return b.String() + gpxTail
}

func TestGPXDerivesSpeedAndCourse(t *testing.T) {
	log, err := GPX(strings.NewReader(sailed(20)))
	if err != nil {
		t.Fatal(err)
	}
	if log.Points != 20 || len(log.Inputs) != 20 || log.Cut != nil {
		t.Fatalf("got %v", log)
	}
	if log.Derived != 17 { // three seconds of base are needed first
		t.Errorf("derived %d, want 17", log.Derived)
	}
	if s := log.Inputs[2].Sample; s.SOGKn.OK || s.COGDeg.OK {
		t.Errorf("a speed without a base: %+v", s)
	}
	last := log.Inputs[19]
	near(t, "speed", last.Sample.SOGKn, 4, 0.01)
	near(t, "course", last.Sample.COGDeg, 90, 0.1)
	if want := boat.Time(start.Add(19 * time.Second).UnixMilli()); last.T != want {
		t.Errorf("time %d, want %d", last.T, want)
	}
}

// The positions and times are those that gpxgo v1.4.0, a library for the format,
// reads from the same file.
func TestGPXAgreesWithLibrary(t *testing.T) {
	ref, err := gpx.ParseString(sailed(50))
	if err != nil {
		t.Fatal(err)
	}
	log, err := GPX(strings.NewReader(sailed(50)))
	if err != nil {
		t.Fatal(err)
	}
	points := ref.Tracks[0].Segments[0].Points
	if len(points) != len(log.Inputs) {
		t.Fatalf("%d points, the library reads %d", len(log.Inputs), len(points))
	}
	for i, p := range points {
		in := log.Inputs[i]
		if in.Sample.LatDeg.Val != p.Latitude || in.Sample.LonDeg.Val != p.Longitude || int64(in.T) != p.Timestamp.UnixMilli() {
			t.Fatalf("point %d: got %+v, the library reads %+v", i, in, p)
		}
	}
}

func TestGPXPoints(t *testing.T) {
	const pos = `lat="54" lon="10"`
	const at = `<time>2026-05-03T12:00:00.250Z</time>`
	cases := map[string]struct {
		point string
		check func(*Log) bool
	}{
		"speed of GPX 1.0": {`<trkpt ` + pos + `>` + at + `<course>200.5</course><speed>2.5</speed></trkpt>`, func(l *Log) bool {
			s := l.Inputs[0].Sample
			return math.Abs(s.SOGKn.Val-4.8596) < 0.0001 && s.COGDeg == boat.Some(200.5) && l.Derived == 0
		}},
		"speed as an extension": {`<trkpt ` + pos + `>` + at + `<extensions><x:a><x:speed>2.5</x:speed><x:course>-10</x:course></x:a></extensions></trkpt>`, func(l *Log) bool {
			s := l.Inputs[0].Sample
			return math.Abs(s.SOGKn.Val-4.8596) < 0.0001 && s.COGDeg == boat.Some(350)
		}},
		"thousandths":     {`<trkpt ` + pos + `>` + at + `</trkpt>`, func(l *Log) bool { return l.Inputs[0].T%1000 == 250 }},
		"no time":         {`<trkpt ` + pos + `></trkpt>`, func(l *Log) bool { return len(l.Inputs) == 0 && l.NoTime == 1 }},
		"wrong time":      {`<trkpt ` + pos + `><time>noon</time></trkpt>`, func(l *Log) bool { return l.NoTime == 1 }},
		"speed NaN":       {`<trkpt ` + pos + `>` + at + `<speed>NaN</speed></trkpt>`, func(l *Log) bool { return !l.Inputs[0].Sample.SOGKn.OK }},
		"out of range":    {`<trkpt lat="94" lon="10">` + at + `</trkpt>`, func(l *Log) bool { return l.Empty == 1 }},
		"no position yet": {`<trkpt lat="0" lon="0">` + at + `</trkpt>`, func(l *Log) bool { return l.Empty == 1 }},
		"back in time": {`<trkpt ` + pos + `>` + at + `</trkpt><trkpt ` + pos + `><time>2026-05-03T11:00:00Z</time></trkpt>`, func(l *Log) bool {
			return len(l.Inputs) == 1 && l.Back == 1 && l.Points == 2
		}},
	}
	for name, c := range cases {
		log, err := GPX(strings.NewReader(gpxHead + c.point + gpxTail))
		if err != nil {
			t.Errorf("%s: %v", name, err)
		} else if !c.check(log) {
			t.Errorf("%s: got %v", name, log)
		}
	}
}

func TestCutGPXKeepsWhatCameBefore(t *testing.T) {
	whole := sailed(20)
	log, err := GPX(strings.NewReader(whole[:len(whole)*3/4]))
	if err != nil {
		t.Fatal(err)
	}
	if log.Cut == nil || len(log.Inputs) < 13 || !strings.Contains(log.String(), "ended early") {
		t.Errorf("got %v", log)
	}
}

func TestRefusedWhole(t *testing.T) {
	for name, f := range map[string]func() error{
		"GPX of nothing":    func() error { _, err := GPX(strings.NewReader("")); return err },
		"GPX of a route":    func() error { _, err := GPX(strings.NewReader(`<gpx><rte></rte></gpx>`)); return err },
		"FIT of text":       func() error { _, err := FIT(strings.NewReader("text that is no such file")); return err },
		"CSV without time":  func() error { _, err := CSV(strings.NewReader("lat,lon\n1,2\n")); return err },
		"CSV of only times": func() error { _, err := CSV(strings.NewReader("t\n1\n")); return err },
	} {
		if err := f(); err == nil || !strings.Contains(err.Error(), "expected") {
			t.Errorf("%s: want an error that says what was expected, got %v", name, err)
		}
	}
}

func fitFile(t testing.TB) []byte {
	t.Helper()
	act := filedef.NewActivity()
	act.FileId.SetType(typedef.FileActivity).SetTimeCreated(start)
	p := geo.Position{LatDeg: -33.5, LonDeg: 151.25}
	for i := range 10 {
		rec := mesgdef.NewRecord(nil).SetTimestamp(start.Add(time.Duration(i) * time.Second)).
			SetPositionLatDegrees(p.LatDeg).SetPositionLongDegrees(p.LonDeg)
		if i == 9 {
			rec.SetEnhancedSpeedScaled(2.5).SetGpsAccuracy(4)
		}
		act.Records = append(act.Records, rec)
		p = geo.Destination(p, 180, 3*geo.KnotMS)
	}
	file := act.ToFIT(nil)
	var b bytes.Buffer
	if err := encoder.New(&b).Encode(&file); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestFIT(t *testing.T) {
	log, err := FIT(bytes.NewReader(fitFile(t)))
	if err != nil {
		t.Fatal(err)
	}
	if len(log.Inputs) != 10 || log.Points != 10 || log.Cut != nil {
		t.Fatalf("got %v", log)
	}
	s := log.Inputs[0].Sample
	near(t, "lat", s.LatDeg, -33.5, 1e-6)
	near(t, "lon", s.LonDeg, 151.25, 1e-6)
	if s.SOGKn.OK || s.AccM.OK {
		t.Errorf("absent fields came out: %+v", s)
	}
	near(t, "derived speed", log.Inputs[8].Sample.SOGKn, 3, 0.02)
	last := log.Inputs[9].Sample
	near(t, "given speed", last.SOGKn, 2.5/geo.KnotMS, 1e-6)
	near(t, "course", last.COGDeg, 180, 0.5)
	if last.AccM != boat.Some(4) || int64(log.Inputs[9].T) != start.Add(9*time.Second).UnixMilli() {
		t.Errorf("got %+v", log.Inputs[9])
	}
}

func TestCutFITKeepsWhatCameBefore(t *testing.T) {
	whole := fitFile(t)
	log, err := FIT(bytes.NewReader(whole[:len(whole)-40]))
	if err != nil {
		t.Fatal(err)
	}
	if log.Cut == nil || len(log.Inputs) == 0 || len(log.Inputs) >= 10 {
		t.Errorf("got %v", log)
	}
}

func TestCSV(t *testing.T) {
	ms := fmt.Sprint(start.UnixMilli())
	cases := map[string]struct {
		text string
		want boat.Sample
	}{
		"names of our own samples": {"t,lat,lon,sog,cog,hdg,heel,pitch\n" + ms + ",54,10,4.5,360,10,-5,2\n",
			boat.Sample{LatDeg: boat.Some(54), LonDeg: boat.Some(10), SOGKn: boat.Some(4.5), COGDeg: boat.Some(0),
				HeadingDeg: boat.Some(10), HeadingRef: boat.True, HeelDeg: boat.Some(-5), PitchDeg: boat.Some(2)}},
		"units and an ISO time": {"Time;Speed_ms;Heading_mag;TWS_kmh;note\n2026-05-03T12:00:00Z;2,5;x;1;2\n2026-05-03T12:00:00Z;1852;350;18,52;ok\n",
			boat.Sample{HeadingDeg: boat.Some(350), HeadingRef: boat.Magnetic, TWSKn: boat.Some(10)}},
		"wind and seconds": {"t_s\tawa\taws\ttwa\ttwd_deg\tvar\n" + fmt.Sprint(start.Unix()) + "\t200\t12\t-30\t210\t-4\n",
			boat.Sample{AWADeg: boat.Some(-160), AWSKn: boat.Some(12), TWADeg: boat.Some(-30), TWDDeg: boat.Some(210), VarDeg: boat.Some(-4)}},
		"byte order mark and no end of line": {"\ufefft,stw\n" + ms + ",3.5", boat.Sample{WaterKn: boat.Some(3.5)}},
		"empty cells":                        {"t,lat,lon,sog,stw\n" + ms + ",,,,3\n", boat.Sample{WaterKn: boat.Some(3)}},
		"half a position":                    {"t,lat,lon,stw\n" + ms + ",54,,3\n", boat.Sample{WaterKn: boat.Some(3)}},
	}
	for name, c := range cases {
		log, err := CSV(strings.NewReader(c.text))
		if err != nil || len(log.Inputs) == 0 {
			t.Errorf("%s: %v %v", name, err, log)
			continue
		}
		in := log.Inputs[len(log.Inputs)-1]
		if *in.Sample != c.want || int64(in.T) != start.UnixMilli() {
			t.Errorf("%s: got %d %+v, want %+v", name, in.T, *in.Sample, c.want)
		}
	}
}

func TestCSVRowsThatCannotBeRead(t *testing.T) {
	log, err := CSV(strings.NewReader("t,sog\n100,1\nx,2\n99,3\n101,\n102,\"4\"5\n103,NaN\n104,6,7,8\n"))
	if err != nil {
		t.Fatal(err)
	}
	if len(log.Inputs) != 2 || log.NoTime != 1 || log.Back != 1 || log.Empty != 2 || log.Broken != 1 || log.Points != 7 {
		t.Errorf("got %v, %+v", log, *log)
	}
}

func fuzz(f *testing.F, read func(b []byte) (*Log, error)) {
	f.Fuzz(func(t *testing.T, b []byte) {
		log, err := read(b)
		if err != nil {
			return
		}
		if got := len(log.Inputs) + log.NoTime + log.Back + log.Empty + log.Broken; got != log.Points {
			t.Fatalf("%d points, accounted for %d", log.Points, got)
		}
		last := boat.Time(0)
		for _, in := range log.Inputs {
			s := in.Sample
			if in.T < last || s.SOGKn.Val < 0 || s.SOGKn.Val > maxKn || math.Abs(s.LatDeg.Val) > 90 || s.COGDeg.Val < 0 || s.COGDeg.Val >= 360 {
				t.Fatalf("out of range or order: %+v %+v", in, s)
			}
			last = in.T
		}
	})
}

func FuzzGPX(f *testing.F) {
	f.Add([]byte(sailed(5)))
	fuzz(f, func(b []byte) (*Log, error) { return GPX(bytes.NewReader(b)) })
}

func FuzzFIT(f *testing.F) {
	f.Add(fitFile(f))
	fuzz(f, func(b []byte) (*Log, error) { return FIT(bytes.NewReader(b)) })
}

func FuzzCSV(f *testing.F) {
	f.Add([]byte("t,lat,lon,sog_kn\n1000,54,10,4\n"))
	f.Add([]byte("time;hdg\n2026-05-03T12:00:00Z;4\n"))
	fuzz(f, func(b []byte) (*Log, error) { return CSV(bytes.NewReader(b)) })
}
