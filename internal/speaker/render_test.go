package speaker

import (
	"bytes"
	"encoding/binary"
	"io"
	"testing"
)

func TestRenderPutsWordsWhereTheyWereSaid(t *testing.T) {
	var out bytes.Buffer
	ev, err := Render(&out, demo(), [2]int64{10_000, 14_000}, []Timed{
		{11_000, Utterance{ID: 1, Clips: []string{"stem"}, Expires: 12_000}},
		{11_050, Utterance{ID: 2, Clips: []string{"digits"}, Expires: 11_100}},
		{13_000, Utterance{ID: 3, Clips: []string{"out"}}},
	})
	if err != nil {
		t.Fatal(err)
	}
	b := out.Bytes()
	if string(b[:4]) != "RIFF" || string(b[8:16]) != "WAVEfmt " || len(b) != 44+4*fileRate*2 {
		t.Fatalf("a WAV of 4 s must have %d bytes, got %d", 44+4*fileRate*2, len(b))
	}
	if got := binary.LittleEndian.Uint32(b[40:]); got != 4*fileRate*2 {
		t.Errorf("data size %d", got)
	}
	at := func(ms int) int16 { return int16(binary.LittleEndian.Uint16(b[44+2*(ms*fileRate/1000):])) }
	for ms, want := range map[int]int16{500: 0, 1100: 6553, 1500: 0, 3200: 26214, 3900: 0} {
		if got := at(ms); got < want-40 || got > want+40 {
			t.Errorf("at %d ms the level is %d, want %d", ms, got, want)
		}
	}
	if len(ev) != 5 || ev[2].What != "dropped" {
		t.Errorf("events %v", whats(ev))
	}
}

func TestRenderRefusesWhatNoWAVHolds(t *testing.T) {
	if _, err := Render(io.Discard, demo(), [2]int64{0, 50 * 3600 * 1000}, nil); err == nil {
		t.Error("fifty hours fit no WAV file")
	}
}
