import assert from 'node:assert/strict';
import { test } from 'node:test';
import { BEATS, PERIOD, delayOf } from '../sense/beat.js';
import { fell, minutesLeft } from '../sense/battery.js';

const beats = [...Array(BEATS).keys()].map((i) => 1000 + i * PERIOD);

function dice(seed) {
  let s = seed;
  return () => (s = (s * 48271) % 2147483647) / 2147483647;
}

// A hand scatters by some 25 ms about its beat, and is 10 to 50 ms ahead (from memory).
test('a hand that knocks along tells the delay to 40 ms', () => {
  for (let seed = 1; seed <= 300; seed++) {
    const r = dice(seed);
    const delay = 20 + 380 * r();
    const ahead = 10 + 40 * r();
    const knocks = beats.map((b) => b + delay - ahead + 50 * (r() + r() - 1)).filter(() => r() > 0.1);
    const got = delayOf(beats, knocks);
    if (got === null) assert.ok(knocks.length < 7, `${seed}: nothing was told`);
    else assert.ok(Math.abs(got - delay / 1000) <= 0.045, `${seed}: ${got} for ${delay}`);
  }
});

test('a hand that does not goes for nothing', () => {
  assert.equal(delayOf(beats, []), null);
  assert.equal(delayOf(beats, beats.slice(0, 3)), null);
  assert.equal(delayOf(beats, beats.flatMap((b) => [b + 100, b + 300])), null, 'twice in every beat');
  for (let seed = 1, told = 0; seed <= 200; seed++) {
    const r = dice(seed * 13);
    if (delayOf(beats, beats.map((b) => b + PERIOD * (r() - 0.5))) !== null) told++;
    assert.ok(told <= 20, 'knocks at random are taken for a delay');
  }
});

test('how long the battery lasts', () => {
  let levels = [];
  const min = 60000;
  assert.equal(minutesLeft(levels, 0), null);
  for (let i = 0; i <= 10; i++) levels = fell(levels, { t: i * 3 * min, batt: 0.5 - 0.01 * i });
  assert.equal(minutesLeft(levels, 30 * min), 120); // a percent in three minutes, forty left
  assert.equal(minutesLeft(levels, 40 * min), 110);
  assert.deepEqual(fell(levels, { t: 31 * min, batt: 0.6 }), [{ t: 31 * min, batt: 0.6 }], 'charged');
  assert.equal(minutesLeft([{ t: 0, batt: 0.5 }, { t: 2 * min, batt: 0.48 }], 2 * min), null, 'too short a time');
});
