import assert from 'node:assert/strict';
import { test } from 'node:test';
import { blank as follows, heard as followed, line } from '../following/state.js';
import { blank, heard } from '../sailing/state.js';
import { practice, practising, underWay } from '../show/practice.js';

const drill = (over = {}) => ({ t: 1000, name: 'square_tacks', title: 'Square tacks', phase: 'waiting', text: 'waits for the next try', tries: 3, good: 2, ...over });

test('an exercise in a sentence, for whoever follows', () => {
  assert.equal(practising(drill()), 'Practising square tacks, two good of three. Waits for the next try.');
  assert.equal(practising(drill({ tries: 0, good: 0, text: '', plan: 'to-windward', step: 2, steps: 7 })), 'Practising square tacks, no try yet; step 2 of 7.');
  assert.equal(practising(drill({ phase: 'over', text: 'all 7 steps of the plan are done' })), 'All 7 steps of the plan are done.');
  assert.equal(practising(drill({ phase: 'skipped', text: 'left out: there is no position' })), 'Past square tacks. Left out: there is no position.');
});

test('one plain line for the sailor, without a title by its name', () => {
  assert.equal(practice(drill()), 'Square tacks: waits for the next try. Two good of three.');
  assert.equal(practice(drill({ title: undefined, text: undefined, tries: undefined })), 'square tacks. No try yet.');
});

test('what has ended is told for a minute, what goes on for as long as it does', () => {
  assert.equal(underWay(drill({ phase: 'over' }), 60000), true);
  assert.equal(underWay(drill({ phase: 'over' }), 62000), false);
  assert.equal(underWay(drill({ phase: 'trying' }), 9e6), true);
  assert.equal(underWay(null, 0), false);
});

const state = (over) => ({ type: 'state', boat: 'Wren', t: 2000, mode: 'reaching', share: null, sog: 2, twa: 90, health: { link: 'ok', acc: 3, compass: true }, turns: { tacks: 0, gybes: 0 }, ...over });

test("the learner's line has it", () => {
  const p = followed(follows(), state({ exercise: drill() }), 5, (t) => t);
  assert.equal(line(p.learners[0], 6).practice, 'Practising square tacks, two good of three. Waits for the next try.');
  assert.equal(line(followed(p, state({}), 7, (t) => t).learners[0], 8).practice, '');
});

test('the sailor hears of it from the service or from the own engine', () => {
  let p = heard(blank(), state({ exercise: drill() }), 5000);
  assert.equal(p.exercise.good, 2);
  p = heard(p, state({ exercise: drill() }), 9000);
  assert.equal(p.heardAt, 5000); // a repeated word is not a new one
  p = heard(p, { type: 'exercise', ...drill({ t: 3000, good: 3 }) }, 9500);
  assert.equal(p.exercise.good, 3);
  p = heard(p, state({ health: undefined }), 9600); // a state of the own engine tells nothing of exercises
  assert.equal(p.exercise.good, 3);
  p = heard(p, state({}), 9700);
  assert.equal(p.exercise, null);
});
