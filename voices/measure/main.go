// Command measure decodes every clip in a voice's folder and writes its manifest
// anew: measure voices/isla.
package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"

	"helmcue/internal/loudness"
	"helmcue/internal/phrase"
	"helmcue/voices"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "measure: expected a voice's folder")
		os.Exit(2)
	}
	if err := measure(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, "measure:", err)
		os.Exit(1)
	}
}

func measure(dir string) error {
	m, err := about(filepath.Base(dir))
	if err != nil {
		return err
	}
	for _, t := range phrase.Texts() {
		name := phrase.Clip(t)
		b, err := os.ReadFile(filepath.Join(dir, name+".mp3"))
		if err != nil {
			return err
		}
		if m.Clips[name], err = clip(t, b); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	out, err := json.MarshalIndent(m, "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "manifest.json"), append(out, '\n'), 0o644)
}

func about(name string) (voices.Manifest, error) {
	m := voices.Manifest{Voice: name, Licence: "LICENCE.txt", Clips: map[string]voices.Clip{}}
	switch name {
	case "isla":
		m.About, m.Engine = "a woman's voice", "festival, cmu_us_slt_arctic_hts"
	case "ned":
		m.About, m.Engine = "a man's voice, the one best heard in wind", "festival, kal_diphone"
	default:
		return m, fmt.Errorf("expected the folder of isla or ned, got %q", name)
	}
	return m, nil
}

func clip(text string, b []byte) (voices.Clip, error) {
	x, err := voices.Decode(bytes.NewReader(b))
	if err != nil {
		return voices.Clip{}, err
	}
	y := make([]float64, len(x))
	for i, v := range x {
		y[i] = float64(v)
	}
	lufs, ok := loudness.Padded(y)
	if !ok {
		return voices.Clip{}, fmt.Errorf("the clip is silent")
	}
	sum := sha256.Sum256(b)
	return voices.Clip{Text: text, Seconds: places(float64(len(x))/voices.Rate, 3), LUFS: places(lufs, 2),
		PeakDBTP: places(loudness.TruePeak(y), 2), SHA256: hex.EncodeToString(sum[:])}, nil
}

func places(v float64, n int) float64 {
	p := math.Pow(10, float64(n))
	return math.Round(v*p) / p
}
