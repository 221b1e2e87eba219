package trial

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"helmcue/internal/boat"
)

// recordedVariant names the rows of recordings.
const recordedVariant = "recorded"

// A boat whose length nobody tells.
const recordedLengthM = 8.0

// Recorded scores a log against a truth file, as Real does, for a boat of middling
// length with a jib.
func Recorded(log, truth string) (Row, error) {
	row := Row{Scenario: pair{log: log}.name(), Variant: recordedVariant}
	l, err := os.Open(log)
	if err != nil {
		return row, fmt.Errorf("the log: %w", err)
	}
	defer l.Close()
	t, err := os.Open(truth)
	if err != nil {
		return row, fmt.Errorf("the truth: %w", err)
	}
	defer t.Close()
	row.Score, err = Real(Recording{Log: l, Truth: t, Settings: boat.Settings{LengthM: recordedLengthM, Jib: true}})
	if err != nil {
		return row, fmt.Errorf("%s with %s: %w", log, truth, err)
	}
	return row, nil
}

// pair is a log with the truth beside it.
type pair struct{ log, truth string }

func (p pair) name() string { return strings.TrimSuffix(filepath.Base(p.log), filepath.Ext(p.log)) }

// recordings lists the pairs in a folder.
func recordings(dir string) ([]pair, error) {
	truths, err := filepath.Glob(filepath.Join(dir, "*_truth.csv.gz"))
	if err != nil || len(truths) == 0 {
		return nil, fmt.Errorf("expected truth files in %s, found none (%v)", dir, err)
	}
	var out []pair
	for _, truth := range truths {
		logs, err := filepath.Glob(strings.TrimSuffix(truth, "_truth.csv.gz") + "*.nmea")
		if err != nil || len(logs) != 1 {
			return nil, fmt.Errorf("%s: expected one log beside it, found %d (%v)", truth, len(logs), err)
		}
		out = append(out, pair{logs[0], truth})
	}
	return out, nil
}

// Recordings scores the real recordings in a folder: each log that has a truth file
// beside it whose name, less _truth.csv.gz, the log's name begins with. It fails
// where there is none.
func Recordings(dir string) ([]Row, error) {
	pairs, err := recordings(dir)
	if err != nil {
		return nil, err
	}
	var out []Row
	for _, p := range pairs {
		row, err := Recorded(p.log, p.truth)
		if err != nil {
			return nil, err
		}
		out = append(out, row)
	}
	return out, nil
}
