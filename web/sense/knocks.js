/**
 * Knocks on the case, from spikes of acceleration. Better to miss one than to
 * take a wave for an answer: a knock that is not clearly one is ignored. A knock is
 * sharp, over at once, and stands in a calm; a slam of the hull rises nearly as fast
 * but rings on, and a flogging sail shakes without a pause. The figures were found on
 * simulated seas (test/knocks.test.js), where the false rate is stated.
 */
export const SPIKE = 9; // m/s² above the sea's own, far above what a small boat does in a hundredth of a second
export const CALM = 4; // m/s² above the sea's own, what it must stay below between knocks
export const LONGEST = 70; // ms from the first to the last reading above CALM
export const NEAREST = 160; // ms between the starts of two knocks, at least
export const FARTHEST = 650; // ms between them, at most
export const BEFORE = 1000; // ms of calm before the first, and after the last
export const ALIKE = 3; // one knock of an answer is at most so many times as hard as another
export const EVEN = 1.6; // and one pause so many times as long

const SEA = 250; // ms, time constant of the sea's own

/**
 * @typedef {object} Hearing
 * @property {{at: number, size: number}[]} spikes
 * @property {{at: number, last: number, size: number}|null} blow above CALM just now, or so shortly ago that it may ring on
 * @property {number} spoilt when something was last heard that is no knock
 * @property {number|null} sea what the waves do, m/s²
 * @property {number} before time of the last reading
 * @property {number} sharp when the last blow was that was sharp enough for a knock, whatever stood beside it
 */

/** @returns {Hearing} */
export function deaf() {
  return { spikes: [], blow: null, spoilt: -Infinity, sea: null, before: 0, sharp: -Infinity };
}

/**
 * Takes the next reading.
 * @param {Hearing} h changed in place: it is called sixty times a second
 * @param {number} t ms
 * @param {number} a size of the acceleration without gravity, m/s²
 * @returns {number} 2 or 3 once that many knocks are clearly over, else 0
 */
export function knocked(h, t, a) {
  const over = a - (h.sea ?? a);
  follow(h, t, a, over);
  if (h.blow) ringing(h, t, over);
  else if (over >= CALM) h.blow = { at: t, last: t, size: over };
  const last = h.spikes[h.spikes.length - 1];
  if (!last || h.blow || t - last.at <= BEFORE) return 0;
  const n = clear(h.spikes) ? h.spikes.length : 0;
  h.spikes = [];
  return n;
}

/** The sea is what it was without the blows. @param {Hearing} h @param {number} t @param {number} a @param {number} over */
function follow(h, t, a, over) {
  const k = Math.min(1, Math.max(0, t - h.before) / SEA);
  h.before = t;
  if (h.sea === null) h.sea = a;
  else if (over < CALM && !h.blow) h.sea += k * (a - h.sea);
  else h.sea += 0.2 * k * (a - h.sea); // a sea that has grown is one in the end
}

/** @param {Hearing} h @param {number} t @param {number} over */
function ringing(h, t, over) {
  const blow = /** @type {NonNullable<Hearing['blow']>} */ (h.blow);
  if (over >= CALM) {
    blow.last = t;
    blow.size = Math.max(blow.size, over);
    if (t - blow.at > LONGEST) spoil(h, t); // a push, a wave, a drop: not a knock
    return;
  }
  if (t - blow.last < LONGEST) return;
  h.blow = null;
  if (blow.size < SPIKE) return spoil(h, blow.last);
  h.sharp = blow.at;
  strike(h, blow);
}

/** @param {Hearing} h @param {{at: number, size: number}} blow */
function strike(h, { at, size }) {
  const last = h.spikes[h.spikes.length - 1];
  const tooNear = at - h.spoilt < BEFORE || last && at - last.at < NEAREST;
  if (tooNear || last && at - last.at > FARTHEST || h.spikes.length === 3) spoil(h, at);
  else h.spikes.push({ at, size });
}

/** @param {{at: number, size: number}[]} spikes */
function clear(spikes) {
  if (spikes.length < 2) return false;
  const sizes = spikes.map((s) => s.size);
  const pauses = spikes.slice(1).map((s, i) => s.at - spikes[i].at);
  return Math.max(...sizes) <= ALIKE * Math.min(...sizes) && Math.max(...pauses) <= EVEN * Math.min(...pauses);
}

/** @param {Hearing} h @param {number} t */
function spoil(h, t) {
  h.spikes = [];
  h.spoilt = t;
}
