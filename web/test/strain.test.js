import assert from 'node:assert/strict';
import { test } from 'node:test';
import { fell } from '../sense/battery.js';
import { fallAnHour, rested, strained, ticked } from '../sense/strain.js';

const MINUTE = 60000;

/** The pace of a page whose ticks come so far apart. @param {(i: number) => number} gap ms */
function pace(gap, minutes = 3) {
  const s = rested();
  let t = 1e6;
  for (let i = 0; t < 1e6 + minutes * MINUTE; i++) ticked(s, t += gap(i));
  return s.pace;
}

test('a page that keeps pace is not slow, one that is slowed down is, within a minute', () => {
  assert.ok(Math.abs(pace(() => 100) - 10) < 0.1);
  assert.equal(strained(pace((i) => (i % 20 ? 100 : 300)), null), '', 'a stumble now and then');
  const slow = pace(() => 170, 1.1);
  assert.match(strained(slow, null), /^The phone is slow, 6 readings a second of ten: it may be hot, which no browser tells\. Shade it/);
});

test('a page that was hidden was not slow', () => {
  assert.ok(Math.abs(pace((i) => (i === 300 ? 40000 : 100)) - 10) < 0.1);
  assert.equal(pace((i) => (i % 100 ? 100 : 5000)), null, 'too little of it to tell');
});

/** A battery that falls evenly, told in whole percents. @param {number} hours from full to empty @param {number} minutes */
function levels(hours, minutes) {
  let out = [];
  for (let t = 0; t <= minutes * MINUTE; t += 10000) out = fell(out, { t, batt: Math.round(100 - (t / MINUTE / 60 / hours) * 100) / 100 });
  return fallAnHour(out, minutes * MINUTE);
}

test('a battery that lasts less than three hours falls fast, one that lasts longer does not', () => {
  for (const hours of [1.5, 2, 2.5]) {
    const fall = levels(hours, 20);
    assert.ok(Math.abs(fall * hours - 1) < 0.1, `${fall}, is ${1 / hours}`);
    assert.match(strained(10, fall), /^The battery falls by \d\d % an hour.*Shade it, take it out of its case and use the dark screen\.$/);
  }
  for (const hours of [4, 6, 10]) assert.equal(strained(10, levels(hours, 40)), '');
});

test('of too short a time nothing is said, nor of a battery that is charged', () => {
  assert.equal(levels(1, 1), null);
  assert.equal(fallAnHour([], 0), null);
  assert.equal(fallAnHour(fell([{ t: 0, batt: 0.5 }, { t: 20 * MINUTE, batt: 0.4 }], { t: 21 * MINUTE, batt: 0.41 }), 22 * MINUTE), null);
});

test('both together are one sentence', () => {
  assert.match(strained(5, 0.5), /^The phone is slow and its battery falls fast: it is probably hot/);
  assert.equal(strained(null, null), '');
});
