package speaker

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
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

// A slow way to the same file: every millisecond through the reel and the filter.
func TestRenderSkipsNothing(t *testing.T) {
	voice := sines()
	rapid.Check(t, func(t *rapid.T) {
		var said []Timed
		at := int64(1000)
		for id := range rapid.IntRange(0, 5).Draw(t, "n") {
			at += int64(rapid.IntRange(0, 700).Draw(t, "after"))
			said = append(said, Timed{at, Utterance{ID: id, Clips: []string{rapid.SampledFrom([]string{"stem", "digits", "out", "none"}).Draw(t, "clip")},
				Danger: rapid.Bool().Draw(t, "danger"), Twice: rapid.Bool().Draw(t, "twice"), Expires: at + int64(rapid.IntRange(0, 500).Draw(t, "life"))}})
		}
		end := at + 1200
		var fast, slow bytes.Buffer
		ev, err := Render(&fast, voice, [2]int64{500, end}, said)
		if err != nil {
			t.Fatal(err)
		}
		w := bufio.NewWriter(&slow)
		writeHeader(w, uint32((end-500)*fileRate/1000*2))
		r, half := Reel{Clips: voice}, newHalver()
		var want []Event
		for now := int64(500); now < end; now++ {
			for len(said) > 0 && said[0].AtMS <= now {
				r.Add(said[0].Utterance, now)
				said = said[1:]
			}
			x := make([]float32, Rate/1000)
			want = append(want, r.Fill(x, now)...)
			half.write(w, x)
		}
		w.Flush()
		if !bytes.Equal(fast.Bytes(), slow.Bytes()) || !slices.Equal(whats(ev), whats(want)) {
			t.Fatalf("differs from the slow way: %v, want %v", whats(ev), whats(want))
		}
	})
}

func TestRenderTellsAFullDisk(t *testing.T) {
	_, err := Render(full{}, demo(), [2]int64{0, 60_000}, nil)
	if err == nil || !strings.Contains(err.Error(), "no room") {
		t.Errorf("got %v, want the writer's error", err)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no room") }

// BenchmarkRender is a session of an hour with a cue every 20 s, against the
// floor of writing as many bytes of silence.
func BenchmarkRender(b *testing.B) {
	const hour = 3600_000
	var said []Timed
	for at := int64(0); at < hour; at += 20_000 {
		said = append(said, Timed{at, Utterance{Clips: []string{"out"}}})
	}
	b.Run("floor", func(b *testing.B) {
		for b.Loop() {
			w := bufio.NewWriterSize(io.Discard, 1<<16)
			silence(w, hour*fileRate/1000)
			w.Flush()
		}
	})
	b.Run("hour", func(b *testing.B) {
		for b.Loop() {
			if _, err := Render(io.Discard, demo(), [2]int64{0, hour}, said); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// What would fold back into speech when the rate is halved is taken out before,
// and speech is left alone. The bounds are the design's: 0.1 dB up to 8 kHz, where
// the voices' tilt ends, and 40 dB down from 16 kHz.
func TestHalvingKeepsSpeechAndFoldsNothing(t *testing.T) {
	for hz, want := range map[float64][2]float64{300: {0.99, 1.01}, 3000: {0.99, 1.01}, 8000: {0.99, 1.01}, 16000: {0, 0.01}, 20000: {0, 0.01}} {
		x := make([]float32, Rate/2)
		for i := range x {
			x[i] = float32(0.5 * math.Sin(2*math.Pi*hz*float64(i)/Rate))
		}
		var out bytes.Buffer
		w, h := bufio.NewWriter(&out), newHalver()
		h.write(w, x)
		w.Flush()
		sum, n := 0.0, 0.0
		for b := out.Bytes()[200:]; len(b) > 0; b = b[2:] {
			v := float64(int16(binary.LittleEndian.Uint16(b))) / 32767 / 0.5
			sum, n = sum+v*v, n+1
		}
		gain := math.Sqrt(2 * sum / n) // of a sine: its height
		if gain < want[0] || gain > want[1] {
			t.Errorf("%g Hz comes out at %.4f of its height, want %v", hz, gain, want)
		}
	}
}
