/**
 * How long the battery lasts, from how it fell so far.
 * @typedef {{t: number, batt: number}} Level t in ms
 */

/** It tells in whole percents: less of a fall, or of a time, says nothing. */
const LEAST_FALL = 0.02;
const LEAST_TIME = 10 * 60 * 1000;
/** Older than this it was another use of the phone, ms. */
const OLD = 60 * 60 * 1000;

/** @param {Level[]} levels oldest first @param {Level} next @returns {Level[]} */
export function fell(levels, next) {
  const last = levels[levels.length - 1];
  if (last && next.batt > last.batt) return [next]; // it was charged
  if (last && next.batt === last.batt) return levels;
  return [...levels.filter((l) => next.t - l.t <= OLD), next];
}

/** @param {Level[]} levels @param {number} now @returns {number|null} minutes left, to five; null where it is not known */
export function minutesLeft(levels, now) {
  const first = levels[0];
  const last = levels[levels.length - 1];
  if (!first || first.batt - last.batt < LEAST_FALL || last.t - first.t < LEAST_TIME) return null;
  const perMs = (first.batt - last.batt) / (last.t - first.t);
  return Math.max(0, Math.round((last.batt / perMs - (now - last.t)) / 60000 / 5) * 5);
}
