package recording

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"testing"
)

// session is three hours at 10 Hz, compressed as a finished recording is.
func session(b *testing.B) []byte {
	f := &memory{}
	w, err := Create(f, Header{})
	must(b, err)
	for i := range 3 * 3600 * 10 {
		must(b, add(w, sample(i)))
	}
	must(b, w.Close())
	var packed bytes.Buffer
	must(b, Compress(&packed, f))
	return packed.Bytes()
}

// BenchmarkDecode is the floor for a replay: reading a session and no more.
func BenchmarkDecode(b *testing.B) {
	file := session(b)
	for b.Loop() {
		d, err := Open(bytes.NewReader(file))
		must(b, err)
		n := 0
		for {
			if _, err := d.Next(); err == io.EOF {
				break
			} else if err != nil {
				b.Fatal(err)
			}
			n++
		}
		if n != 108000 {
			b.Fatalf("read %d records", n)
		}
	}
	b.ReportMetric(3*3600/(b.Elapsed().Seconds()/float64(b.N)), "x-real-time")
}

// BenchmarkAppend is one sample to a real file.
func BenchmarkAppend(b *testing.B) {
	f, err := os.Create(filepath.Join(b.TempDir(), "session.mcap"))
	must(b, err)
	w, err := Create(f, Header{})
	must(b, err)
	r := sample(1)
	for b.Loop() {
		must(b, add(w, r))
	}
	must(b, w.Close())
}
