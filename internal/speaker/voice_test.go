package speaker

import (
	"errors"
	"math"
)

// tones is a voice whose clips are steady levels: easy to find in what was played.
type tones map[string]tone

type tone struct {
	ms    int
	level float32
}

func demo() tones { return tones{"stem": {200, 0.2}, "digits": {300, 0.4}, "out": {400, 0.8}} }

func (t tones) Samples(clip string) ([]float32, error) {
	c, ok := t[clip]
	if !ok {
		return nil, errors.New("no clip " + clip)
	}
	x := make([]float32, c.ms*Rate/1000)
	for i := range x {
		x[i] = c.level
	}
	return x, nil
}

// ready is a voice whose clips are at hand.
type ready map[string][]float32

func (r ready) Samples(clip string) ([]float32, error) {
	if r[clip] == nil {
		return nil, errors.New("no clip " + clip)
	}
	return r[clip], nil
}

// sines is a voice of tones that begin at zero, each of its own pitch.
func sines() ready {
	out := ready{}
	for clip, hz := range map[string]float64{"stem": 220, "digits": 330, "out": 550} {
		x := make([]float32, demo()[clip].ms*Rate/1000)
		for i := range x {
			x[i] = 0.8 * float32(math.Sin(2*math.Pi*hz*float64(i)/Rate))
		}
		out[clip] = x
	}
	return out
}
