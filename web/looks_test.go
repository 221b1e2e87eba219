package web_test

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// size is one screen.
type size struct {
	name string
	w, h int64
	text string // size of the root's text; 225 % is twice the usual
}

// sizes are the screens every page must work on.
func sizes() []size {
	return []size{
		{"390x844", 390, 844, ""}, {"360x740", 360, 740, ""}, {"844x390", 844, 390, ""},
		{"1280x900", 1280, 900, ""}, {"390x844-text-200", 390, 844, "225%"}, {"360x740-text-200", 360, 740, "225%"},
	}
}

// faults lists what is wrong with the page as it stands: wider than the screen,
// controls that overlap, are small for a thumb (WCAG 2.2, 2.5.5: 44 px), have no
// name, or cannot be seen whole; words that run out of their box.
const faults = `(() => {
	const out = [];
	const seen = (e) => e.checkVisibility() && e.getClientRects().length > 0;
	const top = document.querySelector('dialog[open]') ?? document.body;
	if (document.documentElement.scrollWidth > innerWidth) out.push('the page is ' + document.documentElement.scrollWidth + ' wide on ' + innerWidth);
	const controls = [...top.querySelectorAll('button, input, a.hold')].filter(seen);
	const boxes = controls.map((e) => e.getBoundingClientRect());
	const fixed = (e) => e.closest('.bar') !== null;
	controls.forEach((e, i) => {
		const name = (e.getAttribute('aria-label') ?? e.labels?.[0]?.textContent ?? e.textContent).trim();
		const b = boxes[i];
		if (!name) out.push('a control has no name: ' + e.outerHTML.slice(0, 80));
		if (b.height < 44 || b.width < 44) out.push(name + ' is ' + Math.round(b.width) + ' by ' + Math.round(b.height));
		if (e.scrollWidth > e.clientWidth + 2 || e.scrollHeight > e.clientHeight + 2) out.push(name + ' runs out of its box');
		for (let j = 0; j < i; j++) {
			const c = boxes[j];
			if (fixed(e) !== fixed(controls[j])) continue;
			if (Math.min(b.right, c.right) - Math.max(b.left, c.left) > 1 && Math.min(b.bottom, c.bottom) - Math.max(b.top, c.top) > 1) out.push(name + ' overlaps ' + controls[j].textContent.trim());
		}
	});
	for (const e of [...top.querySelectorAll('p, h1, h2, h3, li span')].filter(seen)) {
		const b = e.getBoundingClientRect();
		if (e.closest('.unseen, .to') || b.width === 0) continue;
		if (b.right > innerWidth + 1 || b.left < -1 || e.scrollWidth > e.clientWidth + 2 && e.clientWidth > 0) out.push('words run out: ' + e.textContent.trim().slice(0, 40));
	}
	return out;
})()`

// looks checks one state of a page on every screen and takes its picture.
func (b *tab) looks(name string) {
	b.t.Helper()
	b.looksOn(name, sizes())
}

// looksOnPhones leaves out the large screens, for what only differs in words.
func (b *tab) looksOnPhones(name string) {
	b.t.Helper()
	all := sizes()
	b.looksOn(name, []size{all[1], all[2], all[4]})
}

func (b *tab) looksOn(name string, on []size) {
	b.t.Helper()
	for i, s := range on {
		b.size(s.w, s.h)
		b.place(47.1+float64(i)*1e-6, 8.2, 4, 1, 200)
		b.js(fmt.Sprintf("document.documentElement.style.fontSize = %q; new Promise((done) => setTimeout(done, 120))", s.text))
		var wrong []string
		b.js(faults, &wrong)
		for _, w := range wrong {
			b.t.Errorf("%s on %s: %s", name, s.name, w)
		}
		b.shot(name + "-" + s.name)
	}
	b.js("document.documentElement.style.fontSize = ''; 0")
	b.size(390, 844)
}

func TestLooksOfLandingAndInstall(t *testing.T) {
	t.Parallel()
	d := newDouble(t)
	b := open(t, d, "/")
	b.looks("landing")
	for _, p := range []string{"/install", "/install/iphone", "/install/android"} {
		b.visit(p)
		b.looks(strings.ReplaceAll(p[1:], "/", "-"))
	}
	b.visit("/sailor")
	b.awaitText("#pair h1", "Pair")
	b.looksOnPhones("sailor-pair")
}

func TestLooksOfTheChecklist(t *testing.T) {
	t.Parallel()
	d := newDouble(t)
	b := open(t, d, "/sailor#AB23CD")
	b.awaitText("#check-who", "linked")
	b.looks("sailor-ready")
	b.tap("#fixed")
	b.tap("#ready")
	b.orient("deviceorientationabsolute", 0, 2, 1, "")
	b.awaitText("#items", "Position is good to 4 m")
	b.awaitText("#items", "Did you hear “that is good”?")
	b.looks("sailor-check")
}

func TestLooksOfSailing(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	b.orient("deviceorientationabsolute", 158, 2, 12, "")
	b.place(47.1, 8.2, 4, 1, 200)
	b.js(`document.querySelector('#go').click()`)
	for i, share := range []float64{0.9, 0.8, 0.55, 0.68} {
		d.set(func() { d.state = status("Wren", message{"share": share}) })
		time.Sleep(1100 * time.Millisecond)
		if i == 2 {
			d.tell(cue(1, nil))
		}
	}
	b.awaitText("#words", "Bear away")
	b.awaitText("#how", "position to 4 m · listening")
	b.looks("sailor-sailing")
	b.tap("#open-wind")
	b.looksOnPhones("sailor-wind")
	b.tap("#wind-sheet .close")
	b.tap("#open-more")
	b.tap("#sail-dark")
	b.looksOnPhones("sailor-more-dark")
	b.tap("#more-sheet .close")
	b.looksOnPhones("sailor-dark")
	b.js(`document.documentElement.classList.remove('dark'); 0`)

	d.set(func() {
		d.state = status("Wren", message{"twd_known": false, "twd_other": 164, "twa": nil, "share": nil, "target_kn": nil})
	})
	b.awaitText("#missing", "Not sure which side")
	b.looks("sailor-unknown")
	d.set(func() { d.state = status("Wren", nil) })
	d.tell(cue(2, message{"urgency": "danger", "words": "let the sheet go", "why": "heel 32°, and she is still going over", "clips": []string{"let-the-sheet-go"}}))
	b.awaitText("#warn", "Danger")
	b.looks("sailor-danger")
	d.tell(cue(3, message{"words": "no wind ahead, tack before the flat water", "why": "the trees to windward shade the next eighty metres; she has way enough to tack now", "urgency": "warning"}))
	b.awaitText("#words", "No wind ahead")
	b.looksOnPhones("sailor-long")
}

func TestLooksOfFollowing(t *testing.T) {
	t.Parallel()
	_, b := following(t)
	b.looks("instructor")
	b.tap("#boats li:nth-child(1) .open")
	b.awaitText("#boats li:nth-child(1) .angle", "38° on starboard")
	b.looks("instructor-open")
	b.tap("#say")
	b.looksOnPhones("instructor-say")
	b.tap("#say-sheet .close")
	b.tap("#set-wind")
	b.looks("instructor-wind")
}

// Every control can be reached and used with the keyboard alone, and shows where it is.
func TestKeyboardReachesEveryControl(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	b.js(`document.querySelector('#go').click()`)
	b.awaitText("#how", "listening")
	var want, got []string
	b.js(`[...document.querySelectorAll('#sail button')].filter((e) => e.checkVisibility()).map((e) => e.textContent)`, &want)
	for range len(want) + 3 {
		var id string
		b.do(key("Tab"))
		b.js(`(() => { const e = document.activeElement; return getComputedStyle(e).outlineStyle !== 'none' && e.matches('#sail button') ? e.textContent : ''; })()`, &id)
		if id != "" {
			got = append(got, id)
		}
	}
	for _, w := range want {
		found := false
		for _, g := range got {
			found = found || g == w
		}
		if !found {
			t.Errorf("the keyboard does not reach %q with a visible focus: %q", w, got)
		}
	}
	_ = d
}
