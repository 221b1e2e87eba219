import assert from 'node:assert/strict';
import { test } from 'node:test';
import { headingOf } from '../sense/attitude.js';
import { turned } from '../sense/compass.js';
import { deaf, knocked } from '../sense/knocks.js';
import { fixFrom } from '../sense/position.js';
import { Sampler, firstSeq, motion } from '../sense/sample.js';

const top = [0, 1, 0];

test('the absolute event gives a heading', () => {
  const lie = turned(null, { absolute: true, alpha: 270, beta: 0, gamma: 0 }, 0);
  assert.equal(lie.by, 'absolute');
  assert.ok(Math.abs(headingOf(lie.rotation, top) - 90) < 1e-9);
});

test('a phone without the sensor sends nulls, which are no heading', () => {
  assert.equal(turned(null, { absolute: true, alpha: null, beta: null, gamma: null }, 0), null);
  assert.equal(turned(null, { absolute: false, alpha: null, beta: null, gamma: null }, 0), null);
});

test('the compass property: 0 is north, not missing', () => {
  const lie = turned(null, { absolute: false, alpha: 123, beta: 5, gamma: 0, compass: 0, compassAccuracy: 10 }, 0);
  assert.equal(lie.by, 'compass');
  assert.ok(lie.north);
  const h = headingOf(lie.rotation, top);
  assert.ok(h < 1e-6 || h > 360 - 1e-6, `got ${h}`);
});

test('the compass property gains the screen angle: the top of a page on its side', () => {
  const lie = turned(null, { absolute: false, alpha: 5, beta: 0, gamma: 0, compass: 350 }, 0);
  const s = { lie, gravityUp: null, spin: null, fix: null, batt: null, screenAngle: 90 };
  assert.equal(motion(s, null, 0).hdg, 80); // 350 + 90
});

test('a compass that is not calibrated gives no heading', () => {
  const lie = turned(null, { absolute: false, alpha: 5, beta: 1, gamma: 2, compass: 90, compassAccuracy: -1 }, 0);
  assert.equal(lie.by, 'relative');
  assert.ok(!lie.north);
});

test('relative events do not push a fresh compass aside, but outlive a dead one', () => {
  const compass = turned(null, { absolute: true, alpha: 10, beta: 0, gamma: 0 }, 0);
  const turn = { absolute: false, alpha: 80, beta: 1, gamma: 0 };
  assert.equal(turned(compass, turn, 500), compass);
  assert.equal(turned(compass, turn, 5000).by, 'relative');
});

test('relative orientation still gives heel and pitch, and no heading', () => {
  const lie = turned(null, { absolute: false, alpha: 77, beta: -4, gamma: 15 }, 0);
  const m = motion({ lie, gravityUp: null, spin: null, fix: null, batt: null, screenAngle: 0 }, null, 10);
  assert.equal(m.hdg, undefined);
  assert.equal(m.hdgRef, undefined);
  assert.ok(Math.abs(m.heel - 15) < 0.2, `heel ${m.heel}`);
});

test('gravity alone gives heel', () => {
  const up = [-Math.sin(Math.PI / 9), 0, Math.cos(Math.PI / 9)];
  const m = motion({ lie: null, gravityUp: up, spin: { spin: [0, 0, -6], at: 0 }, fix: null, batt: null, screenAngle: 0 }, null, 100);
  assert.equal(m.heel, 20);
  assert.ok(m.yaw > 5.5);
});

test('an orientation that stopped coming is absent, not repeated', () => {
  const lie = turned(null, { absolute: true, alpha: 10, beta: 0, gamma: 0 }, 0);
  assert.deepEqual(motion({ lie, gravityUp: null, spin: null, fix: null, batt: null, screenAngle: 0 }, null, 1500), {});
});

test('a heading that rounds to 360 is 0', () => {
  const lie = turned(null, { absolute: true, alpha: 0.02, beta: 0, gamma: 0 }, 0);
  assert.equal(motion({ lie, gravityUp: null, spin: null, fix: null, batt: null, screenAngle: 0 }, null, 0).hdg, 0);
});

test('a position goes out once, and absent stays absent', () => {
  const sampler = new Sampler(5);
  const s = { lie: null, gravityUp: null, spin: null, fix: { lat: 1, lon: 2, acc: 4, at: 77 }, batt: 0.5, screenAngle: 0 };
  const how = { mount: null, mounting: 'worn' };
  const a = sampler.next(s, how, 1000);
  assert.deepEqual(a, { t: 1000, seq: 5, lat: 1, lon: 2, acc: 4, batt: 0.5, mount: 'worn' });
  const b = sampler.next(s, how, 1100);
  assert.deepEqual(b, { t: 1100, seq: 6, mount: 'worn' });
  s.fix = { ...s.fix, at: 78 };
  assert.equal(sampler.next(s, how, 1200).lat, 1);
});

test('a page loaded again goes on counting where samples could have got to', () => {
  assert.ok(firstSeq(1764075000000 + 60000) >= firstSeq(1764075000000) + 600);
});

test('speed is in knots, and unknown is not zero', () => {
  // A knot is 1852 m an hour (BIPM, SI Brochure 8th edition, table 8).
  const p = { coords: { latitude: 47.1, longitude: 8.2, accuracy: 4.44, speed: 1852 / 3600, heading: 359.96 }, timestamp: 9 };
  assert.deepEqual(fixFrom(p), { lat: 47.1, lon: 8.2, acc: 4.4, at: 9, sog: 1, cog: 0 });
  const still = { coords: { latitude: 0, longitude: 0, accuracy: 5, speed: 0, heading: NaN }, timestamp: 1 };
  assert.deepEqual(fixFrom(still), { lat: 0, lon: 0, acc: 5, at: 1, sog: 0 });
  const unknown = { coords: { latitude: 0, longitude: 0, accuracy: 5, speed: null, heading: null }, timestamp: 1 };
  assert.deepEqual(fixFrom(unknown), { lat: 0, lon: 0, acc: 5, at: 1 });
  assert.equal(fixFrom({ coords: { latitude: NaN, longitude: 0, accuracy: 5, speed: null, heading: null }, timestamp: 1 }), null);
});

// Feeds sixty readings a second for some seconds, spikes at the given times.
function listen(spikes, { size = 20, ring = 30, base = 0.5, seconds = 5 } = {}) {
  const h = deaf();
  const heard = [];
  for (let t = 0; t < seconds * 1000; t += 1000 / 60) {
    const at = spikes.some((s) => t >= s && t < s + ring) ? size : base;
    const n = knocked(h, t, at);
    if (n) heard.push(n);
  }
  return heard;
}

test('two and three knocks are told, once', () => {
  assert.deepEqual(listen([1500, 1800]), [2]);
  assert.deepEqual(listen([1500, 1800, 2100]), [3]);
  assert.deepEqual(listen([1500, 2100]), [2]);
});

test('what is not clearly a knock is ignored', () => {
  assert.deepEqual(listen([1500]), [], 'one');
  assert.deepEqual(listen([1500, 1700, 1900, 2100]), [], 'four');
  assert.deepEqual(listen([1500, 1800], { size: 7 }), [], 'soft');
  assert.deepEqual(listen([1500, 1800], { ring: 250 }), [], 'pushes, waves');
  assert.deepEqual(listen([1500, 1580]), [], 'too close together: a rattle');
  assert.deepEqual(listen([1500, 2600]), [], 'two single ones');
  assert.deepEqual(listen([100, 400, 1000, 1300, 1900, 2200, 2800, 3100]), [], 'slamming');
});

test('a steady shake is never a knock', () => {
  const h = deaf();
  for (let t = 0; t < 20000; t += 16) assert.equal(knocked(h, t, 12 + 8 * Math.sin(t / 40)), 0);
});
