package phonemsg

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"helmcue/internal/boat"
)

// reading is one number to be checked, with the range it can truly have.
type reading struct {
	name   string
	r      boat.Reading
	lo, hi float64
}

func inRange(list []reading) error {
	for _, c := range list {
		if c.r.OK && !(c.lo <= c.r.Val && c.r.Val <= c.hi) {
			return outOfRange(c.name, fmt.Sprintf("%g to %g", c.lo, c.hi), c.r.Val)
		}
	}
	return nil
}

// The widest values a reading can truly have. 100 knots leaves room for the
// drive to the ramp; 2000 degrees a second is where phone gyroscopes end
// (common practice, no source).
const (
	maxBoatKn = 100
	maxWindKn = 150
	maxAccM   = 1e7
	maxYawDps = 2000
)

func readSample(b []byte) (Sample, error) {
	var w struct {
		T   millis `json:"t"`
		Seq *int64 `json:"seq"`
		boat.Sample
	}
	t, err := readTimed(b, &w, &w.T)
	if err != nil {
		return Sample{}, err
	}
	s := Sample{T: t, Sample: w.Sample}
	if w.Seq != nil {
		s.Seq, s.HasSeq = *w.Seq, true
	}
	return s, checkSample(&s.Sample)
}

func checkSample(s *boat.Sample) error {
	err := inRange([]reading{
		{"lat", s.LatDeg, -90, 90}, {"lon", s.LonDeg, -180, 180}, {"acc", s.AccM, 0, maxAccM},
		{"sog", s.SOGKn, 0, maxBoatKn}, {"cog", s.COGDeg, 0, 360}, {"hdg", s.HeadingDeg, 0, 360},
		{"var", s.VarDeg, -180, 180}, {"heel", s.HeelDeg, -180, 180}, {"pitch", s.PitchDeg, -90, 90},
		{"yaw", s.YawDps, -maxYawDps, maxYawDps}, {"batt", s.Batt, 0, 1}, {"stw", s.WaterKn, 0, maxBoatKn},
		{"awa", s.AWADeg, -180, 180}, {"aws", s.AWSKn, 0, maxWindKn}, {"twa", s.TWADeg, -180, 180},
		{"tws", s.TWSKn, 0, maxWindKn}, {"twd", s.TWDDeg, 0, 360},
	})
	switch {
	case err != nil:
		return err
	case s.Seq < 0:
		return outOfRange("seq", "a count from 0 up", s.Seq)
	case s.LatDeg.OK != s.LonDeg.OK:
		return missing("lat and lon", "both or neither")
	case s.HeadingDeg.OK && s.HeadingRef == "":
		return missing("hdgRef", "true or mag, with every hdg")
	}
	if err := ref("hdgRef", s.HeadingRef); err != nil {
		return err
	}
	return mount(s.Mount)
}

func readWindFix(b []byte) (*boat.WindFix, boat.Time, error) {
	var w struct {
		T millis `json:"t"`
		boat.WindFix
	}
	t, err := readTimed(b, &w, &w.T)
	if err != nil {
		return nil, 0, err
	}
	f := &w.WindFix
	if !slices.Contains(WindMethods(), f.Method) {
		return nil, 0, outOfRange("method", strings.Join(WindMethods(), ", "), f.Method)
	}
	if !f.DirDeg.OK && !f.Kn.OK && f.Method != "head_to_wind" {
		return nil, 0, missing("dir", "degrees the wind comes from, or kn")
	}
	return f, t, checkWindFix(f)
}

func checkWindFix(f *boat.WindFix) error {
	err := inRange([]reading{{"dir", f.DirDeg, 0, 360}, {"sd", f.SDDeg, 0, 180}, {"kn", f.Kn, 0, maxWindKn},
		{"lat", f.LatDeg, -90, 90}, {"lon", f.LonDeg, -180, 180}})
	if err != nil {
		return err
	}
	return ref("ref", f.Ref)
}

func readAnswer(b []byte) (*boat.Answer, boat.Time, error) {
	var w struct {
		T millis `json:"t"`
		boat.Answer
	}
	t, err := readTimed(b, &w, &w.T)
	if err != nil {
		return nil, 0, err
	}
	switch a := w.Answer; {
	case a.Knocks < 0 || a.Knocks > 9:
		return nil, 0, outOfRange("knocks", "0 to 9", a.Knocks)
	case a.Knocks == 0 && !a.Done:
		return nil, 0, missing("knocks", "1 to 9, or done")
	}
	return &w.Answer, t, nil
}

func readSpoken(b []byte) (*boat.Spoken, boat.Time, error) {
	var w struct {
		T millis `json:"t"`
		boat.Spoken
	}
	t, err := readTimed(b, &w, &w.T)
	if err != nil {
		return nil, 0, err
	}
	s := &w.Spoken
	if s.What == "" {
		s.What = "finished"
	}
	if s.Where == "" {
		s.Where = "phone"
	}
	switch {
	case s.ID < 1:
		return nil, 0, outOfRange("id", "the id of a cue, from 1 up", s.ID)
	case !slices.Contains([]string{"started", "finished", "dropped", "failed"}, s.What):
		return nil, 0, outOfRange("what", "started, finished, dropped or failed", s.What)
	case s.Where != "phone" && s.Where != "boat":
		return nil, 0, outOfRange("where", "phone or boat", s.Where)
	case s.Own != nil && (s.Own.Key == "" || s.Own.Words == ""):
		return nil, 0, missing("own", "a cue with its key and words")
	}
	if s.Own != nil {
		if err := text("own.words", s.Own.Words); err != nil {
			return nil, 0, err
		}
		if err := text("own.why", s.Own.Why); err != nil {
			return nil, 0, err
		}
	}
	return s, t, text("note", s.Note)
}

// A loudspeaker without a wire takes a third of a second; past three it is no
// delay but another loudspeaker's sound (from memory).
const maxDelayS = 3

func readDelay(b []byte) (*SoundDelay, boat.Time, error) {
	var w struct {
		T millis   `json:"t"`
		S *float64 `json:"s"`
	}
	t, err := readTimed(b, &w, &w.T)
	switch {
	case err != nil:
		return nil, 0, err
	case w.S == nil:
		return nil, 0, missing("s", "seconds from the page to the ear")
	case !(*w.S >= 0 && *w.S <= maxDelayS):
		return nil, 0, outOfRange("s", fmt.Sprintf("0 to %d", maxDelayS), *w.S)
	}
	return &SoundDelay{S: *w.S}, t, nil
}

func readAct(b []byte) (*Act, boat.Time, error) {
	var w struct {
		T millis `json:"t"`
		Act
	}
	t, err := readTimed(b, &w, &w.T)
	if err != nil {
		return nil, 0, err
	}
	a := &w.Act
	if !slices.Contains(Acts(), a.Act) {
		return nil, 0, outOfRange("act", strings.Join(Acts(), ", "), a.Act)
	}
	if err := name("boat", a.Boat); err != nil {
		return nil, 0, err
	}
	return a, t, checkAct(a)
}

func checkAct(a *Act) error {
	switch a.Act {
	case "say":
		if a.Phrase == "" {
			return missing("phrase", "the key of a prepared phrase")
		}
	case "wind":
		if !a.DirDeg.OK && !a.Kn.OK {
			return missing("dir", "degrees the wind comes from, or kn")
		}
	case "level":
		if l := boat.Level(0); l.UnmarshalText([]byte(a.Level)) != nil {
			return outOfRange("level", "beginner, improver or expert", a.Level)
		}
	case "exercise":
		if !slices.Contains([]string{"start", "skip", "stop"}, a.Text) {
			return outOfRange("text", "start, skip or stop", a.Text)
		}
	case "limit":
		if !a.Kn.OK || a.Kn.Val < 1 || a.Kn.Val > 60 {
			return outOfRange("kn", "a wind limit of 1 to 60 knots", a.Kn.Or(0))
		}
	}
	if err := inRange([]reading{{"dir", a.DirDeg, 0, 360}, {"sd", a.SDDeg, 0, 180}, {"kn", a.Kn, 0, maxWindKn}}); err != nil {
		return err
	}
	if err := ref("ref", a.Ref); err != nil {
		return err
	}
	if err := text("phrase", a.Phrase); err != nil {
		return err
	}
	return text("text", a.Text)
}

func ref(field string, r boat.Ref) error {
	if r == "" || r == boat.True || r == boat.Magnetic {
		return nil
	}
	return outOfRange(field, "true or mag", r)
}

func mount(m boat.Mount) error {
	if m == "" || m == boat.Fixed || m == boat.Worn {
		return nil
	}
	return outOfRange("mount", "fixed or worn", m)
}

// The most letters a name and a free text may have.
const (
	maxName = 40
	maxText = 200
)

func text(field, s string) error {
	if utf8.RuneCountInString(s) > maxText {
		return outOfRange(field, fmt.Sprintf("at most %d letters", maxText), s)
	}
	return nil
}

func name(field, s string) error {
	if utf8.RuneCountInString(s) > maxName {
		return outOfRange(field, fmt.Sprintf("at most %d letters", maxName), s)
	}
	if i := strings.IndexFunc(s, func(r rune) bool { return r < ' ' || r == 0x7f }); i >= 0 {
		return outOfRange(field, "without control characters", fmt.Sprintf("%q", s))
	}
	return nil
}

// CheckName says whether s may name a boat: at most 40 letters, none of them a
// control character. The empty name passes: it means not said.
func CheckName(s string) error { return name("boat", s) }
