import assert from 'node:assert/strict';
import { test } from 'node:test';
import { checklist, stillOpen } from '../sailing/check.js';
import { SURE, answersCheck, away, blank, carriage, heard, linked, sensed } from '../sailing/state.js';
import { card, header, missing } from '../sailing/view.js';

const health = { link: 'ok', deaf: false, sound: 'phone', compass: true };
const status = (over = {}) => ({ type: 'state', boat: 'Wren', t: 1, mode: 'close_hauled', twd: 240, twd_sd: 5, twd_lo: 232, twd_hi: 248, twd_known: true, twd_other: null, tws: 8, twa: 40, target_twa: 45, target_kn: 3, share: 0.8, heading: 200, sog: 2.4, health, turns: { tacks: 0, gybes: 0 }, ...over });
const cue = (over = {}) => ({ type: 'cue', boat: 'Wren', t: 1, id: 7, key: 'bear_away', words: 'bear away five degrees', why: 'twelve degrees too close', urgency: 'steer', expires: 9e12, clips: [], gapMs: 80, repeat: false, ...over });
const fix = (over = {}) => ({ lat: 0, lon: 0, acc: 4, sog: 3, cog: 100, at: 1, ...over });
const seen = (at, over = {}) => ({ at, fix: fix(), fixAge: 100, trouble: '', hdg: 100, tilt: true, batt: 0.9, ...over });
const sailing = () => ({ ...blank(), phase: 'sail', ready: true, sound: true, awake: 'yes', mounting: 'fixed', alone: 'ready', up: true, statusAt: 0, status: status(), sensed: seen(0) });

test('all well: nothing is missing', () => {
  assert.deepEqual(missing(sailing(), 1000), []);
});

const cases = [
  ['link lost', { up: false, upAt: 0 }, /Link lost 12 seconds ago. This phone speaks by itself; your track is kept/, 12000],
  ['link lost, no coach of its own', { up: false, upAt: 0, alone: 'none' }, /Link lost 12 seconds ago. No words until it is back/, 12000],
  ['never linked', { up: false, upAt: null, alone: 'speaks' }, /^No link. This phone speaks by itself/],
  ['no room', { journal: 'full' }, /No room on this phone/],
  ['long gap says how much is kept', { up: false, upAt: 0, waiting: 1200 }, /2 minutes so far/, 12000],
  ['no news', { statusAt: -9000 }, /says nothing/],
  ['wind unknown', { status: status({ twd: null, twd_known: false, twa: null }) }, /Wind not known.*point the phone/],
  ['side unknown', { status: status({ twd_known: false, twd_other: 100, twa: null }) }, /which side/],
  ['no position', { sensed: seen(0, { fix: null }) }, /No position/],
  ['old position', { sensed: seen(0, { fixAge: 20000 }) }, /No position/],
  ['position refused', { sensed: seen(0, { trouble: 'denied' }) }, /allow location/],
  ['sound off', { sound: false }, /Sound is off/],
  ['clips missing', { clipsMissing: 3 }, /3 clips did not load/],
  ['engine', { status: status({ mode: 'motoring' }) }, /no coaching/],
  ['capsized', { status: status({ mode: 'capsized' }) }, /calls nobody/],
  ['battery', { sensed: seen(0, { batt: 0.15 }) }, /Battery 15 %/],
  ['hot', { sensed: seen(0, { strain: 'The phone is slow.' }) }, /The phone is slow/],
  ['worn after all', { looks: 'worn' }, /swings as if worn: its heel and heading are not used/],
  ['fixed after all', { looks: 'fixed', mounting: 'worn' }, /lies still, as if fixed/],
  ['another page', { replaced: true, up: false }, /Another page/],
  ['screen may lock', { awake: 'no' }, /may lock/],
];
for (const [name, over, want, now = 100] of cases) {
  test(`missing: ${name}`, () => {
    const lines = missing({ ...sailing(), ...over }, now);
    assert.ok(lines.some((l) => want.test(l.text)), JSON.stringify(lines));
  });
}

test('a phone that swings otherwise than was said: asked once, and worn until it is answered', () => {
  const p = { ...sailing(), looks: 'worn' };
  assert.deepEqual(missing(p, 100).map((l) => l.acts), [['worn', 'fixed']]);
  assert.deepEqual([carriage(sailing()), carriage(p), carriage({ ...p, carriageSaid: true }), carriage({ ...p, looks: 'unknown' })], ['fixed', 'worn', 'fixed', 'fixed']);
  assert.deepEqual(missing({ ...p, carriageSaid: true }, 100), []);
  assert.deepEqual(missing({ ...p, mounting: 'worn' }, 100), []);
  // The other way round nothing is taken for granted: heel that is a body's is worse than none.
  assert.equal(carriage({ ...sailing(), mounting: 'worn', looks: 'fixed' }), 'worn');
});

test('muted, silence of this phone is no fault', () => {
  assert.deepEqual(missing({ ...sailing(), sound: false, muted: true }, 100), []);
});

test('how long it was deaf', () => {
  let p = away(sailing(), true, 1000);
  p = away(p, true, 2000); // told twice by the browser
  p = away(p, false, 41000);
  assert.deepEqual(p.deaf, { ms: 40000, at: 41000 });
  assert.ok(missing({ ...p, statusAt: 41000 }, 42000).some((l) => l.text === 'Deaf for 40 seconds while the page was away.'));
  assert.ok(!missing({ ...p, statusAt: 90000 }, 90000).some((l) => /Deaf/.test(l.text)));
});

test('the card fades, and frames what is dangerous', () => {
  const p = heard(sailing(), cue({ urgency: 'danger', words: 'let the sheet go' }), 1000);
  assert.deepEqual(card(p, 2000), { words: 'Let the sheet go', why: 'Twelve degrees too close', age: 'new', warn: 'Danger', ago: 'said just now' });
  assert.equal(card(p, 31000).age, 'fading');
  assert.equal(card(p, 90000).age, 'old');
  assert.equal(card(p, 90000).warn, '');
  assert.equal(card(sailing(), 0).age, 'none');
});

test('a token that no longer holds goes back to pairing', () => {
  const p = heard(sailing(), { type: 'error', code: 'bad_token', text: 'x' }, 0);
  assert.equal(p.phase, 'pair');
  assert.match(p.pairing, /Pair it again/);
});

test('other errors and notes are shown for a while', () => {
  const p = heard(sailing(), { type: 'error', code: 'not_recorded', text: 'disk full' }, 0);
  assert.ok(missing(p, 1000).some((l) => l.text === 'Disk full'));
  assert.ok(!missing({ ...p, statusAt: 60000 }, 60000).some((l) => l.text === 'Disk full'));
});

test('the compass is checked against the course only with way on', () => {
  let p = { ...sailing(), phase: 'check' };
  const item = () => checklist(p).find((i) => i.id === 'compass');
  for (let t = 500; t <= 20000; t += 500) p = sensed(p, seen(t, { fix: fix({ sog: 0.5 }) }));
  assert.equal(item().state, 'open');
  for (let t = 20500; t <= 20000 + SURE * 1000 + 1000; t += 500) p = sensed(p, seen(t, { hdg: 115 }));
  assert.equal(item().state, 'done');
  for (let t = 30000; t <= 60000; t += 500) p = sensed(p, seen(t, { hdg: 280 }));
  assert.match(item().text, /does not agree/);
  assert.ok(missing({ ...p, statusAt: 60000 }, 60000).some((l) => /compass does not agree/.test(l.text)));
});

test('what a phone has not got is said, and does not stay open', () => {
  const p = { ...blank(), phase: 'check', ready: true, mounting: 'fixed', awake: 'none', sensed: seen(4000, { hdg: undefined, tilt: false, batt: null }) };
  const by = Object.fromEntries(checklist(p).map((i) => [i.id, i.state]));
  assert.deepEqual([by.compass, by.level, by.awake, by.battery], ['never', 'never', 'never', undefined]);
});

test('all ticked is all ticked', () => {
  const p = { ...sailing(), phase: 'check', levelled: 'yes', heard: true, agree: SURE };
  assert.equal(stillOpen(p), 0, JSON.stringify(checklist(p).filter((i) => i.state === 'open')));
  assert.equal(stillOpen({ ...p, heard: false }), 1);
});

test('worn: no levelling, no compass', () => {
  const items = checklist({ ...sailing(), mounting: 'worn' });
  assert.equal(items.find((i) => i.id === 'level'), undefined);
  assert.equal(items.find((i) => i.id === 'compass').state, 'never');
});

test('two knocks answer the sound check, three do not, and later they are the engine’s', () => {
  const p = { ...sailing(), phase: 'check' };
  assert.ok(answersCheck(p, 2));
  assert.ok(!answersCheck(p, 3));
  assert.ok(!answersCheck({ ...p, heard: true }, 2));
  assert.ok(!answersCheck(sailing(), 2));
});

test('the top line says position and link', () => {
  assert.deepEqual(header({ ...sailing(), boat: 'Wren', level: 'improver' }, 100), { who: 'Wren · improver', how: 'position to 4 m · listening' });
  assert.match(header(linked(sailing(), false, 50), 100).how, /no link/);
});
