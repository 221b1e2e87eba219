package speaker

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// playFor fills ms milliseconds in pieces and returns samples and events.
func playFor(r *Reel, from int64, ms, piece int) ([]float32, []Event) {
	x := make([]float32, ms*Rate/1000)
	var ev []Event
	for t := 0; t < ms; t += piece {
		ev = append(ev, r.Fill(x[t*Rate/1000:min(t+piece, ms)*Rate/1000], from+int64(t))...)
	}
	return x, ev
}

func whats(ev []Event) (out []string) {
	for _, e := range ev {
		out = append(out, e.What)
	}
	return out
}

func msAt(x []float32, level float32) (from, to int) {
	from, to = -1, -1
	for i, v := range x {
		if v == level {
			if from < 0 {
				from = i * 1000 / Rate
			}
			to = (i + 1) * 1000 / Rate
		}
	}
	return from, to
}

func TestStemAndHeadingAreJoinedByExactlyTheGap(t *testing.T) {
	r := &Reel{Clips: demo()}
	r.Add(Utterance{ID: 1, Clips: []string{"stem", "digits"}, GapMS: 80}, 1000)
	x, ev := playFor(r, 1000, 1000, 10)
	if f, to := msAt(x, 0.2); f != 0 || to != 200 {
		t.Errorf("the stem plays from %d to %d ms, want 0 to 200", f, to)
	}
	if f, to := msAt(x, 0.4); f != 280 || to != 580 {
		t.Errorf("the heading plays from %d to %d ms, want 280 to 580", f, to)
	}
	if got := whats(ev); !slices.Equal(got, []string{"started", "finished"}) {
		t.Errorf("events %v", got)
	}
	if ev[0].AtMS != 1000 || ev[1].AtMS != 1580 {
		t.Errorf("started at %d, finished at %d; want 1000, 1580", ev[0].AtMS, ev[1].AtMS)
	}
}

func TestDangerCutsInWithoutAClick(t *testing.T) {
	r := &Reel{Clips: demo()}
	r.Add(Utterance{ID: 1, Clips: []string{"digits"}}, 0)
	r.Add(Utterance{ID: 2, Clips: []string{"stem"}}, 0)
	_, ev := playFor(r, 0, 100, 10)
	r.Add(Utterance{ID: 3, Clips: []string{"out"}, Danger: true}, 100)
	x, more := playFor(r, 100, 600, 10)
	ev = append(ev, more...)
	if got, want := whats(ev), []string{"started", "dropped", "dropped", "started", "finished"}; !slices.Equal(got, want) {
		t.Errorf("events %v, want %v", got, want)
	}
	if f, _ := msAt(x, 0.8); f != fadeMS {
		t.Errorf("danger begins after %d ms, want %d", f, fadeMS)
	}
	for i := 1; i < fadeMS*Rate/1000; i++ {
		if d := math.Abs(float64(x[i] - x[i-1])); d > 0.01 {
			t.Fatalf("a step of %.2f in the fade is a click", d)
		}
	}
}

func TestWhatCannotBeginInTimeIsDropped(t *testing.T) {
	r := &Reel{Clips: demo()}
	r.Add(Utterance{ID: 1, Clips: []string{"out"}}, 0)
	r.Add(Utterance{ID: 2, Clips: []string{"stem"}, Expires: 300}, 0)
	r.Add(Utterance{ID: 3, Clips: []string{"digits"}, Expires: 400}, 0)
	x, ev := playFor(r, 0, 1000, 10)
	if f, _ := msAt(x, 0.2); f >= 0 {
		t.Errorf("an expired cue was spoken at %d ms", f)
	}
	if f, _ := msAt(x, 0.4); f != 400 {
		t.Errorf("a cue that may begin at 400 ms began at %d", f)
	}
	if ev[2].ID != 2 || ev[2].What != "dropped" || ev[2].Note == "" {
		t.Errorf("got %+v, want cue 2 dropped with a reason", ev[2])
	}
}

func TestTwiceOnlyIntoSilence(t *testing.T) {
	r := &Reel{Clips: demo()}
	r.Add(Utterance{ID: 1, Clips: []string{"stem"}, Twice: true}, 0)
	x, ev := playFor(r, 0, 1000, 10)
	if f, to := msAt(x, 0.2); f != 0 || to != 200+againMS+200 {
		t.Errorf("said from %d to %d ms, want 0 to 650", f, to)
	}
	if len(ev) != 2 {
		t.Errorf("events %v", whats(ev))
	}
	r.Add(Utterance{ID: 2, Clips: []string{"stem"}, Twice: true}, 1000)
	r.Add(Utterance{ID: 3, Clips: []string{"digits"}}, 1000)
	x, _ = playFor(r, 1000, 1000, 10)
	if _, to := msAt(x, 0.2); to != 200 {
		t.Errorf("said again although something waited: until %d ms", to)
	}
}

func TestFailures(t *testing.T) {
	r := &Reel{Clips: demo()}
	r.Add(Utterance{ID: 1, Clips: []string{"nothing"}}, 5)
	r.Add(Utterance{ID: 2}, 5)
	for id := 3; id < 10; id++ {
		r.Add(Utterance{ID: id, Clips: []string{"stem"}}, 5)
	}
	_, ev := playFor(r, 5, 10, 10)
	count := map[string]int{}
	for _, e := range ev {
		count[e.What]++
		if e.What != "started" && e.Note == "" {
			t.Errorf("cue %d %s without a reason", e.ID, e.What)
		}
	}
	if count["failed"] != 2 || count["dropped"] != 3 || count["started"] != 1 {
		t.Errorf("got %v", count)
	}
}

// The size of the pieces a device asks for must not change what is heard.
func TestPiecesDoNotMatter(t *testing.T) {
	voice := sines()
	rapid.Check(t, func(t *rapid.T) {
		a, b := &Reel{Clips: voice}, &Reel{Clips: voice}
		for id := range rapid.IntRange(1, 4).Draw(t, "n") {
			u := Utterance{ID: id, Clips: []string{rapid.SampledFrom([]string{"stem", "digits", "out"}).Draw(t, "clip")},
				GapMS: 80, Twice: rapid.Bool().Draw(t, "twice"), Expires: int64(rapid.IntRange(0, 900).Draw(t, "expires"))}
			a.Add(u, 0)
			b.Add(u, 0)
		}
		x, ex := playFor(a, 0, 1200, 10)
		y, ey := playFor(b, 0, 1200, rapid.SampledFrom([]int{1, 5, 20, 50, 100}).Draw(t, "piece"))
		if !slices.Equal(x, y) || !slices.Equal(whats(ex), whats(ey)) {
			t.Fatalf("in other pieces something else is heard: %v, %v", whats(ex), whats(ey))
		}
	})
}

// The second saying gives way: to danger at once, to all else while it has not
// begun. Nobody is told that the first saying was cut off, for it was not.
func TestTheSecondSayingGivesWay(t *testing.T) {
	for _, c := range []struct {
		name   string
		after  int // ms: the first saying takes 200, the pause 250
		danger bool
		begins int // ms until the new words
		old    int // ms of the second saying that are still heard
	}{
		{"anything, in the pause", 300, false, fadeMS, 0},
		{"anything, once it began", 500, false, 150, 150},
		{"danger, once it began", 500, true, fadeMS, 1},
	} {
		r := &Reel{Clips: demo()}
		r.Add(Utterance{ID: 1, Clips: []string{"stem"}, Twice: true, Danger: true}, 0)
		_, ev := playFor(r, 0, c.after, 10)
		r.Add(Utterance{ID: 2, Clips: []string{"out"}, Danger: c.danger}, int64(c.after))
		x, more := playFor(r, int64(c.after), 1000, 10)
		if got, want := whats(append(ev, more...)), []string{"started", "finished", "started", "finished"}; !slices.Equal(got, want) {
			t.Errorf("%s: events %v, want %v", c.name, got, want)
		}
		if f, _ := msAt(x, 0.8); f != c.begins {
			t.Errorf("%s: the new words begin after %d ms, want %d", c.name, f, c.begins)
		}
		if _, to := msAt(x, 0.2); to > c.old {
			t.Errorf("%s: the old words are heard for %d ms, want %d", c.name, to, c.old)
		}
	}
}

func TestExpiredDangerSilencesNothing(t *testing.T) {
	r := &Reel{Clips: demo()}
	r.Add(Utterance{ID: 1, Clips: []string{"digits"}}, 0)
	playFor(r, 0, 100, 10)
	r.Add(Utterance{ID: 2, Clips: []string{"out"}, Danger: true, Expires: 50}, 100)
	x, ev := playFor(r, 100, 600, 10)
	if _, to := msAt(x, 0.4); to != 200 {
		t.Errorf("the first words ended after %d ms, want 200: cut off by something that was not even said", to)
	}
	if ev[0].ID != 2 || ev[0].What != "dropped" || ev[0].Note != "50 ms too late to be of use" {
		t.Errorf("got %+v", ev[0])
	}
}
