import { span } from '../show/words.js';

/**
 * The sail in a few sentences, from what was shown while it went on: for the
 * phone that was alone. The whole debrief is the service's.
 *
 * @typedef {object} Sum
 * @property {number|null} from ms
 * @property {number} to
 * @property {number} share sum of the shares of the speed she could do
 * @property {number} shares how many
 * @property {number} tacks
 * @property {number} gybes
 * @property {number|null} best lengths lost in the best tack
 * @property {number} cues
 */

/** @returns {Sum} */
export function nothing() {
  return { from: null, to: 0, share: 0, shares: 0, tacks: 0, gybes: 0, best: null, cues: 0 };
}

/** @param {Sum} s @param {import('../link/messages.js').State} m @param {number} at @returns {Sum} */
export function went(s, m, at) {
  const known = m.share !== null && m.share !== undefined;
  return { ...s, from: s.from ?? at, to: at, share: s.share + (known ? /** @type {number} */ (m.share) : 0), shares: s.shares + (known ? 1 : 0) };
}

/** @param {Sum} s @param {import('../link/messages.js').Manoeuvre} m @returns {Sum} */
export function turned(s, m) {
  if (m.kind === 'gybe') return { ...s, gybes: s.gybes + 1 };
  const lost = m.lost_lengths ?? null;
  const best = lost !== null && (s.best === null || lost < s.best) ? lost : s.best;
  return { ...s, tacks: s.tacks + 1, best };
}

/** @param {Sum} s @returns {Sum} */
export function told(s) {
  return { ...s, cues: s.cues + 1 };
}

/** @param {Sum} s @returns {string[]} */
export function sentences(s) {
  if (s.from === null) return [];
  const out = [`You sailed ${span(s.to - s.from)}.`];
  if (s.shares > 60) out.push(`On the whole she made ${Math.round((s.share / s.shares) * 20) * 5} % of the speed she could do.`);
  if (s.tacks) out.push(`${count(s.tacks, 'tack')}${s.best === null ? '' : `; the best cost ${Math.max(0, s.best).toFixed(1)} boat lengths`}.`);
  if (s.gybes) out.push(`${count(s.gybes, 'gybe')}.`);
  out.push(s.cues ? `It spoke ${['', 'once', 'twice'][s.cues] ?? `${s.cues} times`}.` : 'It said nothing.');
  return out;
}

/** @param {number} n @param {string} what */
function count(n, what) {
  return `${n} ${what}${n === 1 ? '' : 's'}`;
}
