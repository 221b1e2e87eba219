/**
 * What a phone that gets too hot shows. No browser tells a temperature; seen are a page
 * that is slowed down, since a hot phone slows its processor, and a battery that falls
 * faster than three hours allow, which sun and a bright screen do. Neither is proof of
 * heat, and both are cured by the same: shade, air, a dark screen.
 *
 * @typedef {import('./battery.js').Level} Level
 * @typedef {{from: number, before: number, count: number, pace: number|null}} Strain pace: ticks a second in the last whole minute; null: not known
 */

const MINUTE = 60 * 1000;
/** A longer pause was no slowness: the page was hidden, or the phone asleep, ms. */
const PAUSE = 2000;
/** Ticks a second, of ten that are asked for, below which a page is slowed down. */
const SLOW = 7.5;
/** The share of a full battery in an hour that leaves no three hours. */
const FAST = 1 / 3;
/** It tells in whole percents: less of a fall, or of a time, says nothing of its speed. */
const LEAST_FALL = 0.03;
const LEAST_TIME = 5 * MINUTE;

/** @returns {Strain} */
export function rested() {
  return { from: 0, before: 0, count: 0, pace: null };
}

/** Ten times a second, where all is well. @param {Strain} s changed in place @param {number} t ms */
export function ticked(s, t) {
  const gap = t - s.before;
  s.before = t;
  if (gap > PAUSE || gap < 0) {
    Object.assign(s, { from: t, count: 0, pace: null });
    return;
  }
  s.count++;
  if (t - s.from < MINUTE) return;
  s.pace = (s.count * 1000) / (t - s.from);
  s.from = t;
  s.count = 0;
}

/** @param {Level[]} levels the oldest first @param {number} now @returns {number|null} share of a full battery in an hour; null where it is not known */
export function fallAnHour(levels, now) {
  const first = levels[0];
  const last = levels[levels.length - 1];
  if (!first || first.batt - last.batt < LEAST_FALL || last.t - first.t < LEAST_TIME) return null;
  return ((first.batt - last.batt) * 60 * MINUTE) / (Math.max(now, last.t) - first.t);
}

/**
 * One sentence, with what to do; empty where nothing is seen.
 * @param {number|null} pace @param {number|null} fall
 */
export function strained(pace, fall) {
  const slow = pace !== null && pace < SLOW;
  const fast = fall !== null && fall > FAST;
  const cure = 'Shade it, take it out of its case and use the dark screen';
  if (slow && fast) return `The phone is slow and its battery falls fast: it is probably hot, which no browser tells. ${cure}.`;
  if (slow) return `The phone is slow, ${pace.toFixed(0)} readings a second of ten: it may be hot, which no browser tells. ${cure}.`;
  if (fast) return `The battery falls by ${Math.round(fall * 100)} % an hour, as in heat or with a bright screen. ${cure}.`;
  return '';
}
