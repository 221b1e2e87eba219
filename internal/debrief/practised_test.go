package debrief

import (
	"bytes"
	"strings"
	"testing"

	"helmcue/internal/boat"
)

// drilled builds a report from where an exercise stood, in words: name phase text.
func drilled(lines ...string) Report {
	b := NewBuilder(Config{Name: "Lesson"})
	for i, l := range lines {
		f := strings.SplitN(l, " ", 3)
		t := boat.Time(1_800_000_000_000 + 30_000*i)
		b.Output(boat.Output{Status: &boat.Status{T: t, Mode: boat.Reaching}})
		x := boat.Exercise{T: t, Name: f[0], Title: strings.ToUpper(f[0][:1]) + f[0][1:], Phase: f[1], Text: f[2]}
		switch f[1] {
		case "good":
			x.Phase, x.Score = "result", map[string]float64{"good": 1, "stop_s": 9}
		case "bad":
			x.Phase, x.Score = "result", map[string]float64{"good": 0}
		}
		b.Output(boat.Output{Exercise: &x})
	}
	return b.Report()
}

func TestExercisesAreListed(t *testing.T) {
	r := drilled("stop waiting -", "stop trying -", "stop good 9 s", "stop bad 40 s", "stop good 8 s", "stop opened -",
		"reach waiting she turns", "reach bad 12°", "reach void -", "gybe skipped left out: too windy")
	if len(r.Exercises) != 3 {
		t.Fatalf("%d exercises, want 3: %+v", len(r.Exercises), r.Exercises)
	}
	for i, want := range []string{"2 of 3 tries good, done", "0 of 1 try good", "left out: too windy"} {
		if got := r.Exercises[i].outcome(); got != want {
			t.Errorf("%s came to %q, want %q", r.Exercises[i].Name, got, want)
		}
	}
	if r.Next != "Next exercise: reach again, 0 of 1 try good so far." {
		t.Errorf("next: %q", r.Next)
	}
	var page bytes.Buffer
	if err := WriteHTML(&page, r); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`<h2 id="prac">Exercises</h2>`, "2 of 3 tries good, done", "1:00 good: 9 s", r.Next} {
		if !strings.Contains(page.String(), want) {
			t.Errorf("the page does not say %q", want)
		}
	}
}

func TestWhichExerciseComesNext(t *testing.T) {
	for want, lines := range map[string][]string{
		"":                     {},
		"Next exercise: gybe.": {"stop good -", "stop opened -", "gybe waiting too windy"},
		"Next exercise: the plan is done; take the next one, or this one with fewer words.": {"stop good -", "stop opened -", "stop over -"},
	} {
		if r := drilled(lines...); r.Next != want {
			t.Errorf("%v: %q, want %q", lines, r.Next, want)
		}
	}
	var page bytes.Buffer
	if err := WriteHTML(&page, drilled()); err != nil || strings.Contains(page.String(), "Exercises") {
		t.Errorf("a session without exercises lists them (%v)", err)
	}
}

// The same exercise twice in a plan is two rows.
func TestTheSameExerciseTwice(t *testing.T) {
	r := drilled("tacks good -", "tacks opened -", "tacks waiting -", "tacks bad -")
	if len(r.Exercises) != 2 || r.Exercises[0].Good != 1 || r.Exercises[1].Good != 0 {
		t.Errorf("%+v", r.Exercises)
	}
}
