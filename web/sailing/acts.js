import { headingOf } from '../sense/attitude.js';
import { level, pointer } from '../sense/mount.js';
import { lieNow, upNow } from '../sense/sample.js';

/** @typedef {import('../sense/sample.js').Senses} Senses */

/** An older position says nothing about where the wind was met, ms. */
const HERE = 10000;

/**
 * What a tap says about the wind. Pointed carries the direction the phone
 * points; head to wind carries none, since the bow itself is the wind.
 * @param {Senses} s
 * @param {'pointed'|'head_to_wind'} method
 * @param {{now: number, fixHeard: number}} times
 * @returns {import('../link/messages.js').ToService|null} null where the phone told no heading just now
 */
export function windFix(s, method, { now, fixHeard }) {
  const fix = s.fix && now - fixHeard < HERE ? { lat: s.fix.lat, lon: s.fix.lon } : {};
  if (method === 'head_to_wind') return { type: 'wind_fix', t: now, method, ...fix };
  const dir = pointedAt(s, now);
  return dir === undefined ? null : { type: 'wind_fix', t: now, method, dir, ref: 'mag', ...fix };
}

/**
 * Where the phone points on the compass, magnetic, to a tenth of a degree.
 * @param {Senses} s @param {number} now @returns {number|undefined}
 */
export function pointedAt(s, now) {
  const lie = lieNow(s, now);
  if (!lie?.north) return undefined;
  const hdg = headingOf(lie.rotation, pointer(lie.up ?? [0, 0, 1], s.screenAngle));
  return hdg === undefined ? undefined : (Math.round(hdg * 10) / 10) % 360;
}

/** How long the phone must lie still, ms. */
const LEVELLING = 3000;

/**
 * Watches the phone for three seconds.
 * @param {Senses} s @param {() => number} now
 * @returns {Promise<import('../sense/attitude.js').Mount|null>} null where it moved
 */
export function levelling(s, now) {
  /** @type {import('../sense/attitude.js').Vector[]} */
  const ups = [];
  const watch = setInterval(() => {
    const up = upNow(s, now());
    if (up) ups.push(up);
  }, 50);
  return new Promise((done) => {
    setTimeout(() => {
      clearInterval(watch);
      done(level(ups, s.screenAngle));
    }, LEVELLING);
  });
}
