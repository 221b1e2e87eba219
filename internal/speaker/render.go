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
// became of each utterance. It holds the clips that were used, and of the sound
// only the words under way.
func Render(w io.Writer, clips Clips, span [2]int64, said []Timed) ([]Event, error) {
	frames := max(span[1]-span[0], 0) * fileRate / 1000
	if frames*2+36 > math.MaxUint32 {
		return nil, fmt.Errorf("expected a session that fits a WAV file (about 24 hours), got %d h", (span[1]-span[0])/3600000)
	}
	f := &film{out: bufio.NewWriterSize(w, 1<<16), reel: Reel{Clips: &used{clips: clips, known: map[string][]float32{}}}, half: newHalver()}
	writeHeader(f.out, uint32(frames*2))
	for t := span[0]; t < span[1]; {
		for len(said) > 0 && said[0].AtMS <= t {
			f.reel.Add(said[0].Utterance, t)
			said = said[1:]
		}
		next := span[1]
		if len(said) > 0 {
			next = min(next, said[0].AtMS)
		}
		t = f.roll(t, next)
	}
	if err := f.out.Flush(); err != nil {
		return f.events, fmt.Errorf("writing the sound: %w", err)
	}
	return f.events, nil
}

// used keeps what was decoded: a session says the same few dozen things.
type used struct {
	clips Clips
	known map[string][]float32
}

func (u *used) Samples(clip string) ([]float32, error) {
	if x, ok := u.known[clip]; ok {
		return x, nil
	}
	x, err := u.clips.Samples(clip)
	if err == nil {
		u.known[clip] = x
	}
	return x, err
}

// film is a Reel on its way into a file. Write errors stick to out and come out
// at its Flush.
type film struct {
	out    *bufio.Writer
	reel   Reel
	half   halver
	events []Event
}

const stepMS = 10

// roll writes at most until next, and returns how far it came.
func (f *film) roll(t, next int64) int64 {
	if f.reel.Busy() || !f.half.empty() {
		next = min(next, t+stepMS)
	}
	n := next - t
	var x []float32
	if f.reel.Busy() || !f.half.empty() {
		x = make([]float32, n*Rate/1000)
	}
	f.events = append(f.events, f.reel.Fill(x, t)...)
	if x == nil {
		silence(f.out, n*fileRate/1000)
		return next
	}
	f.half.write(f.out, x)
	return next
}

// silence writes n frames of it.
func silence(w *bufio.Writer, n int64) {
	none := make([]byte, 4096)
	for left := 2 * n; left > 0; left -= int64(len(none)) {
		w.Write(none[:min(left, int64(len(none)))]) //nolint:errcheck // see film
	}
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

// halver halves the rate behind a half-band filter, a windowed sinc at a quarter
// of the rate. Make it with newHalver.
type halver struct {
	past [2 * halfTaps]float32
	taps [halfTaps / 2]float64 // the odd ones of one side; the even ones are zero
}

const halfTaps = 16 // each side

func newHalver() halver {
	var h halver
	for i := range h.taps {
		k := float64(2*i + 1)
		window := 0.5 + 0.5*math.Cos(math.Pi*k/(halfTaps+1))
		h.taps[i] = window * math.Sin(math.Pi*k/2) / (math.Pi * k)
	}
	return h
}

// write takes an even number of samples and writes half as many.
func (h *halver) write(w *bufio.Writer, x []float32) {
	all := append(append(make([]float32, 0, len(h.past)+len(x)), h.past[:]...), x...)
	var b [2]byte
	for i := 0; i < len(x); i += 2 {
		binary.LittleEndian.PutUint16(b[:], uint16(pcm(h.lowpass(all[i:i+2*halfTaps+1]))))
		w.Write(b[:]) //nolint:errcheck // see film
	}
	copy(h.past[:], all[len(all)-len(h.past):])
}

// empty says whether nothing is left in the filter.
func (h *halver) empty() bool { return h.past == [2 * halfTaps]float32{} }

// lowpass is the filter's output at the middle of x.
func (h *halver) lowpass(x []float32) float64 {
	sum := 0.5 * float64(x[halfTaps])
	for i, c := range h.taps {
		k := 2*i + 1
		sum += c * float64(x[halfTaps-k]+x[halfTaps+k])
	}
	return sum
}

func pcm(v float64) int16 {
	return int16(math.Round(math.Max(-1, math.Min(1, v)) * 32767))
}
