package speaker

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"
	"math"
)

// fileRate is what is written: half of Rate. A session of three hours is half a
// gigabyte so, and the voices hold nothing above 12 kHz that helps.
const fileRate = Rate / 2

// Timed is an utterance and when it was handed to the speaker.
type Timed struct {
	AtMS int64
	Utterance
}

// Render writes a mono 16-bit WAV of what would have been heard from fromMS to
// toMS, by the same rules as live. said must ascend in time. It returns what
// became of each utterance. Nothing is held in memory but the words under way.
func Render(w io.Writer, clips Clips, span [2]int64, said []Timed) ([]Event, error) {
	frames := max(span[1]-span[0], 0) * fileRate / 1000
	if frames*2+36 > math.MaxUint32 {
		return nil, fmt.Errorf("expected a session that fits a WAV file (about 24 hours), got %d h", (span[1]-span[0])/3600000)
	}
	out := bufio.NewWriterSize(w, 1<<16)
	writeHeader(out, uint32(frames*2))
	r := Reel{Clips: clips}
	half := &halver{}
	var events []Event
	const step = 10 // ms
	buf := make([]float32, step*Rate/1000)
	for t := span[0]; frames > 0; t += step {
		for len(said) > 0 && said[0].AtMS <= t {
			r.Add(said[0].Utterance, t)
			said = said[1:]
		}
		events = append(events, r.Fill(buf, t)...)
		n := min(frames, int64(len(buf)/2))
		frames -= n
		if err := half.write(out, buf[:2*n]); err != nil {
			return events, fmt.Errorf("writing the sound: %w", err)
		}
	}
	if err := out.Flush(); err != nil {
		return events, fmt.Errorf("writing the sound: %w", err)
	}
	return events, nil
}

func writeHeader(w *bufio.Writer, bytes uint32) {
	le := binary.LittleEndian
	h := make([]byte, 0, 44)
	h = append(h, "RIFF"...)
	h = le.AppendUint32(h, 36+bytes)
	h = append(h, "WAVEfmt "...)
	h = le.AppendUint32(h, 16)
	h = le.AppendUint16(h, 1) // PCM
	h = le.AppendUint16(h, 1) // mono
	h = le.AppendUint32(h, fileRate)
	h = le.AppendUint32(h, fileRate*2)
	h = le.AppendUint16(h, 2)
	h = le.AppendUint16(h, 16)
	h = append(h, "data"...)
	h = le.AppendUint32(h, bytes)
	w.Write(h) //nolint:errcheck // the error sticks and comes out at Flush
}

// halver halves the rate behind a half-band filter.
type halver struct {
	past [2 * halfTaps]float32
}

const halfTaps = 16 // each side

// write takes an even number of samples and writes half as many.
func (h *halver) write(w *bufio.Writer, x []float32) error {
	if h.silent(x) {
		_, err := w.Write(make([]byte, len(x)))
		return err
	}
	all := append(append(make([]float32, 0, len(h.past)+len(x)), h.past[:]...), x...)
	var b [2]byte
	for i := 0; i < len(x); i += 2 {
		binary.LittleEndian.PutUint16(b[:], uint16(pcm(lowpass(all[i:i+2*halfTaps+1]))))
		if _, err := w.Write(b[:]); err != nil {
			return err
		}
	}
	copy(h.past[:], all[len(all)-len(h.past):])
	return nil
}

func (h *halver) silent(x []float32) bool {
	for _, v := range h.past {
		if v != 0 {
			return false
		}
	}
	for _, v := range x {
		if v != 0 {
			return false
		}
	}
	return true
}

// lowpass is a windowed sinc at a quarter of the rate, centred.
func lowpass(x []float32) float64 {
	sum := 0.5 * float64(x[halfTaps])
	for k := 1; k <= halfTaps; k += 2 { // even taps of a half-band are zero
		w := 0.5 + 0.5*math.Cos(math.Pi*float64(k)/(halfTaps+1))
		c := w * math.Sin(math.Pi*float64(k)/2) / (math.Pi * float64(k))
		sum += c * float64(x[halfTaps-k]+x[halfTaps+k])
	}
	return sum
}

func pcm(v float64) int16 {
	return int16(math.Round(math.Max(-1, math.Min(1, v)) * 32767))
}
