package speaker

import (
	"encoding/binary"
	"math"
	"testing"

	"helmcue/voices"
)

// frame is what a device asks for at once: ten milliseconds.
const frame = Rate / 100

// BenchmarkFirstFrame is from a cue to its first frame in the device's hands; the
// floor is a bare stream that copies samples already decoded, as the sound library
// alone would need.
func BenchmarkFirstFrame(b *testing.B) {
	v, err := voices.Load("")
	if err != nil {
		b.Fatal(err)
	}
	clip := v.Manifest.Names()[0]
	decoded, err := v.Samples(clip)
	if err != nil {
		b.Fatal(err)
	}
	bytes := make([]byte, 4*frame)
	b.Run("floor", func(b *testing.B) {
		for b.Loop() {
			for i, x := range decoded[:frame] {
				binary.LittleEndian.PutUint32(bytes[4*i:], math.Float32bits(x))
			}
		}
	})
	say := func(b *testing.B, clips Clips) {
		r := &Reel{Clips: clips}
		stream := &pull{fill: func(x []float32) { r.Fill(x, 0) }}
		for b.Loop() {
			r.cur = nil
			r.Add(Utterance{ID: 1, Clips: []string{clip}}, 0)
			if n, err := stream.Read(bytes); n != len(bytes) || err != nil {
				b.Fatal(n, err)
			}
			if r.cur == nil {
				b.Fatal("nothing is being said")
			}
		}
	}
	b.Run("decoded-before", func(b *testing.B) { say(b, ready{clip: decoded}) })
	b.Run("decoded-now", func(b *testing.B) { say(b, v) })
}
