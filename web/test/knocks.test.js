import assert from 'node:assert/strict';
import { test } from 'node:test';
import { deaf, knocked } from '../sense/knocks.js';

/*
 * Simulated motion of a case strapped to a small boat, sixty readings a second. No
 * recording of one was to be had; the figures are common practice, no source: short
 * waves of 0.3 to 1 Hz up to a third of gravity, chop of 2 to 4 Hz, slams of 8 to
 * 40 m/s² that rise within 20 to 60 ms and ring at 6 to 14 Hz, a flogging sail that
 * shakes at 5 to 9 Hz. A knock is a blow of 12 to 45 m/s², which the sensor's own filter
 * (half its sixty readings) spreads over 30 to 50 ms.
 */
const RATE = 60;

/** @param {number} seed */
function dice(seed) {
  let s = seed;
  return () => (s = (s * 48271) % 2147483647) / 2147483647;
}

/** Damped ringing after a blow at t0. */
const ring = (t, t0, { size, rise, hz, decay }) => {
  const s = t - t0;
  if (s < 0 || s > 1.5) return 0;
  if (s < rise) return size * Math.sin((Math.PI / 2) * (s / rise));
  return size * Math.exp(-(s - rise) / decay) * Math.cos(2 * Math.PI * hz * (s - rise));
};

/**
 * The size of the acceleration over some seconds.
 * @param {{seconds: number, seed: number, waves: number, chop: number, slams: number, flog: number, knocks?: number[]}} sea slams a minute
 */
function* motion({ seconds, seed, waves, chop, slams, flog, knocks = [] }) {
  const r = dice(seed);
  const blows = [];
  for (let t = 0; slams > 0 && t < seconds;) {
    // Slams come with the waves: several in a row, a wave apart, then a lull.
    const row = 1 + Math.floor(r() * 4);
    const period = 0.7 + r() * 1.6;
    for (let i = 0; i < row; i++) {
      const at = t + i * period * (0.85 + 0.3 * r());
      blows.push({ at, size: 8 + 32 * r() * r(), rise: 0.02 + 0.04 * r(), hz: 6 + 8 * r(), decay: 0.05 + 0.15 * r() });
      if (r() < 0.3) blows.push({ at: at + 0.12 + 0.3 * r(), size: 6 + 14 * r(), rise: 0.02 + 0.04 * r(), hz: 6 + 8 * r(), decay: 0.05 + 0.1 * r() });
    }
    t += (row * 60 / slams) * (0.5 + r());
  }
  const hand = 16 + 20 * r(); // one hand knocks about as hard each time
  for (const at of knocks) blows.push({ at, size: hand * (0.75 + 0.5 * r()), rise: 0.015, hz: 6, decay: 0.01 + 0.01 * r() });
  blows.sort((a, b) => a.at - b.at);
  const [h1, h2, h3] = [0.3 + 0.4 * r(), 0.6 + 0.5 * r(), 2 + 2 * r()];
  let from = 0;
  for (let i = 0; i < seconds * RATE; i++) {
    const t = i / RATE;
    while (from < blows.length && blows[from].at < t - 1.6) from++;
    let a = waves * (0.7 * Math.sin(2 * Math.PI * h1 * t) + 0.3 * Math.sin(2 * Math.PI * h2 * t + 1)) + chop * Math.sin(2 * Math.PI * h3 * t + 2 * Math.sin(t));
    for (let k = from; k < blows.length && blows[k].at <= t; k++) a += ring(t, blows[k].at, blows[k]);
    if (flog && Math.floor(t / 6) % 3 === 0) a += flog * Math.sin(2 * Math.PI * (5 + 4 * Math.abs(Math.sin(t / 3))) * t) * (0.5 + 0.5 * r());
    yield { t: t * 1000, a: Math.abs(a + 0.5 * (r() + r() - 1)) };
  }
}

/** @param {Parameters<typeof motion>[0]} sea @returns {{n: number, t: number}[]} */
function heard(sea) {
  const h = deaf();
  const out = [];
  for (const { t, a } of motion(sea)) {
    const n = knocked(h, t, a);
    if (n) out.push({ n, t });
  }
  return out;
}

const seas = {
  'flat water': { waves: 0.5, chop: 0.3, slams: 0, flog: 0 },
  'a short sea': { waves: 2, chop: 1.5, slams: 0, flog: 0 },
  'a slam now and then': { waves: 2.5, chop: 1.5, slams: 4, flog: 0 },
  'slamming all the way': { waves: 3, chop: 2, slams: 25, flog: 0 },
  'flogging sails': { waves: 1, chop: 1, slams: 2, flog: 8 },
};
/** False answers an hour that may be. Two knocks only say the last cue again; three keep the coach quiet, and must be rarer. */
const MOST = { 'flat water': 0, 'a short sea': 0, 'a slam now and then': 2, 'slamming all the way': 10, 'flogging sails': 2 };
const MOST_THREES = 0.5;

for (const [name, sea] of Object.entries(seas)) {
  test(`false knocks: ${name}`, (t) => {
    const hours = 6;
    const all = [];
    for (let seed = 1; seed <= hours; seed++) all.push(...heard({ ...sea, seconds: 3600, seed }));
    const threes = all.filter((k) => k.n === 3).length;
    t.diagnostic(`${(all.length / hours).toFixed(2)} an hour, of them three knocks ${(threes / hours).toFixed(2)}`);
    assert.ok(all.length / hours <= MOST[name] && threes / hours <= MOST_THREES, `${all.length} in ${hours} hours, ${threes} of them threes`);
  });
}

test('true knocks are heard, two as two and three as three', (t) => {
  for (const [name, least] of [['flat water', 0.75], ['a short sea', 0.5], ['a slam now and then', 0.35]]) {
    let right = 0;
    let wrong = 0;
    const tries = 400;
    for (let i = 1; i <= tries; i++) {
      const r = dice(i * 7);
      const want = i % 2 ? 2 : 3;
      const gap = 0.22 + 0.25 * r();
      const start = 6 + r();
      const knocks = [...Array(want).keys()].map((k) => start + k * gap * (0.9 + 0.2 * r()));
      knocks.sort((a, b) => a - b);
      const got = heard({ ...seas[name], seconds: 12, seed: i, knocks }).filter((k) => k.t > 6000);
      if (got.length === 1 && got[0].n === want) right++;
      else if (got.length) wrong++;
    }
    t.diagnostic(`${name}: ${Math.round((100 * right) / tries)} % heard rightly, ${((100 * wrong) / tries).toFixed(1)} % wrongly`);
    assert.ok(right / tries >= least, `${name}: ${right} of ${tries}`);
    assert.ok(wrong / tries <= 0.02, `${name}: ${wrong} of ${tries} taken for another number`);
  }
});
