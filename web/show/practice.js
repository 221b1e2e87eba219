import { count, sentence } from './words.js';

/** @typedef {import('../link/messages.js').Exercise} Exercise */

/** What has ended is told for so long, ms. */
const ENDED = 60000;

/** @param {string} s */
const small = (s) => s.charAt(0).toLowerCase() + s.slice(1);

/** @param {Exercise} x */
const called = (x) => x.title || x.name.replaceAll('_', ' ');

/**
 * Whether there is still something to say of an exercise.
 * @param {Exercise|null|undefined} x @param {number} now by the clock that dated it
 * @returns {x is Exercise}
 */
export function underWay(x, now) {
  return x !== null && x !== undefined && (!['opened', 'skipped', 'over', 'void'].includes(x.phase) || now - x.t < ENDED);
}

/** @param {Exercise} x @returns {string} "two good of three" */
function tries(x) {
  if (!x.tries) return 'no try yet';
  return `${count(x.good ?? 0)} good of ${count(x.tries)}`;
}

/** @param {Exercise} x @returns {string} for whoever follows: "Practising square tacks, two good of three; step 2 of 7. Waits for the next try." */
export function practising(x) {
  if (x.phase === 'over') return `${sentence(x.text || 'the plan is done')}.`;
  const step = x.plan && x.steps ? `; step ${x.step} of ${x.steps}` : '';
  const first = { skipped: `Past ${small(called(x))}${step}.`, opened: `Done: ${small(called(x))}, ${tries(x)}${step}.`, resting: `Resting from ${small(called(x))}, ${tries(x)}${step}.` }[x.phase]
    ?? `Practising ${small(called(x))}, ${tries(x)}${step}.`;
  return x.text ? `${first} ${sentence(x.text)}.` : first;
}

/** @param {Exercise} x @returns {string} one plain line for the sailor: "Square tacks: waits for the next try. Two good of three." */
export function practice(x) {
  if (x.phase === 'over') return `${sentence(x.text || 'the plan is done')}.`;
  const text = x.text ? `: ${x.text}` : '';
  return `${called(x)}${text}. ${sentence(tries(x))}.`;
}
