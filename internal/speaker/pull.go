package speaker

import (
	"encoding/binary"
	"math"
)

// pull is the endless stream the device reads: words or silence. That it never
// ends keeps a wireless loudspeaker awake, so that no first syllable is lost.
type pull struct {
	fill func([]float32)
	buf  []float32
}

func (p *pull) Read(b []byte) (int, error) {
	n := len(b) / 4
	if cap(p.buf) < n {
		p.buf = make([]float32, n)
	}
	x := p.buf[:n]
	p.fill(x)
	for i, v := range x {
		binary.LittleEndian.PutUint32(b[4*i:], math.Float32bits(v))
	}
	return 4 * n, nil
}
