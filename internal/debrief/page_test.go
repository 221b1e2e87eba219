package debrief

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"helmcue/internal/boat"
)

// lesson is a session with some of everything, for looking at and for tests.
func lesson() Session {
	m := newMade()
	m.sail(90)
	m.set(boat.CloseHauled, 36, 0.7)
	m.sail(20)
	m.say(boat.BearAway, "bear away ten degrees", boat.Some(10))
	m.sail(4)
	m.at45(0.95)
	m.sail(10)
	m.say(boat.Good, "that is good", boat.Reading{})
	for i, lost := range []float64{19, 14, 8, 7} {
		m.sail(50)
		m.say(boat.PrepareTack, "prepare to tack … two two five", boat.Some(225))
		m.sail(10)
		m.tack(lost)
		m.say(boat.LetRun, "wait for speed", boat.Reading{})
		m.now.Share = boat.Some(0.7 + 0.08*float64(i))
		m.sail(8)
		m.at45(0.97)
		m.angle(math.Copysign(45, float64(i%2*2-1)))
		m.lean = 6 + 4*float64(i)
		m.now.TWDDeg = boat.Some(270 + 4*float64(i))
	}
	m.say(boat.LetGo, "let the sheet go", boat.Reading{})
	m.Outputs[len(m.Outputs)-1].Cue.Urgency = boat.Danger
	m.lean = 4
	m.sail(30)
	m.now.TWDKnown = false
	m.sail(80)
	m.say(boat.WindLost, "I have lost the wind", boat.Reading{})
	m.in(boat.Input{Kind: boat.ActIn, Act: &boat.Act{Act: "mark", Text: "talk about this one"}})
	m.sail(20)
	return m.Session
}

// wellFormed reads the whole page as XML, which is stricter than HTML.
func wellFormed(page []byte) error {
	d := xml.NewDecoder(bytes.NewReader(page))
	d.Entity = xml.HTMLEntity
	for {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
	}
}

func html(t interface{ Fatal(...any) }, r Report) string {
	var b bytes.Buffer
	if err := WriteHTML(&b, r); err != nil {
		t.Fatal(err)
	}
	if err := wellFormed(b.Bytes()); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestPageHoldsTheSession(t *testing.T) {
	page := html(t, Build(lesson()))
	for _, want := range []string{"Tuesday afternoon, Wren", "4 tacks", "prepare to tack … two two five", "4.8 lengths",
		"What could not be seen", "The wind was known for", "let the sheet go", "talk about this one", "wind not known",
		"Lookout comes first", "wind from 27", ">4.8<", "because of its numbers", "angle 36° to 45° off the wind", "UTC"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	for _, no := range []string{"NaN", "Inf", "%!", "http://", "https://", "ZgotmplZ", "<script"} {
		if strings.Contains(strings.ReplaceAll(page, `xmlns="http://www.w3.org/1999/xhtml"`, ""), no) {
			t.Errorf("the page says %q", no)
		}
	}
}

// To look at it: HELMCUE_PAGE=folder go test -run TestPageCanBeLookedAt
func TestPageCanBeLookedAt(t *testing.T) {
	dir := os.Getenv("HELMCUE_PAGE")
	if dir == "" {
		dir = t.TempDir()
	}
	var font []byte
	if name := os.Getenv("HELMCUE_FONT"); name != "" {
		var err error
		if font, err = os.ReadFile(name); err != nil {
			t.Fatal(err)
		}
	}
	for name, s := range map[string]Session{"lesson": lesson(), "empty": {}} {
		var b bytes.Buffer
		if err := (Look{Font: font}).WriteHTML(&b, Build(s)); err != nil {
			t.Fatal(err)
		}
		if err := wellFormed(b.Bytes()); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if err := os.WriteFile(dir+"/"+name+".html", b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

func TestFontIsPutIn(t *testing.T) {
	var b bytes.Buffer
	if err := (Look{Font: []byte("a font")}).WriteHTML(&b, Report{}); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), "data:font/woff2;base64,YSBmb250") {
		t.Error("the font is not in the page")
	}
}

func TestTextCannotBecomeMarkup(t *testing.T) {
	evil := `</style><script>alert("x")</script>&<b title='`
	m := newMade()
	m.Name, m.Voice = evil, evil
	m.in(boat.Input{Kind: boat.SettingsIn, Settings: &boat.Settings{Boat: evil, LengthM: 4}})
	m.sail(20)
	m.say(boat.Say, evil, boat.Reading{})
	c := m.Outputs[len(m.Outputs)-1].Cue
	c.Why, c.WhyCode, c.Key = evil, evil, boat.Key(evil)
	m.in(boat.Input{Kind: boat.ActIn, Act: &boat.Act{Act: "mark", Text: evil}})
	m.sail(200)
	m.out(boat.Output{Manoeuvre: &boat.Manoeuvre{Kind: evil, To: evil, Start: m.t, Eye: m.t}})
	page := html(t, Build(m.Session))
	if strings.Contains(page, "<script") || strings.Contains(page, "<b title") {
		t.Error("text from the session became markup")
	}
	if strings.Count(page, "&lt;script&gt;") < 6 {
		t.Error("the text is not on the page")
	}
}

func TestWriterErrorComesBack(t *testing.T) {
	if err := WriteHTML(full{}, Build(lesson())); !errors.Is(err, errFull) {
		t.Errorf("got %v, want the writer's own error", err)
	}
}

var errFull = errors.New("disk full")

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }

// anyReading is absent, ordinary, or absurd.
func anyReading() *rapid.Generator[boat.Reading] {
	return rapid.Custom(func(t *rapid.T) boat.Reading {
		switch rapid.IntRange(0, 4).Draw(t, "sort") {
		case 0:
			return boat.Reading{}
		case 1:
			return boat.Some(rapid.Float64().Draw(t, "absurd"))
		}
		return boat.Some(rapid.Float64Range(-400, 400).Draw(t, "ordinary"))
	})
}

func anyTime() *rapid.Generator[boat.Time] {
	return rapid.Custom(func(t *rapid.T) boat.Time {
		if rapid.IntRange(0, 9).Draw(t, "sort") == 0 {
			return boat.Time(rapid.Int64().Draw(t, "absurd"))
		}
		return start + boat.Time(rapid.Int64Range(-10_000, 4_000_000).Draw(t, "ordinary"))
	})
}

func anyOutput(t *rapid.T, at boat.Time) boat.Output {
	r := func(name string) boat.Reading { return anyReading().Draw(t, name) }
	switch rapid.IntRange(0, 5).Draw(t, "output") {
	case 0:
		settled := anyTime().Draw(t, "settled")
		m := &boat.Manoeuvre{T: at, Kind: rapid.SampledFrom([]string{"tack", "gybe"}).Draw(t, "kind"), Start: anyTime().Draw(t, "start"),
			Eye: anyTime().Draw(t, "eye"), TurnDeg: r("turn"), RecoveredS: r("back"), LostM: r("lost")}
		if rapid.Bool().Draw(t, "settles") {
			m.Settled = &settled
		}
		return boat.Output{Manoeuvre: m}
	case 1:
		return boat.Output{Cue: &boat.Cue{T: at, ID: rapid.IntRange(-1, 9).Draw(t, "id"), Words: rapid.String().Draw(t, "words"), Why: rapid.String().Draw(t, "why"),
			Key: rapid.SampledFrom(boat.Keys()).Draw(t, "key"), Amount: r("amount"), Ref: boat.Magnetic, Urgency: boat.Urgency(rapid.IntRange(-1, 9).Draw(t, "urgency"))}}
	case 2:
		return boat.Output{}
	}
	return boat.Output{Status: &boat.Status{T: at, Mode: boat.Mode(rapid.IntRange(-1, 12).Draw(t, "mode")), TWDDeg: r("twd"), TWDLoDeg: r("lo"), TWDHiDeg: r("hi"),
		TWDKnown: rapid.Bool().Draw(t, "known"), TWSKn: r("tws"), TWADeg: r("twa"), TargetTWA: r("target"), TargetKn: r("kn"), Share: r("share"), Heading: r("heading")}}
}

func TestAnySessionMakesAPage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := NewBuilder(Config{Name: rapid.String().Draw(t, "name")})
		now := anyTime().Draw(t, "first")
		for range rapid.IntRange(0, 60).Draw(t, "n") {
			now += boat.Time(rapid.SampledFrom([]int64{1000, 1000, 1000, 0, -1000, 90_000, 1e9}).Draw(t, "step"))
			b.Input(boat.Input{T: now, Kind: boat.SampleIn, Sample: &boat.Sample{
				LatDeg: anyReading().Draw(t, "lat"), LonDeg: anyReading().Draw(t, "lon"), HeelDeg: anyReading().Draw(t, "heel")}})
			b.Output(anyOutput(t, now))
		}
		page := html(t, b.Report())
		if len(page) > 4<<20 {
			t.Fatalf("a page of %d bytes for a minute", len(page))
		}
		if strings.Contains(page, "ZgotmplZ") {
			t.Fatal("the template refused a value")
		}
	})
}

// The floor is gathering alone; what comes on top is the review and the page.
func BenchmarkThreeHours(b *testing.B) {
	m := newMade()
	for range 60 {
		m.sail(170)
		m.say(boat.HeadUp, "head her up a touch", boat.Some(5))
		m.tack(8)
	}
	gather := func() *Builder {
		g := NewBuilder(m.Config)
		for _, in := range m.Inputs {
			g.Input(in)
		}
		for _, o := range m.Outputs {
			g.Output(o)
		}
		return g
	}
	b.Run("floor", func(b *testing.B) {
		for b.Loop() {
			gather()
		}
	})
	b.Run("page", func(b *testing.B) {
		for b.Loop() {
			if err := WriteHTML(io.Discard, gather().Report()); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(3*3600/(b.Elapsed().Seconds()/float64(b.N)), "x-real-time")
	})
}

func ExampleBuild() {
	r := Build(lesson())
	fmt.Println(r.Well)
	fmt.Println(r.MostCost)
	fmt.Println(r.Practise)
	// Output:
	// 2 of 4 tacks cost two lengths or less, the best 1.8 lengths.
	// Most went in the tacks: about 50 m (12 lengths) of 65 m that can be counted.
	// Next time: tack from a reach, three of four for 2 lengths or less.
}
