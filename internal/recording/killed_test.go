package recording

import (
	"bufio"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

const victimEnv = "HELMCUE_TEST_WRITES_UNTIL_KILLED"

// TestWritesUntilKilled is no test in the usual run: TestKilled starts it in a
// process of its own.
func TestWritesUntilKilled(t *testing.T) {
	path := os.Getenv(victimEnv)
	if path == "" {
		t.Skip("runs only in the process that TestKilled kills")
	}
	f, err := os.Create(path)
	must(t, err)
	w, err := Create(f, Header{Boat: "Testling"})
	must(t, err)
	out := bufio.NewWriter(os.Stdout)
	for i := range 10_000_000 {
		must(t, add(w, sample(i)))
		if i%10 == 9 { // a second of sailing
			must(t, w.Sync())
			out.WriteString("acknowledged " + strconv.Itoa(i+1) + "\n")
			out.Flush()
		}
	}
}

// A recorder killed at a random moment, twenty times: every file opens and
// nothing that was acknowledged is gone.
func TestKilled(t *testing.T) {
	if testing.Short() {
		t.Skip("starts twenty processes")
	}
	for range 20 {
		path := filepath.Join(t.TempDir(), "session.mcap")
		cmd := exec.Command(os.Args[0], "-test.run=^TestWritesUntilKilled$")
		cmd.Env = append(os.Environ(), victimEnv+"="+path)
		pipe, err := cmd.StdoutPipe()
		must(t, err)
		must(t, cmd.Start())
		acked := make(chan int)
		go func() { // ends when the process does; waited for below
			last := 0
			for lines := bufio.NewScanner(pipe); lines.Scan(); {
				if n, ok := strings.CutPrefix(lines.Text(), "acknowledged "); ok {
					last, _ = strconv.Atoi(n)
				}
			}
			acked <- last
		}()
		time.Sleep(time.Duration(30+rand.IntN(60)) * time.Millisecond)
		must(t, cmd.Process.Kill())
		last := <-acked
		_ = cmd.Wait() // it says that it was killed
		check(t, path, last)
	}
}

func check(t *testing.T, path string, acked int) {
	t.Helper()
	f, err := os.Open(path)
	if os.IsNotExist(err) && acked == 0 {
		return // killed before it made the file
	}
	must(t, err)
	defer f.Close()
	got, d := read(t, f)
	if len(got) < acked {
		t.Fatalf("%d samples were acknowledged, %d are there", acked, len(got))
	}
	if !d.Torn() {
		t.Fatal("a killed recording is not called torn")
	}
	for i, r := range got {
		if !same([]Record{r}, []Record{sample(i)}) {
			t.Fatalf("record %d is %+v", i, r)
		}
	}
	must(t, f.Close())
	must(t, Finish(path))
}
