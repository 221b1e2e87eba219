package web_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"helmcue/internal/page"
	"helmcue/internal/replay"
	"helmcue/internal/sim"
)

var built struct {
	once sync.Once
	dir  string
	err  error
}

// coach returns the folder of the page's own coach, built from this very tree.
func coach(t *testing.T) string {
	t.Helper()
	built.once.Do(func() {
		if built.dir, built.err = os.MkdirTemp("", "coach"); built.err != nil {
			return
		}
		script := exec.Command("../.ci/page-engine", built.dir)
		if out, err := script.CombinedOutput(); err != nil {
			built.err = fmt.Errorf("%w: %s", err, out)
			return
		}
		out, err := exec.Command("sh", "-c", "cd '"+built.dir+"' && gzip -d *.gz").CombinedOutput()
		if err != nil {
			built.err = fmt.Errorf("%w: %s", err, out)
		}
	})
	if built.err != nil {
		t.Fatal("the page's coach cannot be built: ", built.err)
	}
	return built.dir
}

// lesson returns a simulated session as the messages of a page, and, line by line,
// what the engine says to them here.
func lesson(t *testing.T, scene string, seconds int) (messages, said []string) {
	t.Helper()
	s, err := sim.New(scene, 3, 1_900_000_000_000)
	if err != nil {
		t.Fatal(err)
	}
	set, err := json.Marshal(s.Settings())
	if err != nil {
		t.Fatal(err)
	}
	messages = append(messages, `{"type":"settings","t":1900000000000,"settings":`+string(set)+`}`)
	for range seconds * 10 {
		for _, in := range s.Step() {
			var line bytes.Buffer
			if err := replay.WriteLine(&line, in); err != nil {
				t.Fatal(err)
			}
			messages = append(messages, strings.TrimSpace(line.String()))
		}
	}
	e := page.New()
	for _, m := range messages {
		out, err := e.Hear([]byte(m))
		if err != nil {
			t.Fatal(m, err)
		}
		said = append(said, string(out))
	}
	return messages, said
}

// fingerprint is the SHA-256 of all that was said, and how many cues were in it.
func fingerprint(said []string) (sum string, cues int) {
	all := strings.Join(said, "\n")
	return fmt.Sprintf("%x", sha256.Sum256([]byte(all))), strings.Count(all, `"type":"cue"`)
}

// The bars of the coach in the page: it starts within two seconds, and takes less
// than a twentieth of one core at ten samples a second.
const (
	mostStartMS = 2000
	mostShare   = 0.05
	sailedS     = 400
)

// The same inputs give the same cues, byte for byte, in the service and in a real
// browser's page.
func TestTheSameCoachInChromium(t *testing.T) {
	d := newDouble(t)
	d.engine = coach(t)
	b := open(t, d, "/install")
	for _, scene := range []string{"first-lesson", "shifty-morning"} {
		messages, said := lesson(t, scene, sailedS)
		want, cues := fingerprint(said)
		if cues < 5 {
			t.Fatalf("%s: %d cues are nothing to compare", scene, cues)
		}
		var got struct {
			Sum     string
			StartMS float64 `json:"start"`
			BusyMS  float64 `json:"busy"`
			Memory  float64
			Heard   int
		}
		text, _ := json.Marshal(messages)
		b.js(`(async () => {
			const worker = new Worker('/sailor-coach.js');
			const out = [];
			let start = 0;
			const done = new Promise((yes, no) => {
				worker.onmessage = ({ data }) => {
					if (data.ready) start = data.ready;
					if (data.failed || data.refused) no(new Error(data.failed ?? data.refused));
					if (data.out !== undefined) out.push(data.out);
					if (data.cost) yes(data.cost);
				};
			});
			for (const message of `+string(text)+`) worker.postMessage({ message });
			await new Promise((yes) => { const look = setInterval(() => { if (out.length === `+fmt.Sprint(len(messages))+`) { clearInterval(look); yes(); } }, 20); setTimeout(() => { clearInterval(look); yes(); }, 60000); });
			worker.postMessage({ cost: true });
			const { busy, heard, memory } = await done;
			worker.terminate();
			const sum = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(out.join('\n')));
			return { Sum: [...new Uint8Array(sum)].map((x) => x.toString(16).padStart(2, '0')).join(''), start, busy, Memory: memory, Heard: heard };
		})()`, &got)
		if got.Sum != want || got.Heard != len(messages) {
			t.Errorf("%s: the page's coach said something else than the service's (%d of %d messages)", scene, got.Heard, len(messages))
		}
		share := got.BusyMS / (1000 * sailedS)
		t.Logf("%s: %d cues; started in %.0f ms, %.2f %% of a core at ten samples a second, %.1f MB", scene, cues, got.StartMS, 100*share, got.Memory/1e6)
		if got.StartMS > mostStartMS || got.StartMS == 0 {
			t.Errorf("%s: it started in %.0f ms, the bar is %d", scene, got.StartMS, mostStartMS)
		}
		if share > mostShare {
			t.Errorf("%s: it takes %.1f %% of a core, the bar is %.0f", scene, 100*share, 100*mostShare)
		}
	}
}

// The same again in another host of WebAssembly, which tells a fault of the engine
// from one of the worker.
func TestTheSameCoachInNode(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("no node here; make test installs it")
	}
	dir := coach(t)
	messages, said := lesson(t, "light-air", 300)
	file := filepath.Join(t.TempDir(), "messages.json")
	text, _ := json.Marshal(messages)
	if err := os.WriteFile(file, text, 0o600); err != nil {
		t.Fatal(err)
	}
	result := file + ".out"
	complaint, err := exec.Command(node, "-e", `
		const fs = require('node:fs');
		require(process.argv[1] + '/loader.js');
		globalThis.helmcueReady = () => {
			const said = JSON.parse(fs.readFileSync(process.argv[2], 'utf8')).map((m) => globalThis.helmcueHear(m));
			fs.writeFileSync(process.argv[3], said.join('\n'));
			process.exit(0);
		};
		const go = new Go();
		WebAssembly.instantiate(fs.readFileSync(process.argv[1] + '/engine.wasm'), go.importObject).then(({ instance }) => go.run(instance));
	`, dir, file, result).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, complaint)
	}
	out, err := os.ReadFile(result)
	if err != nil {
		t.Fatal(err)
	}
	got, _ := fingerprint([]string{string(out)})
	want, _ := fingerprint(said)
	if got != want {
		t.Errorf("it says something else there: %d bytes, want %d", len(out), len(strings.Join(said, "\n")))
	}
}
