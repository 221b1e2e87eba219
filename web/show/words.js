/**
 * Numbers and states as the words a person would say, at the precision they
 * deserve: speed to half a knot, angles to a degree, wind direction to 5°.
 */

const NUMBERS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve'];

/** @param {number} n a whole number, 0 or more @returns {string} in letters up to twelve */
export function count(n) {
  return NUMBERS[n] ?? String(n);
}

/** @param {number} kn @returns {string} "two and a half knots" */
export function knots(kn) {
  const halves = Math.round(kn * 2);
  if (halves === 0) return 'hardly moving';
  if (halves === 1) return 'half a knot';
  const whole = Math.floor(halves / 2);
  const half = halves % 2 ? ' and a half' : '';
  return `${count(whole)}${half} ${whole === 1 && !half ? 'knot' : 'knots'}`;
}

/** @param {string} s */
export function sentence(s) {
  return s.charAt(0).toUpperCase() + s.slice(1);
}

/**
 * @param {number|null} sog
 * @param {number|null} target what she could do here
 * @param {number|null} share
 */
export function speedSentence(sog, target, share) {
  if (sog === null) return 'Speed not known.';
  const now = knots(sog);
  if (target === null || share === null) return `${sentence(now)}.`;
  if (share >= 0.95) return `${sentence(now)}, all she has.`;
  const best = knots(target);
  if (best === now) return `${sentence(now)}, nearly all she has.`;
  return `${sentence(now)}. She could do ${best.replace(/ knots?$/, '')}.`;
}

/** @param {number} ms @returns {string} "8 seconds ago" */
export function ago(ms) {
  const s = Math.max(0, Math.round(ms / 1000));
  return s < 3 ? 'just now' : `${span(s * 1000)} ago`;
}

/** @param {number} ms @returns {string} "8 seconds", "4 minutes" */
export function span(ms) {
  const s = Math.max(0, Math.round(ms / 1000));
  if (s < 90) return `${s} ${s === 1 ? 'second' : 'seconds'}`;
  const m = Math.round(s / 60);
  if (m < 90) return `${m} minutes`;
  const h = Math.round(m / 30) / 2;
  return `${h} hours`;
}

/** @param {number|null} twa starboard positive @returns {string} the tack is named by the side the wind comes from */
export function tack(twa) {
  if (twa === null || twa === 0) return '';
  return twa > 0 ? ' on starboard' : ' on port';
}

/** @param {string} mode @param {number|null} twa @returns {string} */
export function sailing(mode, twa) {
  switch (mode) {
    case 'close_hauled': return `Close-hauled${tack(twa)}`;
    case 'reaching': return `Reaching${tack(twa)}`;
    case 'running': return `Running${tack(twa)}`;
    case 'tacking': return 'Tacking';
    case 'gybing': return 'Gybing';
    case 'irons': return 'In irons, head to wind';
    case 'waiting': return 'Waiting';
    case 'stopped': return 'Stopped';
    case 'capsized': return 'Capsized';
    case 'motoring': return 'Under engine';
    case 'drifting': return 'Drifting';
    default: return 'Way of sailing not known';
  }
}

/** Why the voice says nothing in this mode, or '' where it may speak. @param {string} mode */
export function whyQuiet(mode) {
  switch (mode) {
    case 'motoring': return 'Under engine: no coaching.';
    case 'waiting': return 'Waiting: no coaching.';
    case 'stopped': return 'Stopped: no coaching.';
    case 'drifting': return 'Drifting: no coaching.';
    case 'capsized': return 'Capsized: coaching has stopped. Stay with the boat; it calls nobody.';
    default: return '';
  }
}

/** @param {number} deg @returns {string} "240°", to five degrees */
export function direction(deg) {
  const five = (Math.round(deg / 5) * 5) % 360;
  return `${String((five + 360) % 360).padStart(3, '0')}°`;
}

/** @param {number|null|undefined} dir @param {number|null|undefined} sd @param {number|null|undefined} kn */
export function wind(dir, sd, kn) {
  if (dir === null || dir === undefined) return 'wind not known';
  const sure = sd === null || sd === undefined ? '' : `, sure to ${Math.max(1, Math.round(sd))}°`;
  const speed = kn === null || kn === undefined ? '' : ` · ${Math.round(kn)} knots`;
  return `wind from ${direction(dir)}${sure}${speed}`;
}

/** @param {import('../link/messages.js').Turns} turns */
export function turnsSentence(turns) {
  const parts = [];
  if (turns.tacks) parts.push(`${count(turns.tacks)} ${turns.tacks === 1 ? 'tack' : 'tacks'}`);
  if (turns.gybes) parts.push(`${count(turns.gybes)} ${turns.gybes === 1 ? 'gybe' : 'gybes'}`);
  if (!parts.length) return '';
  const best = turns.bestLengths === undefined ? '' : `, best ${Math.max(0, turns.bestLengths).toFixed(1)} lengths`;
  return `${sentence(parts.join(', '))}${best}.`;
}
