package web_test

import (
	"testing"

	"github.com/chromedp/chromedp"
)

// drawn opens the sailor's page without its scripts, to draw states of the test's own:
// what takes minutes or a hot day to come about.
func drawn(t *testing.T) *tab {
	t.Helper()
	b := open(t, newDouble(t), "/")
	b.js(`fetch('/sailor').then((r) => r.text()).then((html) => { document.documentElement.innerHTML = html; })`) // what is put in so does not run
	b.do(chromedp.WaitReady("#missing", chromedp.ByQuery))
	return b
}

func (b *tab) draw(over string) {
	b.t.Helper()
	b.js(`Promise.all([import('/sailing/state.js'), import('/sailing/page.js')]).then(([{ blank }, { update }]) => {
		const status = { type: 'state', mode: 'close_hauled', twd: 240, twd_sd: 5, twd_lo: 232, twd_hi: 248, twd_known: true, tws: 9, twa: 38, target_twa: 45, target_kn: 3, share: 0.68, heading: 202, sog: 2, health: {}, turns: {} };
		const sensed = { at: Date.now(), fix: { lat: 47, lon: 8, acc: 4, at: 1 }, fixAge: 100, trouble: '', hdg: 200, tilt: true, batt: 0.6 };
		update({ ...blank(), phase: 'sail', ready: true, boat: 'Wren', sound: true, awake: 'yes', mounting: 'fixed', alone: 'ready', up: true, statusAt: Date.now(), status, sensed, ...(` + over + `)(sensed) }, Date.now());
	})`)
}

func TestLooksOfAQuestionAndOfHeat(t *testing.T) {
	t.Parallel()
	b := drawn(t)
	b.draw(`() => ({ looks: 'worn' })`)
	b.awaitText("#missing", "Is it worn?")
	b.looksOn("sailor-worn", sizes()[:4]) // with twice the text it stands above the acts only once it is scrolled
	b.draw(`(sensed) => ({ sensed: { ...sensed, strain: 'The phone is slow and its battery falls fast: it is probably hot, which no browser tells. Shade it, take it out of its case and use the dark screen.' } })`)
	b.awaitText("#missing", "probably hot")
	b.looks("sailor-hot")
}

// The answer to the question holds for every sample from there on.
func TestAnsweringHowThePhoneIsCarried(t *testing.T) {
	t.Parallel()
	d, b := sailing(t, "fixed")
	b.tap("#go")
	answer := func(act string) {
		b.js(`(() => {
			const button = Object.assign(document.createElement('button'), { type: 'button' });
			button.dataset.act = '` + act + `';
			document.getElementById('missing').append(button);
			button.click();
		})()`)
		last(t, d, "a sample of a phone that is "+act, func(m message) bool { return m["mount"] == act })
	}
	answer("worn")
	answer("fixed")
}
