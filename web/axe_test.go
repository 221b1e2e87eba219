package web_test

import (
	"os"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// axe checks the page as it stands against the rules of axe-core (its version stands
// in package.json), which follow WCAG 2.2 of the W3C, levels A to AAA and good
// practice: names for screen readers, contrast, roles, order.
func (b *tab) axe(state string) {
	b.t.Helper()
	source, err := os.ReadFile("node_modules/axe-core/axe.min.js")
	if err != nil {
		b.t.Skip("axe-core is not here: make test fetches it, or cd web && npm ci")
	}
	var has bool
	b.js("typeof axe === 'object'", &has)
	if !has {
		b.do(chromedp.Evaluate(string(source)+"\n;0", nil))
	}
	var found struct {
		Passes int
		Wrong  []string
	}
	b.js(`(async () => {
		const r = await axe.run(document, { resultTypes: ['violations'], runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] });
		return { Passes: r.passes.length, Wrong: r.violations.flatMap((v) => v.nodes.map((n) => v.id + ': ' + n.html.slice(0, 120) + ' ' + n.failureSummary.replace(/\s+/g, ' ').slice(0, 200))) };
	})()`, &found)
	if found.Passes < 10 {
		b.t.Errorf("%s: axe looked at %d rules only", state, found.Passes)
	}
	for _, w := range found.Wrong {
		b.t.Errorf("%s: %s", state, w)
	}
}

// bothLooks checks the light and the dark look.
func (b *tab) bothLooks(state string) {
	b.t.Helper()
	b.axe(state)
	b.js("document.documentElement.classList.add('dark'); 0")
	b.axe(state + ", dark")
	b.js("document.documentElement.classList.remove('dark'); 0")
}

func TestAxeFindsNothing(t *testing.T) {
	t.Parallel()
	d := newDouble(t)
	d.set(func() { d.state = status("Wren", nil) })
	b := open(t, d, "/")
	for _, p := range []string{"/", "/install", "/install/iphone", "/install/android", "/sailor", "/before"} {
		b.visit(p)
		b.axe(p)
	}
	b.visit("/sailor#AB23CD")
	b.js("location.reload(); 0")
	b.tap("#fixed")
	b.bothLooks("before the tap")
	b.tap("#ready")
	d.await(t, "sample", "the first sample", func(m []message) bool { return len(m) > 0 })
	b.bothLooks("the checklist")
	b.tap("#go")
	b.bothLooks("sailing")
	d.tell(cue(7, message{"urgency": "danger"}))
	b.awaitText("#words", "Bear away")
	b.bothLooks("a danger")
	b.tap("#open-wind")
	b.bothLooks("the wind sheet")
	b.tap("#wind-sheet .close")
	b.tap("#open-more")
	b.bothLooks("more")
	b.do(press("#stop", 900*time.Millisecond, 0.8))
	b.awaitText("#stopped-says", "kept by the service")
	b.bothLooks("stopped")
}

func TestAxeFindsNothingWhereTheInstructorLooks(t *testing.T) {
	t.Parallel()
	d, b := following(t)
	b.bothLooks("three boats")
	d.tell(status("Wren", message{"health": message{"link": "lost", "deaf": false, "sound": "", "compass": false}}))
	b.awaitText("#boats", "link lost")
	b.bothLooks("one of them lost")
	b.tap("#boats li:nth-child(3) .open")
	b.awaitText("#boats li:nth-child(3) .angle", "95° on port")
	b.bothLooks("a line opened")
}

// axe itself is checked: it must complain of a page that is wrong.
func TestAxeComplains(t *testing.T) {
	t.Parallel()
	b := open(t, newDouble(t), "/install")
	b.js(`document.querySelector('main').innerHTML += '<button></button><p id="pale">pale</p>';
		document.querySelector('#pale').style.color = '#ccc'; 0`)
	source, err := os.ReadFile("node_modules/axe-core/axe.min.js")
	if err != nil {
		t.Skip("axe-core is not here: make test fetches it, or cd web && npm ci")
	}
	b.do(chromedp.Evaluate(string(source)+"\n;0", nil))
	var ids []string
	b.js(`axe.run(document).then((r) => r.violations.map((v) => v.id))`, &ids)
	if all := strings.Join(ids, " "); !strings.Contains(all, "button-name") || !strings.Contains(all, "color-contrast") {
		t.Errorf("it finds %q in a page with a nameless button and pale words", all)
	}
}

// Who asks for less motion gets none (WCAG 2.2, 2.3.3).
func TestReducedMotion(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	b.do(emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-reduced-motion", Value: "reduce"}}))
	b.tap("#go")
	d.tell(cue(7, nil))
	b.awaitText("#words", "Bear away")
	var moving []string
	b.js(`[...document.querySelectorAll('*')].filter((e) => {
		const s = getComputedStyle(e);
		return s.animationName !== 'none' || s.transitionDuration.split(',').some((d) => parseFloat(d) > 0.01);
	}).map((e) => e.id || e.className || e.tagName)`, &moving)
	if len(moving) > 0 {
		t.Errorf("these still move: %v", moving)
	}
}
