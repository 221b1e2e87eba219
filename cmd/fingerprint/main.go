// Command fingerprint replays logs and prints, a line each, how many outputs the
// engine gave and the SHA-256 of them as they would be written. Two processors that
// print the same line gave the same cues, byte for byte. The script .ci/same builds
// it for each.
package main

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"

	"helmcue/internal/boat"
	"helmcue/internal/replay"
)

func main() {
	if len(os.Args) < 2 {
		fmt.Fprintln(os.Stderr, "expected logs: fingerprint FILE...")
		os.Exit(2)
	}
	for _, path := range os.Args[1:] {
		for _, ignore := range []bool{false, true} {
			n, sum, err := fingerprint(path, ignore)
			if err != nil {
				fmt.Fprintf(os.Stderr, "%s: %v\n", path, err)
				os.Exit(1)
			}
			fmt.Printf("%s ignore_wind=%t %d %x\n", filepath.Base(path), ignore, n, sum)
		}
	}
}

// fingerprint replays one log for a boat at an improver's level.
func fingerprint(path string, ignore bool) (outputs int, sum []byte, err error) {
	f, err := os.Open(path)
	if err != nil {
		return 0, nil, err
	}
	defer f.Close()
	hash := sha256.New()
	var failed error
	_, err = replay.Run(replay.Job{Log: f, Settings: boat.Settings{LengthM: 5, Jib: true, IgnoreWind: ignore}, Heard: func(o boat.Output) {
		line, err := json.Marshal(o)
		if err != nil {
			failed = err
			return
		}
		hash.Write(line) //nolint:errcheck // a hash takes everything
		outputs++
	}})
	if err == nil {
		err = failed
	}
	return outputs, hash.Sum(nil), err
}
