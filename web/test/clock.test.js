import assert from 'node:assert/strict';
import { test } from 'node:test';
import { ServerTime } from '../link/servertime.js';
import { Steady } from '../link/steady.js';

/** Numbers that look random and are the same every time. @param {number} seed */
function dice(seed) {
  let s = seed;
  return () => (s = (s * 48271) % 2147483647) / 2147483647;
}

const START = 1.9e12;
const HOUR = 3600 * 1000;

/** A phone that was off by offset at the start and runs wrong by ppm. */
const phone = (offset, ppm) => (real) => real + offset + (real - START) * ppm * 1e-6;

// The service's time line is the truth; every second a message there and its answer
// back, each way held up by itself, now and then for seconds.
for (const ppm of [-200, -50, 0, 50, 200]) {
  test(`three hours with a phone that runs ${ppm} parts per million wrong`, (t) => {
    let worst = 0;
    for (let seed = 1; seed <= 12; seed++) {
      const r = dice(seed);
      const shows = phone(1e7 * (r() - 0.5), ppm);
      const jitter = 20 + 480 * r();
      const way = () => 3 + jitter * r() * r() + (r() < 0.02 ? 3000 * r() : 0);
      const time = new ServerTime();
      for (let real = START; real < START + 3 * HOUR; real += 1000) {
        const there = real + way();
        const back = there + way();
        time.sync(there, shows(real), shows(back));
        const off = Math.abs(time.there(shows(back)) - back);
        if (real > START + 30000) worst = Math.max(worst, off);
        assert.ok(Math.abs(time.here(time.there(shows(back))) - shows(back)) < 0.01, 'there and here are not each other’s way back');
      }
    }
    t.diagnostic(`at worst ${worst.toFixed(0)} ms off`);
    assert.ok(worst < 100, `${worst} ms off`);
  });
}

test('an hour without an answer: the drift that was learnt holds', () => {
  const shows = phone(5000, 120);
  const time = new ServerTime();
  for (let real = START; real < START + HOUR / 4; real += 1000) time.sync(real + 10, shows(real), shows(real + 20));
  const off = time.there(shows(START + 1.25 * HOUR)) - (START + 1.25 * HOUR);
  assert.ok(Math.abs(off) < 50, `${off} ms off`); // without it: 432
});

test('the service’s clock is set: believed after some answers, not after one', () => {
  const time = new ServerTime();
  for (let t = START; t < START + 60000; t += 1000) time.sync(t + 10, t, t + 20);
  time.sync(START + HOUR, START + 60000, START + 60020);
  assert.ok(Math.abs(time.there(START) - START) < 1);
  for (let t = START + 61000; t < START + 67000; t += 1000) time.sync(t - HOUR + 10, t, t + 20);
  assert.ok(Math.abs(time.there(START + 67000) - (START + 67000 - HOUR)) < 1);
});

test('one answer that took long moves nothing', () => {
  const time = new ServerTime();
  for (let t = START; t < START + 60000; t += 1000) time.sync(t + 10, t, t + 20);
  time.sync(START + 62900, START + 60000, START + 63000);
  assert.ok(Math.abs(time.there(START) - START) < 2);
});

test('the page’s time goes on evenly however its phone’s clock is set', () => {
  const r = dice(5);
  for (let story = 0; story < 200; story++) {
    let real = 0;
    let set = 0; // what was put on top of the phone's clock
    let slept = 0; // what the even clock missed
    const steady = new Steady({ wall: () => START + real + set, passed: () => real - slept });
    let before = steady.now();
    let woken = 0;
    for (let i = 0; i < 300; i++) {
      const passed = Math.floor(1000 * r());
      real += passed;
      if (r() < 0.05) set += (r() - 0.5) * 2 * HOUR;
      if (r() < 0.05) { // hidden, asleep, and back
        const sleep = Math.floor(60000 * r());
        real += sleep;
        slept += sleep;
        steady.woke();
        woken++;
        assert.ok(steady.now() >= before, 'it fell');
      } else assert.ok(Math.abs(steady.now() - before - passed) <= 1, 'a clock that was set was followed');
      before = steady.now();
    }
    assert.ok(woken > 0);
  }
});

test('after sleep the time is the phone’s again, and after a reload not before what was written', () => {
  let real = 0;
  let slept = 0;
  const steady = new Steady({ wall: () => START + real, passed: () => real - slept });
  real += 600000;
  slept += 590000;
  steady.woke();
  assert.equal(steady.now(), START + 600000);
  steady.notBefore(START + 1000);
  assert.equal(steady.now(), START + 600000);
  steady.notBefore(START + 700000);
  real += 5;
  assert.equal(steady.now(), START + 700005);
});
