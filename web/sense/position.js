import { wrap360 } from './attitude.js';

const KNOTS = 3600 / 1852; // in a metre a second

/**
 * @typedef {object} Fix
 * @property {number} lat
 * @property {number} lon
 * @property {number} acc metres
 * @property {number} [sog] knots
 * @property {number} [cog] degrees true
 * @property {number} at by the receiver's clock, ms: tells a new fix from the old one
 */

/**
 * A browser's position in our units. Speed and course are null (some say NaN)
 * where the receiver does not know them; unknown is not zero.
 * @param {{coords: {latitude: number, longitude: number, accuracy: number, speed: number|null, heading: number|null}, timestamp: number}} p
 * @returns {Fix|null} null where it holds no place
 */
export function fixFrom({ coords, timestamp }) {
  if (!Number.isFinite(coords.latitude) || !Number.isFinite(coords.longitude)) return null;
  /** @type {Fix} */
  const fix = { lat: round(coords.latitude, 7), lon: round(coords.longitude, 7), acc: round(coords.accuracy, 1), at: timestamp };
  if (coords.speed !== null && Number.isFinite(coords.speed) && coords.speed >= 0) fix.sog = round(coords.speed * KNOTS, 2);
  if (coords.heading !== null && Number.isFinite(coords.heading) && coords.heading >= 0) fix.cog = wrap360(round(coords.heading, 1));
  return fix;
}

/** @param {number} v @param {number} digits */
export function round(v, digits) {
  const p = 10 ** digits;
  return Math.round(v * p) / p;
}
