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
	for phase := 1; phase < over; phase++ {
		h := kernel(float64(phase) / over)
		for i := range samples {
			peak = math.Max(peak, math.Abs(at(samples, i, h)))
		}
	}
	return 20 * math.Log10(peak)
}

// kernel is the sinc shifted by frac of a sample under a Hann window.
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

func at(x []float64, i int, h []float64) float64 {
	sum := 0.0
	for k, c := range h {
		if j := i + k - taps + 1; j >= 0 && j < len(x) {
			sum += c * x[j]
		}
	}
	return sum
}
