package engine

import (
	"encoding/json"
	"os"
	"testing"

	"helmcue/internal/boat"
	"helmcue/internal/phrase"
)

// clipSeconds is how long each clip really lasts, by the manifest of a voice.
func clipSeconds(t *testing.T) map[string]float64 {
	text, err := os.ReadFile("../../voices/isla/manifest.json")
	if err != nil {
		t.Fatal(err)
	}
	var m struct {
		Clips map[string]struct {
			Seconds float64 `json:"seconds"`
		} `json:"clips"`
	}
	if err := json.Unmarshal(text, &m); err != nil {
		t.Fatal(err)
	}
	out := map[string]float64{}
	for name, c := range m.Clips {
		out[name] = c.Seconds
	}
	return out
}

func aloud(t *testing.T, clips map[string]float64, c boat.Cue) float64 {
	line, err := phrase.Find(c)
	if err != nil {
		t.Fatal(err)
	}
	s := 0.0
	for _, name := range line.Clips {
		if clips[name] == 0 {
			t.Fatalf("no clip %q", name)
		}
		s += clips[name]
	}
	return s
}
