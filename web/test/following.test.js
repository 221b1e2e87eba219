import assert from 'node:assert/strict';
import { test } from 'node:test';
import { aimed, blow, turn, windAct, windFrom } from '../following/act.js';
import { blank, heard, help, line, targetWords, targets, title } from '../following/state.js';

const same = (t) => t;
const status = (boat, over = {}, sick = {}) => ({ type: 'state', boat, t: 1, mode: 'close_hauled', twd: 240, twd_sd: 6, twd_lo: 230, twd_hi: 250, twd_known: true, twd_other: null, tws: 9, twa: 40, target_twa: 45, target_kn: 3, share: 0.7, heading: 200, sog: 2, health: { link: 'ok', deaf: false, sound: 'phone', compass: true, acc: 4, ...sick }, turns: { tacks: 7, gybes: 0, bestLengths: 2.1 }, ...over });

function with3() {
  let p = blank();
  for (const b of ['Wren', 'Tern', 'Plover']) p = heard(p, status(b), 0, same);
  return p;
}

test('a boat is a sentence', () => {
  let p = heard(blank(), status('Wren', { told: { words: 'bear away five degrees', why: '', t: 1000, id: 1 } }), 9000, same);
  assert.deepEqual(line(p.learners[0], 9000), {
    name: 'Wren', help: '', going: 'Close-hauled on starboard, two of three knots.', practice: '',
    told: 'Told “bear away five degrees” 8 seconds ago. Seven tacks, best 2.1 lengths.', health: '',
  });
  p = heard(p, status('Wren', { twd_known: false, share: null, target_kn: null }), 9500, same);
  assert.equal(line(p.learners[0], 9500).going, 'Close-hauled on starboard, two knots. Her wind is not known.');
});

test('the order never changes, whoever speaks', () => {
  let p = with3();
  for (const b of ['Plover', 'Wren', 'Tern', 'Plover']) p = heard(p, status(b, { sog: 1 }), 5, same);
  assert.deepEqual(p.learners.map((l) => l.boat), ['Wren', 'Tern', 'Plover']);
  assert.equal(title(p), 'Three boats out');
});

const needs = [
  ['irons', { mode: 'irons' }, {}, 'in irons'],
  ['capsized', { mode: 'capsized' }, {}, 'capsized'],
  ['lost', {}, { link: 'lost' }, 'link lost'],
  ['deaf', {}, { deaf: true }, 'phone is deaf'],
  ['no sound', {}, { sound: 'failed' }, 'hears nothing'],
  ['well', {}, {}, ''],
];
for (const [name, over, sick, want] of needs) {
  test(`help: ${name}`, () => {
    const p = heard(blank(), status('Wren', over, sick), 0, same);
    assert.equal(help(p.learners[0], 100), want);
  });
}

test('a boat that was over and then falls silent keeps her alarm', () => {
  let p = heard(blank(), status('Wren', { mode: 'capsized' }), 0, same);
  p = heard(p, status('Wren', { mode: 'unknown' }, { link: 'lost' }), 1000, same);
  assert.equal(help(p.learners[0], 1000), 'capsized, then silent');
  p = heard(p, status('Wren', {}), 2000, same);
  assert.equal(help(p.learners[0], 2000), '');
});

test('a boat nobody speaks of any more is not called well', () => {
  const p = with3();
  assert.equal(help(p.learners[0], 30000), 'link lost');
  assert.match(line(p.learners[0], 30000).health, /not heard of for 30 s/i);
});

test('help counts from when it began', () => {
  let p = heard(blank(), status('Tern', { mode: 'irons' }), 1000, same);
  p = heard(p, status('Tern', { mode: 'irons' }), 15000, same);
  assert.equal(line(p.learners[0], 15000).help, 'in irons for 14 s');
});

test('health in words', () => {
  const p = heard(blank(), status('Wren', {}, { link: 'quiet', batt: 0.2, compass: false, acc: 40 }), 0, same);
  assert.equal(line(p.learners[0], 0).health, 'Link quiet, position only to 40 m, no compass, battery 20 %.');
});

test('a current that is sure is told in a line', () => {
  const p = heard(blank(), status('Wren', { set: 317, drift: 0.5 }), 0, same);
  assert.equal(line(p.learners[0], 0).health, 'The water sets towards 315° true, half a knot.');
  assert.match(line(heard(blank(), status('Wren', { set: 359, drift: 1 }), 0, same).learners[0], 0).health, /towards 000° true/);
});

test('acts are for one boat or for all', () => {
  const p = with3();
  assert.deepEqual(targets(p), ['Wren', 'Tern', 'Plover']);
  assert.equal(targetWords(p), 'all three boats');
  assert.deepEqual(targets({ ...p, to: 'Tern' }), ['Tern']);
});

test('the wind by large steps', () => {
  let w = windFrom(status('Wren', { twd: 357.6, tws: 8.6 }));
  assert.deepEqual(w, { dir: 0, kn: 9, ref: 'true' });
  w = turn(w, -5);
  assert.equal(w.dir, 355);
  w = turn(w, 30);
  assert.equal(w.dir, 25);
  assert.equal(blow({ ...w, kn: 2 }, -5).kn, 0);
  assert.deepEqual(windAct(w, 'Wren', 5), { type: 'act', t: 5, act: 'wind', boat: 'Wren', dir: 25, ref: 'true', kn: 9 });
  assert.deepEqual(aimed(w, 358), { dir: 0, kn: 9, ref: 'mag' });
});

test('what was not set is not sent', () => {
  const w = windFrom(undefined);
  assert.equal(windAct(w, 'Wren', 0), null);
  assert.deepEqual(windAct(blow(w, 1), 'Wren', 0), { type: 'act', t: 0, act: 'wind', boat: 'Wren', kn: 8 });
});
