package web_test

import (
	"context"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/target"
	"github.com/chromedp/chromedp"

	"helmcue/internal/debrief"
)

// kept waits until the phone holds all it needs to start without the service.
func (b *tab) kept() {
	b.t.Helper()
	var state string
	b.js(`(async () => {
		const r = await navigator.serviceWorker.ready;
		const end = Date.now() + 30000;
		while (Date.now() < end && r.active?.state !== 'activated') await new Promise((f) => setTimeout(f, 100));
		return r.active.state + ' ' + (await (await caches.open((await caches.keys())[0])).keys()).length;
	})()`, &state)
	if !strings.HasPrefix(state, "activated ") {
		b.t.Fatalf("the phone keeps nothing: %s", state)
	}
}

// isHome says whether the service has acknowledged all that the phone kept.
func (b *tab) isHome() bool {
	b.t.Helper()
	var left bool
	b.js(`(async () => {
		const db = await new Promise((f) => { const r = indexedDB.open('helmcue'); r.onsuccess = () => f(r.result); });
		const all = (store) => new Promise((f) => { const r = db.transaction(store).objectStore(store).getAllKeys(); r.onsuccess = () => f(r.result); });
		const [kept, had] = [await all('kept'), await all('had')];
		db.close();
		const has = new Set(had);
		return kept.slice(0, -2).some((k) => !has.has(k)); // but for those of the last two seconds
	})()`, &left)
	return !left
}

// allHome waits for that.
func (b *tab) allHome() {
	b.t.Helper()
	waitUntil(b.t, "what the phone kept to reach the service", b.isHome)
}

// The link goes, the page is loaded again with no service in reach, sails on alone
// and speaks; when it is home the service has all of it, before and after.
func TestPhoneAloneAndHome(t *testing.T) {
	t.Parallel()
	a := newAboard(t, coach(t))
	b := heeled(t, a)
	b.kept()
	b.awaitText("#words", "Let the sheet go")
	a.cut()
	b.awaitText("#how", "alone")
	time.Sleep(1500 * time.Millisecond)
	b.visit("/sailor") // killed, and opened again
	b.awaitText("#check-who", "no link")
	b.setOff()
	b.awaitText("#how", "alone")
	b.awaitText("#missing", "No link. This phone speaks by itself")
	b.awaitText("#words", "Let the sheet go")
	b.shot("alone")
	time.Sleep(4 * time.Second)
	b.js(`document.getElementById('open-more').click(); 0`)
	b.do(press("#stop", 900*time.Millisecond, 0.8))
	b.awaitText("#stopped-says", "Only this phone has")
	b.awaitText("#sum", "You sailed")
	b.shot("alone-stopped")
	time.Sleep(1200 * time.Millisecond)
	a.mend()
	b.visit("/sailor") // home, the next day
	b.awaitText("#check-who", "linked")
	b.allHome()
	ins, outs := a.read()
	if n := whole(t, ins, 20_000); n < 100 {
		t.Errorf("%d samples came home", n)
	}
	own := 0
	for _, h := range heardOf(ins, outs) {
		if h.own {
			own++
		}
	}
	if own < 2 {
		t.Errorf("%d cues of the phone's own came home, want those it spoke alone", own)
	}
	listed := 0
	for _, s := range debrief.Build(debrief.Session{Inputs: ins, Outputs: outs}).Said {
		if s.Own && s.Words != "" && s.Answer != debrief.NotHeard {
			listed++
		}
	}
	if listed != own {
		t.Errorf("the debrief lists %d cues of the phone's own, %d were heard", listed, own)
	}
}

// beside opens the same page in a second tab of the same phone.
func (b *tab) beside(path string) *tab {
	b.t.Helper()
	id, err := target.CreateTarget("about:blank").WithBrowserContextID(b.own).Do(cdp.WithExecutor(chromium, chromedp.FromContext(chromium).Browser))
	if err != nil {
		b.t.Fatal(err)
	}
	ctx, shut := chromedp.NewContext(chromium, chromedp.WithTargetID(id))
	ctx, stop := context.WithTimeout(ctx, 170*time.Second)
	two := &tab{t: b.t, d: b.d, own: b.own, ctx: ctx}
	b.t.Cleanup(func() { stop(); shut() })
	two.size(390, 844)
	two.do(chromedp.Navigate(b.d.URL + path))
	return two
}

// Of two tabs on one phone the newer sails and speaks, with a link and without; the
// other says so, senses nothing and can take over.
func TestTwoTabsOnOnePhone(t *testing.T) {
	t.Parallel()
	a := newAboard(t, coach(t))
	b := heeled(t, a)
	two := b.beside("/sailor")
	two.setOff()
	b.awaitText("#missing", "Another page speaks for this boat now")
	a.cut()
	two.awaitText("#how", "alone")
	two.awaitText("#words", "Let the sheet go")
	var silent, speaks bool
	b.js(`document.getElementById('how').textContent.includes('alone')`, &silent)
	if silent {
		t.Error("both tabs speak by themselves")
	}
	a.mend()
	two.awaitText("#how", "listening")
	b.tap(`#missing button`)
	two.awaitText("#missing", "Another page speaks for this boat now")
	b.awaitText("#how", "listening")
	two.js(`document.getElementById('missing').textContent.includes('Another page')`, &speaks)
	if !speaks {
		t.Error("the older tab could not take over")
	}
	time.Sleep(1500 * time.Millisecond)
	b.allHome()
	ins, _ := a.read()
	whole(t, ins, 20_000)
}

// A phone without room says so, goes on, and keeps again once there is room.
func TestNoRoomOnThePhone(t *testing.T) {
	t.Parallel()
	a := newAboard(t, coach(t))
	b := heeled(t, a)
	// As the store does when the disk is full (W3C Indexed Database API 3.0, 5.11).
	b.js(`window.put = IDBObjectStore.prototype.put;
		IDBObjectStore.prototype.put = () => { throw new DOMException('no room', 'QuotaExceededError'); }; 0`)
	waitUntil(t, "the page to say that there is no room", func() bool { return strings.Contains(b.text("#missing"), "No room on this phone") })
	b.awaitText("#how", "listening")
	b.shot("no-room")
	b.js(`IDBObjectStore.prototype.put = window.put; 0`)
	waitUntil(t, "the phone to keep again", func() bool { return !strings.Contains(b.text("#missing"), "No room") })
	b.js(`(async () => { await new Promise((f) => setTimeout(f, 1500)); })()`)
	b.allHome()
	ins, _ := a.read()
	if n := whole(t, ins, 0); n < 15 { // a second and a half, and what went before
		t.Errorf("%d samples are recorded", n)
	}
}

// The page that is left and comes back is deaf meanwhile, in both coaches, and what
// it sends afterwards is whole.
func TestLeftAndBackWithoutALink(t *testing.T) {
	t.Parallel()
	a := newAboard(t, coach(t))
	b := heeled(t, a)
	a.cut()
	b.awaitText("#how", "alone")
	b.hide(true)
	time.Sleep(1500 * time.Millisecond)
	b.hide(false)
	b.awaitText("#missing", "Deaf for")
	a.mend()
	b.awaitText("#how", "listening")
	time.Sleep(1200 * time.Millisecond)
	b.allHome()
	ins, _ := a.read()
	whole(t, ins, 0)
	var kinds []string
	for _, in := range ins {
		if k := in.Kind.String(); k == "hidden" || k == "shown" {
			kinds = append(kinds, k)
		}
	}
	if strings.Join(kinds, " ") != "hidden shown" {
		t.Errorf("recorded %v, want hidden and then shown, once each", kinds)
	}
}
