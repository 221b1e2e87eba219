package web_test

import (
	"testing"
	"time"
)

// threeHours has the page's own gear sense, keep and write for three hours, faster
// than they go by: its clock is the test's, and so are the senses.
const threeHours = `(async () => {
	const { Gear } = await import('/sailing/gear.js');
	const to = Date.now() - 60000, from = to - 3 * 3600 * 1000;
	let t = from;
	const senses = { lie: null, gravityUp: null, spin: null, fix: null, batt: 0.9, screenAngle: 0 };
	const { rotation, upOf } = await import('/sense/attitude.js');
	let trouble = '';
	const gear = new Gear({ sensors: { senses }, now: () => t, join: () => ({}), heard: () => {}, made: () => {}, linked: () => {}, kept: (what) => { trouble = what; }, notBefore: () => {} });
	await gear.journal.open;
	const written = async (blocks) => {
		while (!trouble && gear.journal.blocks.length < blocks) await new Promise((f) => setTimeout(f));
	};
	const began = performance.now();
	for (let i = 0; t < to; i++, t += 100) {
		const r = rotation({ alpha: (i / 10) % 360, beta: 3 * Math.sin(i / 11), gamma: 12 * Math.sin(i / 300) + 2 * Math.sin(i / 13) });
		Object.assign(senses, { lie: { by: 'absolute', rotation: r, up: upOf(r), north: true, at: t }, spin: { spin: [Math.sin(i / 7), Math.cos(i / 9), 3 * Math.sin(i / 50)], at: t } });
		if (i % 10 === 0) senses.fix = { lat: 47.1 + i * 1.3e-6 % 0.01, lon: 8.2 + i * 1.1e-6 % 0.01, acc: 4.2, sog: 2.5 + Math.sin(i / 400), cog: (i / 10) % 360, at: t };
		gear.tick({ mount: null, mounting: 'fixed' });
		if (i % 10 === 9) await Promise.resolve().then(() => {}); // the second is taken up for writing
		if (i % 200 === 199) await written(i / 10 - 1); // and the disk is given time
	}
	await gear.write();
	await written(3 * 3600);
	const usage = await navigator.storage.estimate();
	return { blocks: gear.journal.blocks.length, samples: gear.queue.waiting, trouble, seconds: (performance.now() - began) / 1000, text: gear.queue.kept.reduce((n, k) => n + JSON.stringify(k).length, 0) / 1e6, disk: (usage.usageDetails?.indexedDB ?? 0) / 1e6 };
})()`

// A phone that was alone for three hours has all of it on its disk, also after the page
// was killed, and the service has all of it once the phone is home.
func TestThreeHoursAlone(t *testing.T) {
	t.Parallel()
	a := newAboard(t, coach(t))
	b := open(t, &double{Server: a.Server}, "/sailor#"+a.code)
	b.awaitText("#check-who", "linked")
	b.kept()
	a.cut()
	var was struct {
		Samples, Blocks     int
		Trouble             string
		Seconds, Text, Disk float64
	}
	b.js(threeHours, &was)
	if was.Samples != 3*36000 || was.Trouble != "" {
		t.Fatalf("%d samples are kept, trouble %q; want %d", was.Samples, was.Trouble, 3*36000)
	}
	if was.Blocks != 3*3600 {
		t.Errorf("written in %d blocks, want one a second", was.Blocks)
	}
	b.visit("/sailor") // killed, and opened again
	b.awaitText("#check-who", "no link")
	home := time.Now()
	a.mend()
	b.awaitText("#check-who", "linked")
	waitUntilFor(t, 100*time.Second, "three hours to come home", b.isHome)
	took := time.Since(home)
	ins, _ := a.read()
	if n := whole(t, ins, 0); n != was.Samples {
		t.Errorf("%d samples came home, want %d", n, was.Samples)
	}
	t.Logf("three hours are %.1f MB of text and %.1f MB on disk; written in %.0f s, home in %.0f s", was.Text, was.Disk, was.Seconds, took.Seconds())
}
