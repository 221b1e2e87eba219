package loudness

import "math"

const (
	over = 4  // times the rate
	taps = 24 // a side, of the windowed sinc
)

// TruePeak returns the highest level between the samples in dBTP, by
// interpolation at four times the rate (BS.1770-4, annex 2); minus infinity for
// silence.
func TruePeak(samples []float64) float64 {
	peak := 0.0
	for _, x := range samples {
		peak = math.Max(peak, math.Abs(x))
	}
	padded := make([]float64, len(samples)+2*taps)
	copy(padded[taps:], samples)
	for phase := 1; phase < over; phase++ {
		h := kernel(float64(phase) / over)
		for i := range samples {
			peak = max(peak, math.Abs(at(padded[i+1:], h)))
		}
	}
	return 20 * math.Log10(peak)
}

// kernel is the sinc shifted by frac of a sample under a Hann window: 2*taps of
// it, a multiple of four.
func kernel(frac float64) []float64 {
	h := make([]float64, 2*taps)
	for k := range h {
		d := float64(k-taps+1) - frac
		w := 0.5 + 0.5*math.Cos(math.Pi*d/(taps+1))
		h[k] = w
		if d != 0 {
			h[k] *= math.Sin(math.Pi*d) / (math.Pi * d)
		}
	}
	return h
}

// at is the sum of x times h, in four sums that the processor can do at once:
// measuring a voice spends its time here.
func at(x, h []float64) float64 {
	x = x[:len(h)]
	var a, b, c, d float64
	for k := 0; k+3 < len(h); k += 4 {
		a += h[k] * x[k]
		b += h[k+1] * x[k+1]
		c += h[k+2] * x[k+2]
		d += h[k+3] * x[k+3]
	}
	return (a + b) + (c + d)
}
