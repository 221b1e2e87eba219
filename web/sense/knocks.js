/**
 * Knocks on the case, from spikes of acceleration. Better to miss one than to
 * take a wave for an answer: a knock that is not clearly one is ignored. The
 * figures are from trying phones by hand (common practice, no source).
 */
export const SPIKE = 9; // m/s², far above what a small boat does in a hundredth of a second
export const CALM = 4; // m/s², what it must fall below between knocks
export const LONGEST = 120; // ms a knock may ring
export const NEAREST = 140; // ms between the starts of two knocks, at least
export const FARTHEST = 700; // ms between them, at most
export const BEFORE = 800; // ms without a spike before the first

/** @typedef {{spikes: number[], above: number|null, spoilt: number}} Hearing */

/** @returns {Hearing} */
export function deaf() {
  return { spikes: [], above: null, spoilt: -Infinity };
}

/**
 * Takes the next reading.
 * @param {Hearing} h changed in place: it is called sixty times a second
 * @param {number} t ms
 * @param {number} a size of the acceleration without gravity, m/s²
 * @returns {number} 2 or 3 once that many knocks are clearly over, else 0
 */
export function knocked(h, t, a) {
  if (h.above !== null) {
    if (t - h.above > LONGEST) spoil(h, t); // a push, a wave, a drop: not a knock
    else if (a < CALM) h.above = null;
    if (a >= CALM) return 0;
  }
  if (a >= SPIKE) return spike(h, t);
  const last = h.spikes[h.spikes.length - 1];
  if (last === undefined || t - last <= FARTHEST) return 0;
  const n = h.spikes.length;
  h.spikes = [];
  return n === 2 || n === 3 ? n : 0;
}

/** @param {Hearing} h @param {number} t */
function spike(h, t) {
  const last = h.spikes[h.spikes.length - 1];
  if (t - h.spoilt < BEFORE) return spoil(h, t);
  if (last !== undefined && t - last < NEAREST) return spoil(h, t);
  h.above = t;
  h.spikes.push(t);
  return 0;
}

/** @param {Hearing} h @param {number} t */
function spoil(h, t) {
  h.spikes = [];
  h.above = null;
  h.spoilt = t;
  return 0;
}
