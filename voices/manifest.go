package voices

import (
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"math"
	"path"
	"sort"

	"github.com/hajimehoshi/go-mp3"

	"helmcue/internal/loudness"
)

// Manifest says what a voice has.
type Manifest struct {
	Voice   string          `json:"voice"`
	About   string          `json:"about"`   // for people: who it sounds like
	Engine  string          `json:"engine"`  // what made it
	Licence string          `json:"licence"` // file beside the clips
	Clips   map[string]Clip `json:"clips"`   // by name; encoding/json writes them sorted
}

// Clip is one text spoken, as measured after decoding and cutting.
type Clip struct {
	Text     string  `json:"text"`
	Seconds  float64 `json:"seconds"`
	LUFS     float64 `json:"lufs"` // integrated, between 0.4 s silences (ITU-R BS.1770-4)
	PeakDBTP float64 `json:"peak_dbtp"`
	SHA256   string  `json:"sha256"` // of the file
}

// Rate is the sample rate of every clip.
const Rate = loudness.Rate

// silent is what is cut from both ends on loading: -60 dBFS. The decoder leaves
// the codec's padding there, some 58 ms.
const silent = 0.001

// Voice is one voice with its clips, not yet decoded.
type Voice struct {
	Manifest
	files fs.FS
}

// Load opens a built-in voice by name. An empty name is the first of Names.
func Load(name string) (*Voice, error) {
	if name == "" {
		name = Names()[0]
	}
	return LoadFrom(Files(), name)
}

// LoadFrom opens a voice from its folder in fsys.
func LoadFrom(fsys fs.FS, name string) (*Voice, error) {
	b, err := fs.ReadFile(fsys, path.Join(name, "manifest.json"))
	if err != nil {
		return nil, fmt.Errorf("there is no voice %q: choose one of %v", name, Names())
	}
	v := &Voice{}
	if err := json.Unmarshal(b, &v.Manifest); err != nil {
		return nil, fmt.Errorf("voice %s: its manifest cannot be read: %w; make the voice anew", name, err)
	}
	v.files, err = fs.Sub(fsys, name)
	return v, err
}

// Samples decodes a clip: mono at Rate, full scale 1, the silence of the codec
// cut from both ends.
func (v *Voice) Samples(clip string) ([]float32, error) {
	f, err := v.files.Open(clip + ".mp3")
	if err != nil {
		return nil, fmt.Errorf("voice %s has no clip %q; run make voices", v.Voice, clip)
	}
	defer f.Close()
	x, err := Decode(f)
	if err != nil {
		return nil, fmt.Errorf("voice %s, clip %q: %w", v.Voice, clip, err)
	}
	return x, nil
}

// Decode reads an MP3 of ours: mono, at Rate; other rates are refused. The cut
// is that of Samples, and both ends reach zero within a millisecond, so that a
// clip can be joined to anything.
func Decode(r io.Reader) ([]float32, error) {
	d, err := mp3.NewDecoder(r)
	if err != nil {
		return nil, fmt.Errorf("not an MP3: %w", err)
	}
	if d.SampleRate() != Rate {
		return nil, fmt.Errorf("expected %d samples a second, got %d", Rate, d.SampleRate())
	}
	raw, err := io.ReadAll(d)
	if err != nil {
		return nil, fmt.Errorf("broken MP3: %w", err)
	}
	x := make([]float32, len(raw)/4) // the decoder gives stereo, 16 bit
	for i := range x {
		x[i] = float32(int16(uint16(raw[4*i])|uint16(raw[4*i+1])<<8)) / 32768
	}
	x = cut(x)
	soften(x)
	return x, nil
}

func cut(x []float32) []float32 {
	for len(x) > 0 && math.Abs(float64(x[0])) < silent {
		x = x[1:]
	}
	for len(x) > 0 && math.Abs(float64(x[len(x)-1])) < silent {
		x = x[:len(x)-1]
	}
	return x
}

// soften fades the first and last millisecond, begun and ended at zero.
func soften(x []float32) {
	n := min(Rate/1000, len(x)/2)
	for i := range n {
		gain := float32(i) / float32(n)
		x[i] *= gain
		x[len(x)-1-i] *= gain
	}
}

// Names returns the clips the manifest lists, sorted.
func (m Manifest) Names() []string {
	out := make([]string, 0, len(m.Clips))
	for name := range m.Clips {
		out = append(out, name)
	}
	sort.Strings(out)
	return out
}
