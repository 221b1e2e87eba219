package loudness

import (
	"math"
	"testing"
)

func sine(hz, dbfs, sec float64) []float64 {
	x := make([]float64, int(sec*Rate))
	for i := range x {
		x[i] = math.Pow(10, dbfs/20) * math.Sin(2*math.Pi*hz*float64(i)/Rate)
	}
	return x
}

func join(parts ...[]float64) []float64 {
	var out []float64
	for _, p := range parts {
		out = append(out, p...)
	}
	return out
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > within {
		t.Errorf("%s: got %.4f, want %.4f within %g", what, got, want, within)
	}
}

// ITU-R BS.1770-4: 997 Hz at 0 dBFS in one channel is -3.01 LKFS.
func TestAnchor(t *testing.T) {
	got, ok := Integrated(sine(997, 0, 5))
	if !ok {
		t.Fatal("no loudness")
	}
	near(t, "997 Hz, 0 dBFS", got, -3.0103, 0.01)
}

// EBU Tech 3341 minimum requirements, cases 1 to 5 (sequence details from
// memory). They are stereo; one of two equal channels reads 3.01 lower.
func TestEBUCases(t *testing.T) {
	const one = -3.0103
	s := func(db, sec float64) []float64 { return sine(1000, db, sec) }
	for _, c := range []struct {
		name string
		x    []float64
		want float64
	}{
		{"1", s(-23, 20), -23},
		{"2", s(-33, 20), -33},
		{"3", join(s(-36, 10), s(-23, 60), s(-36, 10)), -23},
		{"4", join(s(-72, 10), s(-36, 10), s(-23, 60), s(-36, 10), s(-72, 10)), -23},
		{"5", join(s(-26, 20), s(-20, 20.1), s(-26, 20)), -23},
	} {
		got, ok := Integrated(c.x)
		if !ok {
			t.Fatalf("case %s: no loudness", c.name)
		}
		near(t, "case "+c.name, got, c.want+one, 0.1)
	}
}

// Gains of the two filters together, computed from the printed coefficients with
// an independent script; the digits themselves are compared by the anchor.
func TestGains(t *testing.T) {
	ref, _ := Integrated(sine(997, -10, 3))
	for hz, db := range map[float64]float64{50: -3.93, 100: -1.13, 250: -0.15, 500: 0.04, 1000: 0.70, 2000: 3.07, 4000: 3.97, 8000: 4.04} {
		got, _ := Integrated(sine(hz, -10, 3))
		near(t, "gain against 997 Hz", got-ref, db-0.691, 0.03)
	}
}

func TestTooShortOrSilent(t *testing.T) {
	if _, ok := Integrated(sine(997, 0, 0.39)); ok {
		t.Error("0.39 s holds no block of 400 ms but has a loudness")
	}
	if _, ok := Integrated(make([]float64, Rate)); ok {
		t.Error("silence has a loudness")
	}
	if _, ok := Padded(sine(997, 0, 0.39)); !ok {
		t.Error("0.39 s between silences has no loudness")
	}
}

// A sine at a quarter of the rate sampled at 45° shows 3.01 dB less than it has.
func TestTruePeakBetweenSamples(t *testing.T) {
	x := make([]float64, Rate/10)
	for i := range x {
		x[i] = 0.5 * math.Sin(math.Pi/2*float64(i)+math.Pi/4)
	}
	near(t, "true peak", TruePeak(x), 20*math.Log10(0.5), 0.1)
}
