package recording

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"helmcue/internal/boat"
)

// The disk fills at every possible byte: an error comes, it stays, and what was
// whole is read back.
func TestFullDiskLosesOnlyWhatDidNotFit(t *testing.T) {
	recs := small()
	whole := &memory{}
	w, err := Create(whole, Header{})
	must(t, err)
	start := whole.Len()
	for _, r := range recs {
		must(t, add(w, r))
	}
	for room := start; room < whole.Len(); room++ {
		f := &memory{room: room}
		w, err := Create(f, Header{})
		must(t, err)
		wrote, failed := 0, error(nil)
		for _, r := range recs {
			if failed = add(w, r); failed != nil {
				break
			}
			wrote++
		}
		if !errors.Is(failed, errFull) || !errors.Is(w.Sync(), errFull) || !errors.Is(add(w, recs[0]), errFull) {
			t.Fatalf("room for %d bytes: the error was %v and did not stay", room, failed)
		}
		if !errors.Is(w.Close(), errFull) || !f.closed {
			t.Fatalf("room for %d bytes: Close hid the error or left the file open", room)
		}
		if got, d := read(t, bytes.NewReader(f.Bytes())); !same(got, recs[:wrote]) || !d.Torn() {
			t.Fatalf("room for %d bytes: wrote %d, read %d, torn %v", room, wrote, len(got), d.Torn())
		}
	}
	full := &memory{room: 10}
	if _, err := Create(full, Header{}); !errors.Is(err, errFull) || !full.closed {
		t.Fatalf("Create on a full disk: %v, closed %v", err, full.closed)
	}
}

func TestUnwritableInputBreaksNothing(t *testing.T) {
	f := &memory{}
	w, err := Create(f, Header{})
	must(t, err)
	nan := boat.Input{Kind: boat.SettingsIn, Settings: &boat.Settings{LengthM: nan()}}
	if err := w.Input(nan); err == nil || !strings.Contains(err.Error(), "not recorded") {
		t.Fatalf("want a refusal, got %v", err)
	}
	if err := w.Output(boat.Output{}); err == nil {
		t.Fatal("an empty output was written")
	}
	must(t, add(w, sample(0)))
	must(t, w.Close())
	if got, _ := read(t, f); !same(got, []Record{sample(0)}) {
		t.Fatalf("got %+v", got)
	}
}

func nan() float64 { z := 0.0; return z / z }
