package app

import (
	"context"
	"errors"
	"net"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"go.uber.org/zap"

	"helmcue/internal/boat"
	"helmcue/internal/config"
	"helmcue/internal/phonemsg"
	"helmcue/internal/recording"
)

func testConfig(t *testing.T) Config {
	c := Config{Config: config.Default(), Log: zap.NewNop(), Version: "test"}
	c.Listen, c.Plain, c.Sound, c.Data = "127.0.0.1:0", "", "off", t.TempDir()
	c.Settings = c.Config.Settings()
	return c
}

// running starts an app and returns what stops it and waits.
func running(t *testing.T, c Config) (*App, func()) {
	t.Helper()
	a, err := New(c)
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	greeted := make(chan bool, 1)
	a.cfg.Say = func(s string) {
		if strings.Contains(s, "Ctrl-C") {
			greeted <- true
		}
	}
	go func() { done <- a.Run(ctx) }()
	<-greeted
	return a, func() {
		stop()
		select {
		case err := <-done:
			if err != nil {
				t.Errorf("Run ended with %v", err)
			}
		case <-time.After(10 * time.Second):
			t.Error("the service did not end within ten seconds")
		}
	}
}

func sample(t boat.Time, kn float64) boat.Input {
	return boat.Input{T: t, Kind: boat.SampleIn, Source: "phone", Sample: &boat.Sample{
		LatDeg: boat.Some(48), LonDeg: boat.Some(12), SOGKn: boat.Some(kn), COGDeg: boat.Some(90)}}
}

func TestStartRefusals(t *testing.T) {
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer taken.Close()
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		change func(*Config)
		says   []string
	}{
		"port taken":        {func(c *Config) { c.Listen = taken.Addr().String() }, []string{"cannot listen", "--listen"}},
		"data is a file":    {func(c *Config) { c.Data = file }, []string{"folder", "--data"}},
		"unknown scene":     {func(c *Config) { c.Sim = "moon-lake" }, []string{"moon-lake", "first-lesson"}},
		"unknown voice":     {func(c *Config) { c.Voice = "nobody" }, []string{"nobody", "isla"}},
		"no such source":    {func(c *Config) { c.NMEA = []string{"pigeon:coop"} }, []string{"tcp:HOST:PORT"}},
		"no such file":      {func(c *Config) { c.NMEA = []string{"file:/no/such.nmea"} }, []string{"no such file", "--nmea"}},
		"no certificate":    {func(c *Config) { c.TLSCert, c.TLSKey = file, file }, []string{"file"}},
		"instruments' port": {func(c *Config) { c.NMEA = []string{"udp:127.0.0.1:99999"} }, []string{"1 to 65535"}},
	} {
		conf := testConfig(t)
		c.change(&conf)
		a, err := New(conf)
		if err == nil {
			a.closeAll()
			t.Errorf("%s: no error", name)
			continue
		}
		for _, s := range c.says {
			if !strings.Contains(err.Error(), s) {
				t.Errorf("%s: %q does not mention %q", name, err, s)
			}
		}
	}
}

func TestARecordingHoldsWhatWasHeard(t *testing.T) {
	c := testConfig(t)
	a, stop := running(t, c)
	now := nowMS()
	for i := range 30 {
		if err := a.onInput("Wren", []boat.Input{sample(now+boat.Time(100*i), 3)}); err != nil {
			t.Fatal(err)
		}
	}
	stop()
	if err := a.onInput("Wren", []boat.Input{sample(now+9000, 3)}); err == nil {
		t.Error("a sample was taken after the end")
	}
	ins, outs := read(t, c.Data)
	samples := 0
	for _, in := range ins {
		if in.Kind == boat.SampleIn {
			samples++
		}
	}
	if ins[0].Kind != boat.SettingsIn || ins[0].Settings.Boat != "Wren" || samples != 30 || len(outs) < 3 {
		t.Errorf("got %d inputs (%d samples), the first %+v, and %d outputs", len(ins), samples, ins[0], len(outs))
	}
}

func read(t *testing.T, data string) (ins []boat.Input, outs []boat.Output) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(data, "sessions", "*.mcap"))
	if err != nil || len(files) != 1 {
		t.Fatalf("recordings %v, %v; want one", files, err)
	}
	f, err := os.Open(files[0])
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r, err := recording.Open(f)
	if err != nil {
		t.Fatal(err)
	}
	for {
		rec, err := r.Next()
		if err != nil {
			return ins, outs
		}
		if rec.Input != nil {
			ins = append(ins, *rec.Input)
		}
		if rec.Output != nil {
			outs = append(outs, *rec.Output)
		}
	}
}

// Where nothing can be recorded the page is told, since it keeps what is not
// acknowledged; the engine goes on all the same.
func TestNoRoomForTheRecording(t *testing.T) {
	c := testConfig(t)
	a, stop := running(t, c)
	defer stop()
	if err := os.RemoveAll(filepath.Join(c.Data, "sessions")); err != nil {
		t.Fatal(err)
	}
	for i := range 3 {
		err := a.onInput("Wren", []boat.Input{sample(nowMS()+boat.Time(i), 3)})
		if err == nil || !strings.Contains(err.Error(), "cannot start a recording") {
			t.Errorf("got %v, want an error that says why nothing is recorded", err)
		}
	}
	if s := a.joined("Wren", phonemsg.Join{Role: phonemsg.Sailor}); s.Boat != "Wren" {
		t.Errorf("the boat's seat is gone: %+v", s)
	}
}

// When nobody speaks, time still passes in the engine, and the phone is lost.
func TestSilenceIsNoticed(t *testing.T) {
	c := testConfig(t)
	a, stop := running(t, c)
	if err := a.onInput("Wren", []boat.Input{sample(nowMS(), 3)}); err != nil {
		t.Fatal(err)
	}
	time.Sleep(2500 * time.Millisecond)
	stop()
	ins, outs := read(t, c.Data)
	if last := ins[len(ins)-1]; last.Kind != boat.Tick {
		t.Errorf("the last input is %v, want a tick", last.Kind)
	}
	states := 0
	for _, o := range outs {
		if o.Status != nil {
			states++
		}
	}
	if states < 2 {
		t.Errorf("%d status lines in two and a half seconds", states)
	}
}

func TestTooManyBoats(t *testing.T) {
	a, stop := running(t, testConfig(t))
	defer stop()
	for i := range maxSeats {
		if _, err := a.seat(strings.Repeat("x", i+1)); err != nil {
			t.Fatal(err)
		}
	}
	if err := a.onInput("one too many", []boat.Input{sample(nowMS(), 3)}); err == nil {
		t.Error("the service holds any number of boats")
	}
}

func TestAnActChangesTheSettings(t *testing.T) {
	c := testConfig(t)
	a, stop := running(t, c)
	act := boat.Input{T: nowMS(), Kind: boat.ActIn, Source: "instructor", Act: &boat.Act{Act: "level", Text: "beginner"}}
	if err := a.onInput("Wren", []boat.Input{sample(nowMS(), 3), act}); err != nil {
		t.Fatal(err)
	}
	if s := a.joined("Wren", phonemsg.Join{Role: phonemsg.Sailor}); s.Level != boat.Beginner {
		t.Errorf("the level is still %v", s.Level)
	}
	stop()
	ins, _ := read(t, c.Data)
	if last := ins[len(ins)-1]; last.Kind != boat.ActIn && last.Kind != boat.SettingsIn {
		t.Errorf("the recording ends with %v", last.Kind)
	}
	found := false
	for _, in := range ins {
		found = found || in.Kind == boat.SettingsIn && in.Settings.Level == boat.Beginner
	}
	if !found {
		t.Error("the new level is not in the recording")
	}
}

// A plan is a setting: it is in the recording, so that a replay has it too.
func TestAnInstructorChoosesAPlan(t *testing.T) {
	c := testConfig(t)
	a, stop := running(t, c)
	act := func(name string) boat.Input {
		return boat.Input{T: nowMS(), Kind: boat.ActIn, Source: "instructor", Act: &boat.Act{Act: "plan", Phrase: name}}
	}
	if err := a.onInput("Wren", []boat.Input{sample(nowMS(), 3), act("first-steps"), act("no-such-plan")}); err != nil {
		t.Fatal(err)
	}
	if s := a.joined("Wren", phonemsg.Join{Role: phonemsg.Sailor}); s.Plan == nil || s.Plan.Name != "first-steps" {
		t.Errorf("the plan is %+v", s.Plan)
	}
	if err := a.onInput("Wren", []boat.Input{act("")}); err != nil {
		t.Fatal(err)
	}
	if s := a.joined("Wren", phonemsg.Join{Role: phonemsg.Sailor}); s.Plan != nil {
		t.Errorf("the plan is still %+v", s.Plan)
	}
	stop()
	ins, _ := read(t, c.Data)
	found := false
	for _, in := range ins {
		found = found || in.Kind == boat.SettingsIn && in.Settings.Plan != nil && len(in.Settings.Plan.Steps) == 5
	}
	if !found {
		t.Error("the plan is not in the recording")
	}
}

// The demonstration's cues are heard on this machine, as a real boat's are on hers.
func TestWhoseCuesAreHeardHere(t *testing.T) {
	for scene, want := range map[string]string{"": "boat", "first-lesson": "Pebble"} {
		c := testConfig(t)
		c.Sim = scene
		a, err := New(c)
		if err != nil {
			t.Fatal(err)
		}
		a.closeAll()
		if a.voice.boat != want {
			t.Errorf("scene %q: cues of %q are spoken here, want those of %q", scene, a.voice.boat, want)
		}
	}
}

func TestAnUnknownPlanOrExerciseIsRefusedAtOnce(t *testing.T) {
	a, stop := running(t, testConfig(t))
	defer stop()
	act := func(act, phrase, text string) error {
		return a.fromPage("Wren", []boat.Input{{T: nowMS(), Kind: boat.ActIn, Source: "instructor", Act: &boat.Act{Act: act, Phrase: phrase, Text: text, From: "instructor"}}})
	}
	var e *phonemsg.Error
	for name, err := range map[string]error{"plan": act("plan", "moon-lake", ""), "exercise": act("exercise", "juggle", "start")} {
		if !errors.As(err, &e) || !strings.Contains(e.Text, "expected") {
			t.Errorf("an unknown %s is answered with %v", name, err)
		}
	}
	plans, exercises := toChoose()
	for _, p := range plans {
		if err := act("plan", p.Key, ""); err != nil || p.Words == "" {
			t.Errorf("the plan %s is offered as %q and refused: %v", p.Key, p.Words, err)
		}
	}
	for _, p := range exercises {
		if err := act("exercise", p.Key, "start"); err != nil || p.Words == "" {
			t.Errorf("the exercise %s is offered as %q and refused: %v", p.Key, p.Words, err)
		}
	}
	if err := act("plan", "", ""); err != nil {
		t.Errorf("free sailing is refused: %v", err)
	}
	if len(plans) < 3 || len(exercises) < 10 {
		t.Errorf("%d plans and %d exercises are offered", len(plans), len(exercises))
	}
}
