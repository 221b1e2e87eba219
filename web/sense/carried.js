import { cross, dot, unit } from './attitude.js';

/** @typedef {import('./attitude.js').Vector} Vector */

/**
 * Whether a phone is worn or fixed in the boat, from how it swings. A boat rolls
 * about one axis: taken over some seconds, so that waves fall out, the direction of
 * up moves along one line in a fixed phone. A body also bends, leans back and turns
 * round to look: up wanders across that line, and the phone turns though the boat
 * holds her course. Both are looked at in half a minute that she makes way in; several
 * such must agree. Steps are no help here: who walks is not sailing.
 *
 * Rates on simulated phones, in half hours of sailing (test/carried.test.js has fewer
 * of the same; no recording of a worn phone was to be had, the figures of the motion
 * are common practice, no source). A fixed one was taken for a worn one in none of 120,
 * with rough water, tacks and a crew that moves about in them. A worn one was taken for
 * a fixed one in none of 360. Worn by a body that moves much or as usual it was
 * recognised in all of 240, in nine of ten within four minutes; by one that sits still
 * in none of 120. A fixed one was known for fixed on flat water, seldom in waves and
 * never in rough water. Of the evaluation's simulator, whose bodies lean slowly and make
 * no quick moves, one scene of two with a worn phone was recognised.
 */
export const WINDOW = 30 * 1000; // ms
/** Slower than this she is not sailing, or not yet: the phone is in a hand, knots. */
export const WAY = 1;
const SLOW = 2; // s: waves of two to four seconds fall out, leaning does not
const ACROSS = 5; // degrees, standard deviation of up across the line it moves along; half of it is a crew that shifts her trim
const TURNING = 14; // degrees, standard deviation of its turning; half of it is a boat steered through waves
const STRAIGHT = 40; // degrees from the first to the last of a window: more is a turn of the boat's own
const BUSY = 0.5; // the middle of the last half minutes is above it: worn
const CALM = 0.3; // and not any more
const STILL = 0.06; // all of them are below it: fixed
const LAST = 8; // half minutes that are looked at; bodies sit still for minutes
const AGREE = 5; // half minutes at least, for worn

/**
 * @typedef {object} Carried
 * @property {'unknown'|'worn'|'fixed'} looks
 * @property {number} from when the window began, ms
 * @property {number} before the last reading, ms
 * @property {Vector|null} slow up without waves
 * @property {Vector[]} ups one a reading
 * @property {number} turned degrees since the window began
 * @property {number[]} turns that, one a reading
 * @property {number[]} unrests of the last half minutes
 */

/** @returns {Carried} */
export function unseen() {
  return { looks: 'unknown', from: 0, before: 0, slow: null, ups: [], turned: 0, turns: [], unrests: [] };
}

/**
 * Takes the next reading, about ten a second.
 * @param {Carried} c changed in place
 * @param {{t: number, up: Vector|null, spin: Vector|null, sog: number|undefined}} now up and spin in the phone's axes, degrees a second; sog in knots
 */
export function swung(c, { t, up, spin, sog }) {
  const dt = (t - c.before) / 1000;
  c.before = t;
  if (!up || (sog ?? 0) < WAY || !(dt > 0 && dt < 1)) return begin(c, t); // a gap, or no way: what went before is not all of it
  const k = 1 - Math.exp(-dt / SLOW);
  const was = c.slow ?? up;
  c.slow = unit([was[0] + k * (up[0] - was[0]), was[1] + k * (up[1] - was[1]), was[2] + k * (up[2] - was[2])]) ?? up;
  if (spin) c.turned += dt * dot(spin, up);
  c.ups.push(c.slow);
  c.turns.push(c.turned);
  if (t - c.from < WINDOW) return;
  judge(c);
  begin(c, t, c.slow);
}

/** @param {Carried} c @param {number} t @param {Vector|null} [slow] */
function begin(c, t, slow = null) {
  c.from = t;
  c.slow = slow;
  c.ups = [];
  c.turned = 0;
  c.turns = [];
}

/** @param {Carried} c */
function judge(c) {
  c.unrests = [...c.unrests, unrest(c)].slice(-LAST);
  const sorted = [...c.unrests].sort((a, b) => a - b);
  const middle = sorted[Math.floor((sorted.length - 1) / 2)];
  const most = sorted[sorted.length - 1];
  if (sorted.length >= AGREE && middle > BUSY) c.looks = 'worn';
  else if (sorted.length === LAST && most < STILL) c.looks = 'fixed';
  else if (c.looks === 'worn' && middle < CALM || c.looks === 'fixed' && most > CALM) c.looks = 'unknown';
}

/** How much of a body is in a window: 0 for none, 1 and more for clearly one. @param {Carried} c */
export function unrest(c) {
  const turn = c.turns[c.turns.length - 1] - c.turns[0];
  const turning = Math.abs(turn) > STRAIGHT ? 0 : sd(straightened(c.turns));
  return (across(c.ups) / ACROSS) ** 2 + (turning / TURNING) ** 2;
}

/**
 * How far directions spread across the line along which they spread most.
 * @param {Vector[]} ups @returns {number} standard deviation, degrees
 */
export function across(ups) {
  const mean = unit(/** @type {Vector} */ ([0, 1, 2].map((i) => ups.reduce((s, u) => s + u[i], 0))));
  if (!mean) return 90;
  const side = unit(cross(mean, Math.abs(mean[0]) < 0.9 ? [1, 0, 0] : [0, 1, 0]));
  const a = /** @type {Vector} */ (side);
  const b = cross(mean, a);
  let [aa, ab, bb] = [0, 0, 0];
  for (const u of ups) {
    const [x, y] = [dot(u, a), dot(u, b)];
    aa += x * x / ups.length;
    ab += x * y / ups.length;
    bb += y * y / ups.length;
  }
  const least = (aa + bb) / 2 - Math.sqrt(((aa - bb) / 2) ** 2 + ab * ab); // the smaller eigenvalue
  return (Math.sqrt(Math.max(0, least)) * 180) / Math.PI;
}

/** Without its even part. @param {number[]} list @returns {number[]} */
function straightened(list) {
  const n = list.length;
  const mid = (n - 1) / 2;
  const mean = list.reduce((a, b) => a + b, 0) / n;
  const slope = list.reduce((s, v, i) => s + (i - mid) * (v - mean), 0) / Math.max(1, list.reduce((s, _, i) => s + (i - mid) ** 2, 0));
  return list.map((v, i) => v - mean - slope * (i - mid));
}

/** Of values about zero. @param {number[]} list */
function sd(list) {
  return Math.sqrt(list.reduce((s, v) => s + v * v, 0) / list.length);
}
