package boat

import (
	"math"
	"testing"
)

func TestMeanOfReadingsWithGaps(t *testing.T) {
	some := func(v ...float64) (out []Reading) {
		for _, x := range v {
			out = append(out, Some(x)) // a NaN is an absent reading
		}
		return out
	}
	gap := math.NaN()
	self := func(r Reading) Reading { return r }
	for _, c := range []struct {
		name     string
		of       []Reading
		mean, sd Reading
	}{
		{"none", nil, Reading{}, Some(0)},
		{"three", some(1, 2, 3), Some(2), Some(math.Sqrt(2.0 / 3))},
		{"two of three", some(1, gap, 3), Some(2), Some(1)},
		{"one of two", some(1, gap), Reading{}, Some(0)},
		{"all absent", some(gap, gap), Reading{}, Some(0)},
	} {
		mean, sd := MeanSD(c.of, self)
		if mean != c.mean || Mean(c.of, self) != c.mean || math.Abs(sd-c.sd.Val) > 1e-12 {
			t.Errorf("%s: mean %v, sd %v, want %v and %v", c.name, mean, sd, c.mean, c.sd.Val)
		}
	}
}
