import assert from 'node:assert/strict';
import { test } from 'node:test';
import { joined, sounding } from '../sound/trim.js';
import { arrived, ended, silent } from '../sound/turn.js';

test('what is below -60 dBFS at both ends is cut, and nothing between', () => {
  const x = Float32Array.from([0, 0.0009, -0.0005, 0.2, 0, 0, -0.002, 0.0009, 0]);
  assert.deepEqual(sounding(x), { from: 3, to: 7 });
  assert.deepEqual(sounding(new Float32Array(5)), { from: 5, to: 5 });
  assert.deepEqual(sounding(new Float32Array(0)), { from: 0, to: 0 });
  // -60 dBFS is a factor of a thousand: 20 log10(0.001) = -60.
  assert.deepEqual(sounding(Float32Array.from([0.00101])), { from: 0, to: 1 });
});

test('clips follow each other after exactly the gap', () => {
  const { starts, end } = joined([0.9, 1.1], 80, 10);
  assert.deepEqual(starts, [10, 10 + 0.9 + 0.08]);
  assert.ok(Math.abs(end - 12.08) < 1e-9);
});

const cue = (id, urgency = 'steer', expires = 1000) => ({ type: 'cue', id, urgency, expires });

test('one at a time, in the order they came', () => {
  let s = arrived(silent(), cue(1), 0);
  assert.equal(s.start.id, 1);
  s = arrived(s.turns, cue(2), 10);
  assert.equal(s.start, null);
  s = ended(s.turns, 500);
  assert.equal(s.start.id, 2);
  s = ended(s.turns, 600);
  assert.equal(s.start, null);
  assert.equal(s.turns.speaking, null);
});

test('an expired cue is dropped, never spoken late', () => {
  const s = arrived(silent(), cue(1, 'steer', 100), 101);
  assert.equal(s.start, null);
  assert.deepEqual(s.drop.map((c) => c.id), [1]);
});

test('a cue that expires while it waits is dropped', () => {
  let s = arrived(silent(), cue(1), 0);
  s = arrived(s.turns, cue(2, 'teach', 200), 10);
  s = arrived(s.turns, cue(3, 'teach', 5000), 10);
  s = ended(s.turns, 900);
  assert.deepEqual(s.drop.map((c) => c.id), [2]);
  assert.equal(s.start.id, 3);
});

test('danger cuts in at once and takes the place of what waits', () => {
  let s = arrived(silent(), cue(1), 0);
  s = arrived(s.turns, cue(2), 10);
  s = arrived(s.turns, cue(3, 'danger'), 20);
  assert.equal(s.start.id, 3);
  assert.equal(s.cut.id, 1);
  assert.deepEqual(s.drop.map((c) => c.id), [2]);
  s = arrived(s.turns, cue(4, 'danger'), 30);
  assert.equal(s.start, null, 'danger does not cut danger short');
  s = ended(s.turns, 40);
  assert.equal(s.start.id, 4);
});

// Whatever comes, each cue ends up spoken, cut or dropped exactly once.
test('no cue is forgotten or spoken twice', () => {
  for (let seed = 1; seed <= 200; seed++) {
    let s = seed;
    const r = () => (s = (s * 48271) % 2147483647) / 2147483647;
    let turns = silent();
    const begun = [];
    const dropped = [];
    const take = (step) => {
      turns = step.turns;
      if (step.start) begun.push(step.start.id);
      dropped.push(...step.drop.map((c) => c.id));
    };
    let now = 0;
    const n = 40;
    for (let id = 1; id <= n; id++) {
      now += r() * 400;
      take(arrived(turns, cue(id, r() < 0.2 ? 'danger' : 'steer', now + r() * 800 - 50), now));
      if (r() < 0.5 && turns.speaking) take(ended(turns, now));
    }
    while (turns.speaking) take(ended(turns, (now += 100)));
    assert.deepEqual([...begun, ...dropped].sort((a, b) => a - b), Array.from({ length: n }, (_, i) => i + 1));
  }
});
