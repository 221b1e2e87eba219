import assert from 'node:assert/strict';
import { test } from 'node:test';
import { places, runs } from '../before/lake.js';

test('equal letters are one stretch and nothing is lost', () => {
  const row = '##..DDd??#';
  const parts = runs(row);
  assert.equal(parts.map((r) => r.letter.repeat(r.to - r.from)).join(''), row);
  assert.equal(parts.length, 6);
  assert.deepEqual(runs(''), []);
});

test('a place keeps its shape: a degree north is as long as one at the equator, east is shorter', () => {
  const p = places({ West: 10, East: 11, South: 59.5, North: 60.5 });
  const [x0, y0] = p.at(10, 60.5), [x1, y1] = p.at(11, 59.5);
  assert.equal(x0, 0);
  assert.equal(y0, 0);
  assert.ok(Math.abs((x1 - x0) / (y1 - y0) - 0.5) < 1e-9); // cos 60 degrees
  assert.ok(Math.abs(p.high - y1) < 1e-9);
});
