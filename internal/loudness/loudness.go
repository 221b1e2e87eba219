// Package loudness measures how loud a mono clip sounds and how high its peaks
// really are: integrated loudness by ITU-R BS.1770-4 with both gates, and true
// peak by oversampling four times. Integrated takes the samples and gives LUFS;
// a clip without a whole block of 400 ms has no loudness and says so, which is
// why short clips are measured between silences of 400 ms (see Padded).
package loudness

import "math"

// Rate is the only sample rate there is: BS.1770-4 prints its coefficients for
// 48 kHz, and every clip is made at it.
const Rate = 48000

const (
	block   = Rate * 400 / 1000
	hop     = block / 4 // 75 % overlap
	padding = Rate * 400 / 1000
)

// biquad is a second-order filter, direct form 1; a0 is 1.
type biquad struct {
	b0, b1, b2, a1, a2 float64
	x1, x2, y1, y2     float64
}

func (f *biquad) step(x float64) float64 {
	y := f.b0*x + f.b1*f.x1 + f.b2*f.x2 - f.a1*f.y1 - f.a2*f.y2
	f.x2, f.x1 = f.x1, x
	f.y2, f.y1 = f.y1, y
	return y
}

// shelf and highPass are the two filters of BS.1770-4, tables 1 and 2.
func shelf() *biquad {
	return &biquad{b0: 1.53512485958697, b1: -2.69169618940638, b2: 1.19839281085285,
		a1: -1.69065929318241, a2: 0.73248077421585}
}

func highPass() *biquad {
	return &biquad{b0: 1, b1: -2, b2: 1, a1: -1.99004745483398, a2: 0.99007225036621}
}

// Integrated returns the gated loudness of mono samples (full scale 1) in LUFS,
// and whether there is one: there is none for less than 400 ms or for silence.
func Integrated(samples []float64) (lufs float64, ok bool) {
	blocks := energies(samples)
	first := gated(blocks, -70)
	if len(first) == 0 {
		return 0, false
	}
	second := gated(first, level(mean(first))-10)
	return level(mean(second)), true
}

// Padded is Integrated with 0.4 s of silence at both ends, so that the gate and
// not the edges decides about a short clip.
func Padded(samples []float64) (lufs float64, ok bool) {
	x := make([]float64, len(samples)+2*padding)
	copy(x[padding:], samples)
	return Integrated(x)
}

func energies(samples []float64) []float64 {
	a, b := shelf(), highPass()
	sum := make([]float64, len(samples)+1) // running energy
	for i, x := range samples {
		y := b.step(a.step(x))
		sum[i+1] = sum[i] + y*y
	}
	var out []float64
	for i := 0; i+block <= len(samples); i += hop {
		out = append(out, (sum[i+block]-sum[i])/block)
	}
	return out
}

func gated(blocks []float64, floor float64) []float64 {
	var out []float64
	for _, z := range blocks {
		if level(z) > floor {
			out = append(out, z)
		}
	}
	return out
}

func mean(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum / float64(len(v))
}

// level is BS.1770's loudness of one channel's mean square.
func level(z float64) float64 { return -0.691 + 10*math.Log10(z) }
