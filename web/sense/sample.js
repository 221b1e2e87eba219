import { headingOf, leanOf, wrap360, yawOf } from './attitude.js';
import { likelyMount } from './mount.js';
import { round } from './position.js';

/**
 * What the sensors say at one moment.
 * @typedef {object} Senses
 * @property {import('./compass.js').Lie|null} lie
 * @property {import('./attitude.js').Vector|null} gravityUp up by the accelerometer, for phones without orientation
 * @property {{spin: import('./attitude.js').Vector, at: number}|null} spin
 * @property {import('./position.js').Fix|null} fix
 * @property {number|null} batt 0..1
 * @property {number} screenAngle
 */

/**
 * How long an orientation holds without a new event, ms. Browsers send none
 * while the phone lies still to a tenth of a degree; a broken sensor sends none either.
 */
const HOLDS = 1000;

/** @param {Senses} s @param {number} now @returns {import('./compass.js').Lie|null} */
export function lieNow(s, now) {
  return s.lie && now - s.lie.at <= HOLDS ? s.lie : null;
}

/** @param {Senses} s @param {number} now @returns {import('./attitude.js').Vector|null} */
export function upNow(s, now) {
  return lieNow(s, now)?.up ?? s.gravityUp;
}

/** How the phone turns, degrees a second about its own axes. @param {Senses} s @param {number} now @returns {import('./attitude.js').Vector|null} */
export function spinNow(s, now) {
  return s.spin && now - s.spin.at <= HOLDS ? s.spin.spin : null;
}

/**
 * Heading, lean and turn, each only where it was sensed. What a worn phone says
 * is of the body that wears it: the mount in the same sample tells the engine so.
 * @param {Senses} s
 * @param {import('./attitude.js').Mount|null} mount as levelled; null: not levelled, or worn
 * @param {number} now
 * @returns {{hdg?: number, hdgRef?: 'mag', heel?: number, pitch?: number, yaw?: number}}
 */
export function motion(s, mount, now) {
  const lie = lieNow(s, now);
  const up = upNow(s, now);
  const axes = mount ?? likelyMount(up ?? [0, 0, 1], s.screenAngle);
  /** @type {ReturnType<typeof motion>} */
  const out = {};
  const hdg = lie?.north ? headingOf(lie.rotation, axes.bow) : undefined;
  if (hdg !== undefined) {
    out.hdg = wrap360(round(hdg, 1));
    out.hdgRef = 'mag';
  }
  if (!up) return out;
  const lean = leanOf(up, axes);
  out.heel = round(lean.heel, 1);
  out.pitch = round(lean.pitch, 1);
  const spin = spinNow(s, now);
  if (spin) out.yaw = round(yawOf(spin, up), 1);
  return out;
}

/**
 * Makes samples. A position or battery that has not changed is left out: what
 * is absent is absent, and the service need not guess whether it is news.
 */
export class Sampler {
  /** @param {number} firstSeq */
  constructor(firstSeq) {
    this.seq = firstSeq;
    this.lastFix = -Infinity;
    /** @type {number|null} */
    this.lastBatt = null;
  }

  /**
   * @param {Senses} s
   * @param {{mount: import('./attitude.js').Mount|null, mounting: import('../link/messages.js').Mounting}} how
   * @param {number} now
   * @returns {import('../link/messages.js').Sample}
   */
  next(s, how, now) {
    /** @type {import('../link/messages.js').Sample} */
    const out = { t: now, seq: this.seq++, ...motion(s, how.mounting === 'worn' ? null : how.mount, now), mount: how.mounting };
    if (s.fix && s.fix.at !== this.lastFix) {
      const { at, ...readings } = s.fix;
      Object.assign(out, readings);
      this.lastFix = at;
    }
    if (s.batt !== null && s.batt !== this.lastBatt) {
      out.batt = s.batt;
      this.lastBatt = s.batt;
    }
    return out;
  }
}

/**
 * Where a page's count begins. A page that is loaded again must not use a seq
 * twice, or the service drops its samples as already had: tenths of a second
 * since the epoch rise by themselves as fast as samples do.
 * @param {number} now ms
 */
export function firstSeq(now) {
  return Math.floor(now / 100);
}
