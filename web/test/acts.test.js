import assert from 'node:assert/strict';
import { test } from 'node:test';
import { pointedAt, windFix } from '../sailing/acts.js';
import { turned } from '../sense/compass.js';

const senses = (turn, over = {}) => ({ lie: turned(null, turn, 0), gravityUp: null, spin: null, fix: { lat: 1, lon: 2, acc: 4, at: 0 }, batt: null, screenAngle: 0, ...over });
const times = { now: 100, fixHeard: 0 };

test('pointed flat: the top of the phone is where the wind comes from', () => {
  const s = senses({ absolute: true, alpha: 45, beta: 0, gamma: 0 });
  assert.deepEqual(windFix(s, 'pointed', times), { type: 'wind_fix', t: 100, method: 'pointed', dir: 315, ref: 'mag', lat: 1, lon: 2 });
});

test('pointed upright: its back is', () => {
  assert.equal(pointedAt(senses({ absolute: true, alpha: 90, beta: 90, gamma: 0 }), 100), 270);
});

test('pointed without a compass says nothing', () => {
  assert.equal(windFix(senses({ absolute: false, alpha: 45, beta: 0, gamma: 0 }), 'pointed', times), null);
  const s = senses({ absolute: true, alpha: 45, beta: 0, gamma: 0 });
  assert.equal(windFix(s, 'pointed', { now: 5000, fixHeard: 0 }), null, 'a heading of five seconds ago');
});

test('head to wind carries no direction, and no old position', () => {
  const s = senses({ absolute: true, alpha: 45, beta: 0, gamma: 0 });
  assert.deepEqual(windFix(s, 'head_to_wind', { now: 60000, fixHeard: 0 }), { type: 'wind_fix', t: 60000, method: 'head_to_wind' });
});

test('a direction that rounds to 360 is 0', () => {
  assert.equal(pointedAt(senses({ absolute: true, alpha: 0.01, beta: 0, gamma: 0 }), 100), 0);
});
