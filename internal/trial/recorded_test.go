package trial

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/sim"
)

// The recordings and their truths are of the same time, enough of them is sailed,
// and in none is the boat told how to sail while she motors.
func TestRecordings(t *testing.T) {
	t.Parallel()
	rows, err := Recordings("../../testdata/real")
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < 3 {
		t.Fatalf("expected three recordings, got %d", len(rows))
	}
	for _, r := range rows {
		if r.Score.After < 500 {
			t.Errorf("%s: %d seconds of sailing by its truth", r.Scenario, r.Score.After)
		}
		if r.Score.Motor > 0 {
			t.Errorf("%s: %d cues while she motors", r.Scenario, r.Score.Motor)
		}
	}
}

func TestRecordingsNeedsSome(t *testing.T) {
	if _, err := Recordings(t.TempDir()); err == nil {
		t.Error("expected an error of an empty folder")
	}
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "lake_truth.csv.gz"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Recordings(dir); err == nil || !strings.Contains(err.Error(), "one log") {
		t.Errorf("got %v", err)
	}
}

// A truth of another day's afternoon is no truth of this log.
func TestTruthOfAnotherTimeIsRefused(t *testing.T) {
	log := `{"type":"sample","t":1900000000000,"sog":4,"cog":90}` + "\n" + `{"type":"sample","t":1900000060000,"sog":4,"cog":90}` + "\n"
	_, err := Real(Recording{Log: strings.NewReader(log), Truth: strings.NewReader("t,twd\n1800000000000,5\n")})
	if err == nil || !strings.Contains(err.Error(), "compare the first times") {
		t.Errorf("got %v", err)
	}
}

// What helmcue sim writes of its truth is read, and the minutes in it are sailed.
func TestOwnTruthIsRead(t *testing.T) {
	s, err := sim.New("first-lesson", 1, start)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	w := sim.NewTruthWriter(&b)
	for range 600 {
		s.Step()
		if err := w.Write(s.Truth()); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	rows, err := readTruth(strings.NewReader(b.String()))
	if err != nil || len(rows) != 600 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	sails, _ := rows[599].sails()
	if boat.Time(rows[599].s*1000) != s.Truth().T || !sails {
		t.Errorf("the last row is at %v, sails %v", rows[599].s, sails)
	}
}
