/** −60 dBFS: below it there is only the padding that MP3 puts at both ends. */
export const FLOOR = 0.001;

/**
 * The part of a clip that holds sound, so that a heading follows its stem after
 * exactly the gap that was asked for.
 * @param {Float32Array} samples one channel
 * @returns {{from: number, to: number}} samples to keep, from inclusive, to exclusive; empty where all is silent
 */
export function sounding(samples) {
  let from = 0;
  while (from < samples.length && Math.abs(samples[from]) < FLOOR) from++;
  let to = samples.length;
  while (to > from && Math.abs(samples[to - 1]) < FLOOR) to--;
  return { from, to };
}

/**
 * When each clip of a cue begins on the audio clock.
 * @param {number[]} seconds how long each clip sounds
 * @param {number} gapMs silence between two clips
 * @param {number} start
 * @returns {{starts: number[], end: number}}
 */
export function joined(seconds, gapMs, start) {
  const starts = [];
  let at = start;
  for (const s of seconds) {
    starts.push(at);
    at += s + gapMs / 1000;
  }
  return { starts, end: seconds.length ? at - gapMs / 1000 : start };
}
