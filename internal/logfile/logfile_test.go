package logfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"helmcue/internal/boat"
	"helmcue/internal/recording"
)

const realDir = "../../testdata/real"

const (
	hdt   = "$HCHDT,115.1,T*2D\r\n"
	rmc   = "$GNRMC,100538.00,A,5546.27711,N,03736.91144,E,0.061,,260318,,,A*60\r\n"
	jsonl = `{"type":"sample","t":1777809600000,"lat":54.1,"lon":10.2,"sog":4.5,"hdg":30,"hdgRef":"mag"}` + "\n"
)

func all(t testing.TB, l *Log) []boat.Input {
	t.Helper()
	var out []boat.Input
	for {
		in, err := l.Next()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, in)
	}
}

func open1(t testing.TB, text string) *Log {
	t.Helper()
	l, err := Open(strings.NewReader(text), Options{})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

type file struct{ bytes.Buffer }

func (*file) Sync() error  { return nil }
func (*file) Close() error { return nil }

// taped is a recording of the inputs, each with an output behind it.
func taped(t testing.TB, h recording.Header, closed bool, in ...boat.Input) string {
	t.Helper()
	var f file
	w, err := recording.Create(&f, h)
	if err != nil {
		t.Fatal(err)
	}
	for _, i := range in {
		err := errors.Join(w.Input(i), w.Output(boat.Output{Note: &boat.Note{T: i.T, Code: "x", Text: "y"}}))
		if err != nil {
			t.Fatal(err)
		}
	}
	if closed {
		if err := w.Close(); err != nil {
			t.Fatal(err)
		}
	}
	return f.String()
}

func settings(kn float64) boat.Input {
	return boat.Input{T: 1000, Kind: boat.SettingsIn, Source: "service", Settings: &boat.Settings{LimitKn: kn}}
}

func sampled(t boat.Time) boat.Input {
	return boat.Input{T: t, Kind: boat.SampleIn, Source: "phone", Sample: &boat.Sample{SOGKn: boat.Some(4)}}
}

func TestFormIsToldFromContent(t *testing.T) {
	cases := map[string]struct {
		text   string
		want   Form
		inputs int
	}{
		"recording":                              {taped(t, recording.Header{}, true, sampled(1000)), Recording, 1},
		"sentences":                              {rmc + hdt, NMEA, 2},
		"sentences after noise":                  {"Initializing..\n\ndefault to 4800..\nSetting GPS, please wait\n" + rmc + hdt, NMEA, 2},
		"sentences after a cut":                  {"6,N,07658.0729,W,0.27*4D\r\n" + rmc, NMEA, 1},
		"proprietary first":                      {"$PSRF100,1,4800,8,1,0*0E\n" + rmc, NMEA, 1},
		"messages":                               {jsonl + jsonl, JSONLines, 2},
		"messages behind a mark and blank lines": {"\ufeff\n  \n" + jsonl, JSONLines, 1},
		"no end of line":                         {strings.TrimSpace(jsonl), JSONLines, 1},
		"GPX":                                    {`<?xml version="1.0"?>` + "\n" + `<gpx><trk><trkseg><trkpt lat="54" lon="10"><time>2026-05-03T12:00:00Z</time></trkpt></trkseg></trk></gpx>`, GPX, 1},
		"table":                                  {"t,lat,lon,sog_kn\n1777809600000,54,10,4\n1777809601000,54,10,4\n", CSV, 2},
	}
	for name, c := range cases {
		l := open1(t, c.text)
		got := all(t, l)
		if l.Form() != c.want || len(got) != c.inputs {
			t.Errorf("%s: %v with %d inputs, want %v with %d: %s", name, l.Form(), len(got), c.want, c.inputs, l.Report())
		}
		if !strings.HasPrefix(l.Report(), c.want.String()+": ") {
			t.Errorf("%s: report %q", name, l.Report())
		}
	}
}

func TestRefused(t *testing.T) {
	for name, c := range map[string]struct{ text, says string }{
		"empty":               {"", "the log is empty: expected own recording, NMEA 0183 lines, JSON lines, GPX, FIT, CSV"},
		"prose":               {"Dear diary,\ntoday we sailed.\n", `not known: expected own recording, NMEA 0183 lines, JSON lines, GPX, FIT, CSV, got something that begins with "Dear diary`},
		"binary":              {"\x7fELF\x02\x01\x01", "not known"},
		"not FIT after all":   {"\x0e\x10\x00\x00 nothing", "not known"},
		"not MCAP after all":  {"\x89PNG\r\n\x1a\n", "not known"},
		"a table of accounts": {"date,amount\n2026-01-01,5\n", "not known"},
		"other XML":           {"<html></html>", "no gpx element"},
		"blank":               {"\n\n\n", "not known"},
	} {
		_, err := Open(strings.NewReader(c.text), Options{})
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: want an error with %q, got %v", name, c.says, err)
		}
	}
}

// A log of which nothing can be used ends with an error that says why.
func TestNothingUsable(t *testing.T) {
	for name, c := range map[string]struct{ text, says string }{
		"sentences of no use":           {"$SDDBT,8.46,f,2.58,M,1.41,F*37\n", "1 lines, 0 kept, 1 skipped: 1 type not used (SDDBT)"},
		"no time":                       {hdt + hdt, "2 no time known"},
		"messages of no use":            {`{"type":"sample"}` + "\n", "1 missing"},
		"outputs of a replay":           {`{"type":"state","t":1}` + "\n", "1 unknown type; the first: line 1: "},
		"a recording of no input":       {taped(t, recording.Header{}, true), "0 inputs kept"},
		"a recording cut in its header": {taped(t, recording.Header{}, true)[:20], "cut off"},
	} {
		l := open1(t, c.text)
		var err error
		for err == nil {
			_, err = l.NextLine()
		}
		if errors.Is(err, io.EOF) || !strings.Contains(err.Error(), "nothing in the log can be used") || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: want an error with %q, got %v", name, c.says, err)
		}
		if _, again := l.NextLine(); again != err {
			t.Errorf("%s: then %v", name, again)
		}
	}
}

// One call answers one line, and comes back before the next line is there.
func TestLockstep(t *testing.T) {
	for name, lines := range map[string][]string{
		"messages":  {jsonl, "\n", "{bad\n", `{"type":"hidden","t":1777809600100}` + "\n", jsonl},
		"sentences": {rmc, hdt, "noise\n", hdt},
	} {
		r, w := io.Pipe()
		opened := make(chan *Log)
		go func() {
			l, err := Open(r, Options{})
			if err != nil {
				t.Error(err)
			}
			opened <- l
		}()
		write := func(s string) {
			if _, err := io.WriteString(w, s); err != nil {
				t.Error(err)
			}
		}
		write(lines[0])
		l := <-opened
		counts := []int{}
		for i := range lines {
			if i > 0 {
				go write(lines[i])
			}
			counts = append(counts, answered(t, l))
		}
		w.Close()
		if _, err := l.NextLine(); err != io.EOF {
			t.Errorf("%s: at the end %v", name, err)
		}
		want := map[string][]int{"messages": {1, 0, 0, 1, 1}, "sentences": {1, 1, 0, 1}}[name]
		if !slices.Equal(counts, want) {
			t.Errorf("%s: inputs by line %v, want %v", name, counts, want)
		}
	}
}

func answered(t *testing.T, l *Log) int {
	t.Helper()
	n := make(chan int, 1)
	go func() {
		in, err := l.NextLine()
		if err != nil {
			t.Error(err)
		}
		n <- len(in)
	}()
	select {
	case got := <-n:
		return got
	case <-time.After(5 * time.Second):
		t.Fatal("the line was not answered before the next one")
	}
	return 0
}

func TestMessages(t *testing.T) {
	text := jsonl +
		`{"type":"samples","batch":[{"t":1777809600100,"sog":1},{"t":1777809600200,"sog":-1},{"t":1777809600300,"sog":2}]}` + "\n" +
		`{"type":"wind_fix","t":1777809600400,"dir":210,"method":"pointed"}` + "\n" +
		`{"type":"answer","t":1777809600500,"knocks":2}` + "\n" +
		`{"type":"shown","t":1777809600600}` + "\n" +
		`{"type":"bye"}` + "\n" +
		`{"type":"sample","t":1777809600700,"lat":"north"}` + "\n" +
		"{" + strings.Repeat(" ", maxLine) + "}\n" +
		"\n" +
		"not JSON\n"
	l := open1(t, text)
	got := all(t, l)
	var kinds []string
	for _, in := range got {
		kinds = append(kinds, in.Kind.String())
	}
	if want := "sample sample sample wind_fix answer shown"; strings.Join(kinds, " ") != want {
		t.Errorf("got %v, want %s", kinds, want)
	}
	if got[0].T != 1777809600000 || got[0].Sample.HeadingRef != boat.Magnetic {
		t.Errorf("the first is %+v %+v", got[0], got[0].Sample)
	}
	const want = "JSON lines: 10 lines, 5 kept, 5 skipped: 1 empty, 1 bad json, 1 bad type, 1 no business of the engine, 1 too long; samples missing from 1 kept batches; the first: line 2: "
	if !strings.HasPrefix(l.Report(), want) {
		t.Errorf("report\n%q, want\n%q", l.Report(), want)
	}
}

func TestRecordingGivesInputsAndSettings(t *testing.T) {
	h := recording.Header{Session: "s", Boat: "Testling", Settings: &boat.Settings{LimitKn: 9}}
	cases := map[string]struct {
		h    recording.Header
		in   []boat.Input
		want []string
		has  bool
		kn   float64
	}{
		"settings among the inputs": {h, []boat.Input{{T: 1000}, settings(12), sampled(1100)}, []string{"tick", "settings", "sample"}, true, 12},
		"settings in the header":    {h, []boat.Input{sampled(1100)}, []string{"settings", "sample"}, true, 9},
		"no settings":               {recording.Header{}, []boat.Input{sampled(1100)}, []string{"sample"}, false, 0},
	}
	for name, c := range cases {
		l := open1(t, taped(t, c.h, true, c.in...))
		if l.HasSettings() != c.has {
			t.Errorf("%s: HasSettings %v", name, l.HasSettings())
		}
		var kinds []string
		for _, in := range all(t, l) {
			kinds = append(kinds, in.Kind.String())
			if in.Settings != nil && in.Settings.LimitKn != c.kn {
				t.Errorf("%s: limit %v, want %v", name, in.Settings.LimitKn, c.kn)
			}
		}
		if !slices.Equal(kinds, c.want) || l.Torn() {
			t.Errorf("%s: got %v, want %v, torn %v", name, kinds, c.want, l.Torn())
		}
		if got, ok := l.Header(); !ok || got.Boat != c.h.Boat {
			t.Errorf("%s: header %+v", name, got)
		}
	}
}

func TestTornAndDamagedRecordings(t *testing.T) {
	var in []boat.Input
	for i := range 200 {
		in = append(in, sampled(boat.Time(1000+i)))
	}
	torn := taped(t, recording.Header{}, false, in...)
	l := open1(t, torn[:len(torn)-10])
	if got := all(t, l); len(got) != 200 || !l.Torn() || !strings.Contains(l.Report(), "cut off") {
		t.Errorf("%d inputs, torn %v, %s", len(got), l.Torn(), l.Report())
	}
	damaged := torn + strings.Repeat("\x00", 9) + "and then something else"
	l = open1(t, damaged)
	n := 0
	for {
		if _, err := l.Next(); err != nil {
			if !errors.Is(err, recording.ErrDamaged) || n != 200 {
				t.Errorf("after %d inputs: %v", n, err)
			}
			break
		}
		n++
	}
	odd := strings.Replace(torn, `"kind":"sample"`, `"kind":"trifle"`, 1)
	l = open1(t, odd)
	if got := all(t, l); len(got) != 199 || !strings.Contains(l.Report(), "1 left out; the first: entry 1") {
		t.Errorf("%d inputs, %s", len(got), l.Report())
	}
}

// The real recordings come whole through the front door; what becomes of each
// line is checked in package nmea.
func TestRealRecordings(t *testing.T) {
	for name, want := range map[string]int{
		"finland_motoring.nmea":                   11424,
		"gulf_of_finland_2014-08-15_no_wind.nmea": 1783,
		"neuse_river_2016-08-12.nmea":             4797,
	} {
		f, err := os.Open(filepath.Join(realDir, name))
		if err != nil {
			t.Fatal(err)
		}
		l, err := Open(f, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if got := all(t, l); len(got) != want || l.Form() != NMEA {
			t.Errorf("%s: %d inputs as %v, want %d", name, len(got), l.Form(), want)
		}
		t.Log(l.Report())
		f.Close()
	}
}

type broken struct{ n int }

func (b *broken) Read(p []byte) (int, error) {
	if b.n++; b.n == 1 {
		return copy(p, jsonl), nil
	}
	return 0, errors.New("the stick was pulled out")
}

func TestReadErrorIsNotTheEnd(t *testing.T) {
	l, err := Open(&broken{}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := l.Next(); err != nil {
		t.Fatal(err)
	}
	if _, err := l.Next(); err == nil || errors.Is(err, io.EOF) || !strings.Contains(err.Error(), "pulled out") {
		t.Errorf("got %v", err)
	}
}

func FuzzOpen(f *testing.F) {
	for _, s := range []string{rmc + hdt, jsonl, "t,sog\n1,2\n", "<gpx><trkpt/></gpx>", "\x0e\x10 and",
		taped(f, recording.Header{}, true, settings(3), sampled(4)), "noise\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		l, err := Open(bytes.NewReader(b), Options{})
		if err != nil {
			return
		}
		for n := 0; ; n++ {
			in, err := l.Next()
			if err != nil {
				break
			}
			if in.Kind == boat.SampleIn && in.Sample == nil && l.Form() != Recording {
				t.Fatalf("a sample without readings: %+v", in)
			}
		}
		if l.Report() == "" || fmt.Sprint(l.Form()) == "" {
			t.Fatal("no report")
		}
	})
}
