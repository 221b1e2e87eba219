import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { test } from 'node:test';
import { rotation, upOf } from '../sense/attitude.js';
import { across, swung, unrest, unseen } from '../sense/carried.js';

/*
 * Simulated phones, ten readings a second. No recording of a worn one was to be had;
 * the figures are common practice, no source. A boat: gusts that heel her by five
 * degrees and more about what she sails at, waves of two to three and a half seconds,
 * a tack each one to four minutes, and a crew that shifts its weight fore and aft. A
 * body: sits, and each two to ten seconds bends, leans and turns anew within a second;
 * it keeps half upright in a boat that heels, and goes across her in a tack.
 */
const RATE = 10;

/** Numbers that look random and are the same every time. @param {number} seed */
function dice(seed) {
  let s = seed * 7919 + 1;
  return () => (s = (s * 48271) % 2147483647) / 2147483647;
}

const gauss = (r) => r() + r() + r() + r() + r() + r() - 3; // sd 0.71
const times = (a, b) => [0, 1, 2].flatMap((i) => [0, 1, 2].map((j) => a[3 * i] * b[j] + a[3 * i + 1] * b[3 + j] + a[3 * i + 2] * b[6 + j]));

/** Something that takes a new stand now and then, and gets there within a second or so. */
function stander(r, { sd, least, most, tau = 0.4 }) {
  let [at, to, next] = [0, 0, 0];
  return (t) => {
    if (t >= next) [to, next] = [1.4 * sd * gauss(r), t + least + (most - least) * r()];
    at += (to - at) * (1 - Math.exp(-1 / RATE / tau));
    return at;
  };
}

/** The attitude of a boat on a beat, and when she tacks. */
function boat(r, sea) {
  const gust = stander(r, { sd: 5, least: 3, most: 12, tau: 2 });
  const trim = stander(r, { sd: 1.8, least: 15, most: 60, tau: 1.5 });
  const helm = stander(r, { sd: 4, least: 4, most: 15, tau: 2 });
  const [a, b, c] = [6 * r(), 6 * r(), 6 * r()];
  let [side, tackAt, heading, heel] = [1, 30 + 200 * r(), 0, 15];
  return (t) => {
    if (t > tackAt) [side, tackAt] = [-side, t + 60 + 180 * r()];
    heading += (side * 45 - heading) * (1 - Math.exp(-1 / RATE / 2.5));
    heel += (side * 15 - heel) * (1 - Math.exp(-1 / RATE / 2));
    const wave = (amp, period, phase) => amp * Math.sin((2 * Math.PI * t) / period + phase + Math.sin(t / 7));
    return {
      heading: heading + helm(t) + wave(sea.yaw, 3.1, a),
      heel: heel + side * gust(t) + wave(sea.roll, 2.7, b),
      pitch: trim(t) + wave(sea.pitch, 2.2, c),
      tacking: Math.abs(side * 45 - heading) > 20,
    };
  };
}

const seas = { flat: { roll: 1, pitch: 1, yaw: 1 }, short: { roll: 4, pitch: 3, yaw: 3 }, rough: { roll: 9, pitch: 6, yaw: 6 } };
const bodies = { busy: { bend: 9, lean: 7, turn: 18 }, usual: { bend: 6, lean: 5, turn: 12 }, quiet: { bend: 2, lean: 2, turn: 4 } };

/** The readings of one phone. @param {{sea: object, body?: object, seconds: number, seed: number, sog?: number}} of */
function* phone({ sea, body, seconds, seed, sog = 3 }) {
  const r = dice(seed);
  const sails = boat(r, sea);
  const how = rotation({ alpha: 360 * r(), beta: 360 * r(), gamma: 180 * r() - 90 });
  const bend = body && stander(r, { sd: body.bend, least: 2, most: 10 });
  const lean = body && stander(r, { sd: body.lean, least: 2, most: 10 });
  const turn = body && stander(r, { sd: body.turn, least: 2, most: 8 });
  let before = null;
  for (let i = 0; i < seconds * RATE; i++) {
    const t = i / RATE;
    const b = sails(t);
    const keeps = body ? 0.5 : 1;
    const angles = { alpha: -b.heading, beta: keeps * b.pitch, gamma: keeps * b.heel };
    if (body) {
      angles.alpha -= turn(t) + (b.tacking ? 70 : 0);
      angles.beta += bend(t) + (b.tacking ? 25 : 0);
      angles.gamma += lean(t);
    }
    const now = times(rotation(angles), how);
    const back = before ?? now;
    const since = times([0, 3, 6, 1, 4, 7, 2, 5, 8].map((k) => back[k]), now); // what the phone turned by, in its own axes
    const spin = [since[7] - since[5], since[2] - since[6], since[3] - since[1]].map((v) => ((v / 2) * RATE * 180) / Math.PI + gauss(r));
    before = now;
    yield { t: 1e6 + t * 1000, up: upOf(now), spin, sog };
  }
}

/** @returns {{looks: string, at: number|null, ever: Set<string>}} what it looked like in the end, and when that was known first, s */
function seen(readings) {
  const c = unseen();
  const ever = new Set();
  let at = null;
  for (const x of readings) {
    swung(c, x);
    if (at === null && c.looks !== 'unknown') at = (x.t - 1e6) / 1000;
    ever.add(c.looks);
  }
  return { looks: c.looks, at, ever };
}

test('a fixed phone is not taken for a worn one', (t) => {
  const tries = 6;
  for (const [name, sea] of Object.entries(seas)) {
    let [worn, fixed] = [0, 0];
    for (let seed = 1; seed <= tries; seed++) {
      const { ever } = seen(phone({ sea, seconds: 1800, seed }));
      if (ever.has('worn')) worn++;
      if (ever.has('fixed')) fixed++;
    }
    t.diagnostic(`${name}: ${worn} of ${tries} half hours; known for fixed: ${fixed}`);
    assert.equal(worn, 0, name);
    if (name === 'flat') assert.ok(fixed >= 0.7 * tries, `${fixed} of ${tries} known for fixed`);
  }
});

test('a worn phone is recognised, and not taken for a fixed one', (t) => {
  const least = { busy: 1, usual: 0.6, quiet: 0 };
  const tries = 6;
  for (const [name, body] of Object.entries(bodies)) {
    let [worn, fixed] = [0, 0];
    const after = [];
    for (let seed = 1; seed <= tries; seed++) {
      const { at, ever } = seen(phone({ sea: Object.values(seas)[seed % 3], body, seconds: 1800, seed }));
      if (ever.has('worn')) worn++;
      if (ever.has('worn')) after.push(at);
      if (ever.has('fixed')) fixed++;
    }
    after.sort((a, b) => a - b);
    t.diagnostic(`${name}: ${worn} of ${tries} within half an hour${after.length ? `, half of them within ${(after[after.length >> 1] / 60).toFixed(1)} minutes` : ''}; taken for fixed: ${fixed}`);
    assert.equal(fixed, 0, name);
    assert.ok(worn >= least[name] * tries, `${name}: ${worn} of ${tries}`);
  }
});

// The simulator of the evaluation knows nothing of the above; its bodies lean and turn
// as slow noise without a quick move, which is too little to be sure of, and enough not
// to be taken for fixed.
for (const [scene, not] of Object.entries({ gusty: 'worn', novice: 'worn', worn: 'fixed', 'worn-shifty': 'fixed' })) {
  test(`the simulator's ${scene}`, (t) => {
    const said = spawnSync('go', ['run', './cmd/helmcue', 'sim', scene, '--out', '-', '--minutes', '30'], { cwd: new URL('../..', import.meta.url), maxBuffer: 1e8, encoding: 'utf8' });
    assert.equal(said.status, 0, said.stderr);
    const c = unseen();
    const ever = new Set();
    let sog = 0;
    for (const line of said.stdout.split('\n')) {
      if (!line.startsWith('{"type":"sample"')) continue;
      const m = JSON.parse(line);
      sog = m.sog ?? sog;
      const up = upOf(rotation({ alpha: 0, beta: m.pitch, gamma: m.heel }));
      swung(c, { t: m.t, up, spin: [0, 0, -m.yaw], sog });
      ever.add(c.looks);
    }
    t.diagnostic(`${scene}: ${[...ever].join(', ')}`);
    assert.ok(!ever.has(not), `taken for ${not}`);
  });
}

test('up that moves along one line spreads by nothing across it', () => {
  const ups = [...Array(41).keys()].map((i) => upOf(rotation({ alpha: 0, beta: 0, gamma: i - 20 })));
  assert.ok(across(ups) < 0.01, `${across(ups)}`);
  // Two equal swings at right angles: each has the standard deviation of a sine of ten degrees, 10/√2.
  const round = [...Array(360).keys()].map((i) => upOf(rotation({ alpha: 0, beta: 10 * Math.sin((i * Math.PI) / 180), gamma: 10 * Math.cos((i * Math.PI) / 180) })));
  assert.ok(Math.abs(across(round) - 10 / Math.SQRT2) < 0.1, `${across(round)}`);
});

test('a steady turn is no unrest, and one of the boat’s own is not looked at', () => {
  const at = (turns) => unrest({ ...unseen(), ups: [[0, 0, 1], [0, 0, 1]], turns });
  assert.ok(at([...Array(300).keys()].map((i) => i / 10)) < 1e-9);
  assert.ok(at([...Array(300).keys()].map((i) => (i < 150 ? 0 : 90))) < 1e-9);
  assert.ok(at([...Array(300).keys()].map((i) => 20 * Math.sin(i / 20))) > 0.9);
});

test('ashore, in a hand, or with gaps nothing is concluded', () => {
  const body = bodies.busy;
  assert.equal(seen(phone({ sea: seas.flat, body, seconds: 1800, seed: 3, sog: 0.5 })).looks, 'unknown');
  const c = unseen();
  let i = 0;
  for (const x of phone({ sea: seas.flat, body, seconds: 1800, seed: 3 })) swung(c, { ...x, t: x.t + 5000 * Math.floor(i++ / 250) });
  assert.equal(c.looks, 'unknown');
});
