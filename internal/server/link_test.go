package server

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"helmcue/internal/boat"
	"helmcue/internal/phonemsg"
)

func TestJoinSampleAck(t *testing.T) {
	r := start(t)
	p := r.open()
	p.send(`{"type":"join","v":1,"role":"sailor","token":"otter","boat":"Ignored"}`)
	j := p.next("joined")
	if j["boat"] != "Otter" || j["role"] != "sailor" || j["session"] != "s1" || j["voice"] != "en-a" {
		t.Errorf("joined says %v", j)
	}
	if s := j["settings"].(map[string]any); s["level"] != "beginner" {
		t.Errorf("settings are %v", s)
	}
	if at := int64(j["serverTime"].(float64)); time.Now().UnixMilli()-at > 5000 {
		t.Errorf("serverTime %d", at)
	}
	p.sample(7)
	if a := p.next("ack"); a["seq"] != 7.0 {
		t.Errorf("ack says %v", a)
	}
	in := r.inputs("Otter")
	if len(in) != 1 || in[0].Sample.SOGKn != boat.Some(2) || in[0].Source != "phone" || in[0].Sent == 0 {
		t.Errorf("recorded %+v", in)
	}
	p.send(`{"type":"spoken","id":4,"t":1750000000000,"where":"phone","what":"finished"}`)
	p.send(`{"type":"hidden","t":1750000000000}`)
	until(t, "spoken and hidden", func() bool { return r.kinds("Otter", boat.SpokenIn) == 1 && r.kinds("Otter", boat.Hidden) == 1 })
}

func TestOutputsReachWhomTheyConcern(t *testing.T) {
	r := start(t)
	otter, heron, coach, guest := r.join("otter"), r.join("heron"), r.join("coach"), r.join("guest")
	otter.sample(1)
	otter.next("ack")
	r.srv.Publish("Otter", boat.Output{Status: &boat.Status{T: 1750000000000, Mode: boat.CloseHauled, Share: boat.Some(0.85)}}, Line{})
	for _, lost := range []float64{3.5, 2.1, 4} {
		r.srv.Publish("Otter", boat.Output{Manoeuvre: &boat.Manoeuvre{Kind: "tack", LostLen: boat.Some(lost)}}, Line{})
	}
	cue := boat.Cue{T: 1750000000000, ID: 3, Key: boat.BearAway, Words: "bear away slightly", Why: "12 degrees below"}
	r.srv.Publish("Otter", boat.Output{Cue: &cue}, Line{Clips: []string{"bear_away", "slightly"}, GapMS: 80})
	for _, p := range []*page{otter, coach, guest} {
		m := p.next("cue")
		if m["boat"] != "Otter" || m["key"] != "bear_away" || m["gapMs"] != 80.0 || len(m["clips"].([]any)) != 2 {
			t.Errorf("cue is %v", m)
		}
	}
	var st map[string]any
	for st == nil || st["boat"] != "Otter" || st["told"] == nil {
		st = coach.next("state")
	}
	if st["mode"] != "close_hauled" || st["share"] != 0.85 || st["told"].(map[string]any)["words"] != "bear away slightly" {
		t.Errorf("state is %v", st)
	}
	health := st["health"].(map[string]any)
	if health["link"] != "ok" || health["acc"] != 4.0 || health["batt"] != 0.8 || health["compass"] != true {
		t.Errorf("health is %v", health)
	}
	if turns := st["turns"].(map[string]any); turns["tacks"] != 3.0 || turns["bestLengths"] != 2.1 || turns["lastLengths"] != 4.0 {
		t.Errorf("turns are %v", turns)
	}
	for range 3 { // the other sailor hears of her own boat alone
		if m := heron.next("state", "cue"); m["boat"] != "Heron" {
			t.Errorf("Heron's page was told %v", m)
		}
	}
}

func TestRoles(t *testing.T) {
	r := start(t)
	otter, coach, guest := r.join("otter"), r.join("coach"), r.join("guest")
	refused := func(p *page, in, want string) {
		t.Helper()
		p.send(in)
		if m := p.next("error"); m["code"] != want {
			t.Errorf("%s gave %v, want %s", in, m, want)
		}
	}
	act := fmt.Sprintf(`{"type":"act","t":%d,"boat":"Otter","act":"wind","dir":200,"kn":9}`, time.Now().UnixMilli())
	refused(otter, act, "forbidden")
	refused(guest, act, "forbidden")
	refused(guest, `{"type":"answer","t":1,"done":true}`, "forbidden")
	refused(coach, `{"type":"sample","t":1}`, "forbidden")
	refused(otter, `{"type":"join","v":1,"role":"sailor","token":"otter"}`, "bad_request")
	refused(coach, `{"type":"act","t":1750000000000,"boat":"Nobody","act":"mark"}`, "out_of_range")
	coach.send(act)
	until(t, "the instructor's wind", func() bool { return r.kinds("Otter", boat.WindFixIn) == 1 })
	if in := r.inputs("Otter"); in[0].WindFix.Method != "chase" || in[0].Source != "instructor" {
		t.Errorf("recorded %+v", in[0])
	}
	r.join("heron")
	coach.send(`{"type":"act","t":1750000000000,"act":"say","phrase":"well_done"}`) // for all
	until(t, "the phrase for both", func() bool { return r.kinds("Otter", boat.ActIn) == 1 && r.kinds("Heron", boat.ActIn) == 1 })
	for _, role := range []string{"instructor", "viewer"} {
		p := r.open()
		p.send(fmt.Sprintf(`{"type":"join","v":1,"role":%q,"token":"otter"}`, role))
		if code, _, fault := p.closed(); code != websocket.ClosePolicyViolation || fault != "forbidden" {
			t.Errorf("a sailor's token joined as %s: %d %s", role, code, fault)
		}
	}
}

func TestDuplicatesAreDroppedAndAcknowledged(t *testing.T) {
	r := start(t)
	now := time.Now().UnixMilli()
	batch := fmt.Sprintf(`{"type":"samples","batch":[{"t":%d,"seq":1},{"t":%d,"seq":2},{"t":%d,"seq":2},{"t":%d,"seq":3}]}`, now-300, now-200, now-200, now-100)
	p := r.join("otter")
	for range 2 {
		p.send(batch)
		if a := p.next("ack"); a["seq"] != 3.0 {
			t.Errorf("ack %v", a)
		}
	}
	p.conn.Close()
	until(t, "the link to be lost", func() bool { return r.kinds("Otter", boat.LinkLost) == 1 })
	p = r.join("otter")
	p.send(batch)
	p.next("ack")
	if n := r.kinds("Otter", boat.SampleIn); n != 3 {
		t.Errorf("%d samples recorded, want 3", n)
	}
	// A reloaded page counts from the start again: same seq, other time.
	p.send(fmt.Sprintf(`{"type":"sample","t":%d,"seq":1}`, now))
	p.next("ack")
	if n := r.kinds("Otter", boat.SampleIn); n != 4 {
		t.Errorf("%d samples recorded after the reload, want 4", n)
	}
}

func TestWhatWasNotRecordedIsNotAcknowledged(t *testing.T) {
	r := start(t)
	p := r.join("otter")
	r.failing.Store(true)
	p.sample(1)
	if m := p.next("ack", "error"); m["code"] != "not_recorded" || !strings.Contains(m["text"].(string), "no space left") {
		t.Errorf("a full disk gave %v", m)
	}
	r.failing.Store(false)
	p.send(fmt.Sprintf(`{"type":"sample","t":%d,"seq":1}`, time.Now().UnixMilli()))
	p.next("ack")
	if n := r.kinds("Otter", boat.SampleIn); n != 1 {
		t.Errorf("%d samples recorded, want 1", n)
	}
}

func TestTheNewestPageSpeaks(t *testing.T) {
	r := start(t)
	old := r.join("otter")
	young := r.join("otter")
	if m := old.next("error"); m["code"] != "replaced" {
		t.Errorf("the older page was told %v", m)
	}
	old.sample(1)
	if m := old.next("error", "ack"); m["code"] != "replaced" {
		t.Errorf("the older page's sample gave %v", m)
	}
	r.srv.Publish("Otter", boat.Output{Cue: &boat.Cue{ID: 1, Key: boat.Hold}}, Line{})
	young.next("cue")
	for range 2 {
		if m := old.next("state", "cue"); m["type"] == "cue" {
			t.Error("the older page speaks too")
		}
	}
	old.conn.Close()
	young.sample(1)
	young.next("ack")
	if r.kinds("Otter", boat.LinkLost) != 0 {
		t.Error("the older page's end was taken for the boat's")
	}
}

func TestLinkLostAndBack(t *testing.T) {
	r := start(t)
	coach := r.join("coach")
	health := func() any {
		return coach.next("state")["health"].(map[string]any)["link"]
	}
	p := r.join("otter")
	if h := health(); h != "ok" {
		t.Errorf("link is %v after joining", h)
	}
	p.send(`{"type":"bye"}`)
	if code, reason, _ := p.closed(); code != websocket.CloseNormalClosure {
		t.Errorf("bye was answered with %d %s", code, reason)
	}
	until(t, "link_lost", func() bool { return r.kinds("Otter", boat.LinkLost) == 1 })
	health() // may have been on its way
	if h := health(); h != "lost" {
		t.Errorf("link is %v after bye", h)
	}
	r.join("otter")
	until(t, "link_back", func() bool { return r.kinds("Otter", boat.LinkBack) == 1 })
}

// TestSilentPageIsLost: a phone under water neither closes nor answers.
func TestSilentPageIsLost(t *testing.T) {
	r := start(t, func(c *Config) { c.Limits = Limits{Ping: 100 * time.Millisecond, Pong: time.Second} })
	mute := r.join("otter")
	mute.conn.SetPingHandler(func(string) error { return nil })
	live := r.join("heron")
	go mute.closed()
	for end := time.Now().Add(8 * time.Second); r.kinds("Otter", boat.LinkLost) == 0; {
		if live.next("state"); time.Now().After(end) { // its library answers pings while it waits
			t.Fatal("the silent page is kept")
		}
	}
	live.sample(1)
	live.next("ack")
	if r.kinds("Heron", boat.LinkLost) != 0 {
		t.Error("a page that answers was taken for lost")
	}
}

func TestRevokedPageIsEnded(t *testing.T) {
	r := start(t)
	p := r.join("otter")
	r.keys.mu.Lock()
	delete(r.keys.all, "otter")
	r.keys.mu.Unlock()
	if code, reason, fault := p.closed(); code != websocket.ClosePolicyViolation || reason != "bad_token" || fault != "bad_token" {
		t.Errorf("ended with %d %s after error %s", code, reason, fault)
	}
}

func TestClocksOfPhones(t *testing.T) {
	for name, off := range map[string]int64{"ahead": 3600_000, "behind": -400 * 24 * 3600_000} {
		t.Run(name, func(t *testing.T) {
			r := start(t)
			p := r.join("otter")
			before := boat.Time(time.Now().UnixMilli())
			p.send(fmt.Sprintf(`{"type":"sample","t":%d,"seq":1}`, time.Now().UnixMilli()+off))
			if m := p.next("note", "ack"); m["code"] != "phone_clock" || !strings.Contains(m["text"].(string), name) {
				t.Errorf("told %v", m)
			}
			p.next("ack")
			after := boat.Time(time.Now().UnixMilli())
			if in := r.inputs("Otter")[0]; in.T < before || in.T > after {
				t.Errorf("mapped to %d, arrived between %d and %d", in.T, before, after)
			}
		})
	}
}

// TestLateSamplesKeepTheirTime: what waited while the link was down is not
// dated with its arrival.
func TestLateSamplesKeepTheirTime(t *testing.T) {
	r := start(t)
	p := r.join("otter")
	p.sample(1)
	p.next("ack")
	r.skewMS.Store(60_000) // a minute goes by for the service, and for the phone
	made := time.Now().UnixMilli() + 10_000
	p.send(fmt.Sprintf(`{"type":"samples","batch":[{"t":%d,"seq":2},{"t":%d,"seq":3}]}`, made, made+100))
	p.next("ack")
	in := r.inputs("Otter")
	for i, want := range []int64{made, made + 100} {
		if d := int64(in[i+1].T) - want; d < -5 || d > 200 {
			t.Errorf("sample %d is %d ms off its own time", i+2, d)
		}
	}
}

func TestEndOfService(t *testing.T) {
	r := start(t)
	p := r.join("otter")
	r.cancel()
	if code, reason, _ := p.closed(); code != websocket.CloseGoingAway || reason != "the service is ending" {
		t.Errorf("closed with %d %s", code, reason)
	}
	<-r.ended
	if n := r.srv.live.count(); n != 0 {
		t.Errorf("%d links are left", n)
	}
	if _, resp, err := r.dial(nil); err == nil || resp.StatusCode != 503 {
		t.Errorf("a new page was let in: %v", err)
	}
	r.srv.Publish("Otter", boat.Output{Note: &boat.Note{}}, Line{}) // must not hang
}

func TestNewAsksForWhatItNeeds(t *testing.T) {
	good := Config{OnInput: func(string, []boat.Input) error { return nil }, Keys: &tokens{},
		Hosts: func() []string { return nil }, Pages: contentOnly()}
	if _, err := New(good); err != nil {
		t.Error(err)
	}
	for name, spoil := range map[string]func(*Config){
		"OnInput": func(c *Config) { c.OnInput = nil }, "Keys": func(c *Config) { c.Keys = nil },
		"Hosts": func(c *Config) { c.Hosts = nil }, "Pages": func(c *Config) { c.Pages = nil }} {
		bad := good
		spoil(&bad)
		if _, err := New(bad); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("without %s: %v", name, err)
		}
	}
}

// TestHealthOfABoatWithoutAPage: instruments or a simulation speak for her.
func TestHealthOfABoatWithoutAPage(t *testing.T) {
	c := craft{name: "Otter", statusAt: time.Unix(100, 0)}
	if got := c.link(time.Unix(102, 0)); got != "ok" {
		t.Errorf("two seconds after a state: %s", got)
	}
	if got := c.link(time.Unix(104, 0)); got != "quiet" {
		t.Errorf("four seconds after a state: %s", got)
	}
	c.spoken(&boat.Spoken{What: "finished", Where: "boat"})
	c.spoken(&boat.Spoken{What: "dropped", Where: "phone"})
	if c.sound != "boat" {
		t.Errorf("sound is %q: a dropped cue tells nothing about the sound", c.sound)
	}
	c.heard([]boat.Input{{Kind: boat.ActIn}}, time.Unix(200, 0), phonemsg.Instructor)
	if !c.heardAt.IsZero() {
		t.Error("an instructor's act was taken for a sign of the sailor's page")
	}
}
