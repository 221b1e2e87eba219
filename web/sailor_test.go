package web_test

import (
	"math"
	"strings"
	"testing"
	"time"
)

// sailing opens the sailor's page, pairs it by the code in the address and taps ready.
func sailing(t *testing.T, mounting string) (*double, *tab) {
	t.Helper()
	d := newDouble(t)
	d.set(func() { d.state = status("Wren", nil) })
	b := open(t, d, "/sailor#AB23CD")
	b.tap("#" + mounting)
	b.tap("#ready")
	d.await(t, "sample", "the first sample", func(m []message) bool { return len(m) > 0 })
	return d, b
}

func near(got, want, tol float64) bool {
	return math.Abs(math.Mod(got-want+540, 360)-180) <= tol
}

// last waits for a sample made after now that has what is asked for.
func last(t *testing.T, d *double, what string, ok func(message) bool) message {
	t.Helper()
	d.forget()
	got := d.await(t, "sample", what, func(m []message) bool { return len(m) > 0 && ok(m[len(m)-1]) })
	return got[len(got)-1]
}

func TestPairingByTheCodeInTheAddress(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	join := d.heard("join")[0]
	if join["token"] != "token-AB23CD" || join["role"] != "sailor" || join["boat"] != "Wren" || join["v"] != 1.0 {
		t.Errorf("joined with %v", join)
	}
	var hash, kept string
	b.js("location.hash", &hash)
	b.js("localStorage.getItem('helmcue.pass.sailor')", &kept)
	if hash != "" {
		t.Errorf("the used code still stands in the address: %q", hash)
	}
	if !strings.Contains(kept, "token-AB23CD") {
		t.Errorf("the token was not kept: %q", kept)
	}
}

func TestPairingByHandAndAWrongCode(t *testing.T) {
	t.Parallel()
	d := newDouble(t)
	b := open(t, d, "/sailor")
	b.do(typed("#code", "WRONG2"))
	b.tap("#pair-form button")
	b.awaitText("#pair-fault", "No such code")
	b.js("document.querySelector('#code').value = ''")
	b.do(typed("#code", "AB23CD"), typed("#name", "Tern"))
	b.tap("#pair-form button")
	join := d.await(t, "join", "a join", func(m []message) bool { return len(m) == 1 })[0]
	if join["boat"] != "Tern" {
		t.Errorf("joined with %v", join)
	}
	b.awaitText("#check-who", "Tern · linked")
}

func TestSamplesComeTenASecond(t *testing.T) {
	t.Parallel()
	d, _ := sailing(t, "fixed")
	d.forget()
	got := d.await(t, "sample", "thirty samples", func(m []message) bool { return len(m) >= 30 })
	from, _ := got[0].num("t")
	to, _ := got[len(got)-1].num("t")
	if pace := (to - from) / float64(len(got)-1); pace < 90 || pace > 125 {
		t.Errorf("a sample every %.0f ms, want 100", pace)
	}
	for i := 1; i < len(got); i++ {
		a, _ := got[i-1].num("seq")
		b, _ := got[i].num("seq")
		if b != a+1 {
			t.Fatalf("seq %v follows %v", b, a)
		}
	}
}

func TestPositionIsSentOnceForEachReading(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	d.forget()
	b.place(47.1234567, 8.25, 6, 2.0, 123)
	d.await(t, "sample", "twelve samples", func(m []message) bool { return len(m) >= 12 })
	var with []message
	before := 0 // on a slow machine the first place may be on its way still
	seen := map[any]bool{}
	for _, m := range d.heard("sample") {
		if seen[m["seq"]] { // sent again, because its acknowledgement was late
			continue
		}
		seen[m["seq"]] = true
		switch lat, ok := m.num("lat"); {
		case ok && lat == 47.1234567:
			with = append(with, m)
		case ok:
			before++
		}
	}
	if len(with) != 1 || before > 1 {
		t.Fatalf("%d samples carry the new position and %d the one before, want each at most once: %v", len(with), before, with)
	}
	sog, _ := with[0].num("sog")
	// 2 m/s in knots of 1852 m/h (BIPM, SI Brochure 8th edition, table 8).
	if with[0]["lat"] != 47.1234567 || with[0]["lon"] != 8.25 || with[0]["acc"] != 6.0 || with[0]["cog"] != 123.0 || math.Abs(sog-2*3600/1852.0) > 0.01 {
		t.Errorf("got %v", with[0])
	}
}

func TestHeadingAndHeelInEachCompassCase(t *testing.T) {
	t.Parallel()
	cases := []struct {
		name, event        string
		alpha, beta, gamma float64
		extra              string
		hdg                float64
		hasHdg             bool
	}{
		// no compass first: a compass is believed for two seconds after its last event
		{"no compass at all", "deviceorientation", 123, 0, 10, "", 0, false},
		{"compass property", "deviceorientation", 123, 0, 15, "webkitCompassHeading: 200, webkitCompassAccuracy: 5", 200, true},
		{"compass property at north", "deviceorientation", 123, 0, 20, "webkitCompassHeading: 0", 0, true},
		{"absolute event", "deviceorientationabsolute", 270, 0, 25, "", 90, true},
	}
	for _, mounting := range []string{"fixed", "worn"} {
		d, b := sailing(t, mounting)
		for _, c := range cases {
			b.orient(c.event, c.alpha, c.beta, c.gamma, c.extra)
			m := last(t, d, c.name, func(m message) bool { heel, ok := m.num("heel"); return ok && math.Abs(heel-c.gamma) < 0.2 })
			hdg, has := m.num("hdg")
			if has != c.hasHdg || has && (!near(hdg, c.hdg, 0.2) || m["hdgRef"] != "mag") {
				t.Errorf("%s, %s: heading %v (%v, %v), want %v", mounting, c.name, hdg, has, m["hdgRef"], c.hdg)
			}
			if m["mount"] != mounting {
				t.Errorf("%s: the sample says %v", mounting, m["mount"])
			}
		}
	}
}

func TestLevelling(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	b.orient("deviceorientationabsolute", 0, 8, -6, "")
	last(t, d, "heel before", func(m message) bool { h, ok := m.num("heel"); return ok && math.Abs(h+6) < 0.3 })
	b.tap("#level")
	b.awaitText("#items", "Levelled")
	m := last(t, d, "heel after", func(m message) bool { _, ok := m.num("heel"); return ok })
	heel, _ := m.num("heel")
	pitch, _ := m.num("pitch")
	if math.Abs(heel) > 0.2 || math.Abs(pitch) > 0.2 {
		t.Errorf("levelled, the samples say heel %v and pitch %v", heel, pitch)
	}
}

func TestWindFixes(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	b.orient("deviceorientationabsolute", 45, 0, 0, "")
	last(t, d, "a heading", func(m message) bool { _, ok := m.num("hdg"); return ok })
	b.tap("#go")
	b.tap("#open-wind")
	b.tap("#pointed")
	fix := d.await(t, "wind_fix", "a wind fix", func(m []message) bool { return len(m) == 1 })[0]
	dir, _ := fix.num("dir")
	if fix["method"] != "pointed" || fix["ref"] != "mag" || !near(dir, 315, 0.2) || fix["lat"] != 47.1 {
		t.Errorf("got %v", fix)
	}
	b.awaitText("#wind-sent", "Told")
	b.tap("#head-to-wind")
	fix = d.await(t, "wind_fix", "a second wind fix", func(m []message) bool { return len(m) == 2 })[1]
	if _, has := fix.num("dir"); has || fix["method"] != "head_to_wind" {
		t.Errorf("got %v, want no direction: the bow is the wind", fix)
	}
}

func TestLinkCutAndResendIsCompleteAndWithoutDoubles(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	d.set(func() { d.deaf = true }) // some are on the way when the link goes
	time.Sleep(400 * time.Millisecond)
	d.set(func() { d.down = true })
	d.cut()
	b.awaitText("#check-who", "no link")
	b.js("document.querySelector('#go').click()")
	b.awaitText("#missing", "Link lost")
	time.Sleep(1500 * time.Millisecond)
	d.set(func() { d.down, d.deaf = false, false })
	d.await(t, "join", "a second join", func(m []message) bool { return len(m) == 2 })
	time.Sleep(800 * time.Millisecond)
	seen := map[float64]int{}
	first, top, batched := math.Inf(1), 0.0, 0
	for _, m := range d.heard("sample") {
		seq, _ := m.num("seq")
		seen[seq]++
		first, top = math.Min(first, seq), math.Max(top, seq)
		if m["batched"] == true {
			batched++
		}
	}
	for seq := first; seq <= top; seq++ {
		if seen[seq] == 0 {
			t.Errorf("sample %.0f never came", seq)
		}
		if seen[seq] > 2 {
			t.Errorf("sample %.0f came %d times", seq, seen[seq])
		}
	}
	if batched < 15 {
		t.Errorf("%d samples came in batches, want those of the gap", batched)
	}
	d.forget()
	time.Sleep(500 * time.Millisecond)
	for _, m := range d.heard("sample") {
		if seq, _ := m.num("seq"); seq <= top && m["batched"] == true {
			t.Errorf("sample %.0f was sent again although it was acknowledged", seq)
		}
	}
}

func TestPhoneSaysByItselfThatTheLinkIsLost(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	b.awaitText("#items", "that is good") // the voice is there
	b.tap("#go")
	time.Sleep(2 * time.Second) // what the check had to say is over
	b.js(`window.starts = 0; const start = AudioBufferSourceNode.prototype.start;
		AudioBufferSourceNode.prototype.start = function (...a) { window.starts++; return start.apply(this, a); }; 0`)
	d.set(func() { d.down = true })
	d.cut()
	b.awaitText("#missing", "Link lost 6 seconds ago")
	var starts int
	b.js("window.starts", &starts)
	if starts != 1 {
		t.Errorf("%d clips were played, want the one that says it, once", starts)
	}
}

func TestHiddenAndShown(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	b.tap("#go")
	b.hide(true)
	d.await(t, "hidden", "hidden", func(m []message) bool { return len(m) == 1 })
	time.Sleep(1300 * time.Millisecond)
	b.hide(false)
	d.await(t, "shown", "shown", func(m []message) bool { return len(m) == 1 })
	b.awaitText("#missing", "Deaf for 1 second while the page was away")
}

func TestCueIsShownAndSpoken(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	b.tap("#go")
	d.tell(cue(7, nil))
	b.awaitText("#words", "Bear away five degrees")
	b.awaitText("#why", "12° too close to the wind")
	got := d.await(t, "spoken", "started and finished", func(m []message) bool { return len(m) == 2 })
	if got[0]["what"] != "started" || got[1]["what"] != "finished" || got[0]["id"] != 7.0 || got[0]["where"] != "phone" {
		t.Errorf("got %v", got)
	}
	var sound bool
	b.js("!document.querySelector('#missing').textContent.includes('Sound')", &sound)
	if !sound {
		t.Error("the page says the sound is off")
	}
}

func TestExpiredCueIsShownAndNotSpoken(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	b.tap("#go")
	d.tell(cue(8, message{"expires": now() - 1000}))
	b.awaitText("#words", "Bear away five degrees")
	got := d.await(t, "spoken", "dropped", func(m []message) bool { return len(m) == 1 })
	if got[0]["what"] != "dropped" || got[0]["id"] != 8.0 {
		t.Errorf("got %v", got)
	}
}

func TestDangerCutsIn(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	b.tap("#go")
	d.tell(cue(1, message{"clips": []string{"steer", "240", "steer", "240"}}))
	d.await(t, "spoken", "the first to start", func(m []message) bool { return len(m) == 1 })
	d.tell(cue(2, message{"urgency": "danger", "key": "let_go", "words": "let the sheet go", "clips": []string{"let-the-sheet-go"}}))
	got := d.await(t, "spoken", "all told", func(m []message) bool { return len(m) == 4 })
	want := []string{"1 started", "1 dropped", "2 started", "2 finished"}
	for i, m := range got {
		if s := word(m); s != want[i] {
			t.Errorf("%d: got %s, want %s", i, s, want[i])
		}
	}
	b.awaitText("#warn", "Danger")
}

func TestMissingClipIsTold(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	b.tap("#go")
	d.tell(cue(3, message{"clips": []string{"no-such-clip"}}))
	got := d.await(t, "spoken", "failed", func(m []message) bool { return len(m) == 1 })
	if got[0]["what"] != "failed" {
		t.Errorf("got %v", got)
	}
	d.tell(cue(4, nil))
	d.await(t, "spoken", "the next to be spoken all the same", func(m []message) bool { return len(m) == 3 && m[2]["what"] == "finished" })
}

func TestOnlyTheBoatsLoudspeaker(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	b.tap("#boat-only")
	b.tap("#go")
	d.tell(cue(5, nil))
	b.awaitText("#words", "Bear away")
	time.Sleep(500 * time.Millisecond)
	if got := d.heard("spoken"); len(got) != 0 {
		t.Errorf("muted, the page told %v", got)
	}
}

func TestUnknownWindIsSaid(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	d.set(func() {
		d.state = status("Wren", message{"twd_known": false, "twd_other": 164, "twa": nil, "share": nil, "target_kn": nil})
	})
	b.tap("#go")
	b.awaitText("#missing", "Not sure which side")
	b.awaitText("#angle", "Not sure")
	var hollow int
	b.js("document.querySelectorAll('#fan .hollow').length", &hollow)
	if hollow != 2 {
		t.Errorf("%d hollow ticks, want both", hollow)
	}
}

func TestDoneNeedsAHoldAndASlide(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	b.tap("#go")
	b.do(press("#done", 0, 0))
	time.Sleep(100 * time.Millisecond)
	b.do(press("#done", 800*time.Millisecond, 0))
	time.Sleep(200 * time.Millisecond)
	if got := d.heard("answer"); len(got) != 0 {
		t.Fatalf("a tap or a hold alone was taken for an act: %v", got)
	}
	b.do(press("#done", 600*time.Millisecond, 0.6))
	got := d.await(t, "answer", "done", func(m []message) bool { return len(m) == 1 })
	if got[0]["done"] != true {
		t.Errorf("got %v", got)
	}
	b.js("document.querySelector('#done').focus()")
	b.do(key("Enter"))
	d.await(t, "answer", "done by keyboard", func(m []message) bool { return len(m) == 2 })
}

func word(m message) string {
	id, _ := m.num("id")
	return string(rune('0'+int(id))) + " " + m["what"].(string)
}
