import { turnFrom } from '../sense/attitude.js';
import { px, shape } from './svg.js';
import { tack } from './words.js';

/** Half of the band she is asked to sail in, degrees. */
const BAND = 3;
/** What no boat sails in, degrees off the wind (common practice, no source). */
const DEAD = 30;

/**
 * The fan ruler: angle off the wind on a straight line, 0 in the middle, port
 * to the left, 180 at both ends.
 * @typedef {object} Fan
 * @property {{deg: number, hollow: boolean}[]} ticks where she may be; two hollow ones where the side is not known
 * @property {{from: number, to: number}|null} blur as wide as the doubt about the wind
 * @property {{from: number, to: number}|null} band the target
 * @property {string} says the same in words, short
 */

/** @param {import('../link/messages.js').State|null} s @returns {Fan} */
export function fan(s) {
  if (!s || (s.twd === null && s.twa === null)) {
    return { ticks: [], blur: null, band: null, says: 'Angle off the wind not known.' };
  }
  if (!s.twd_known) return unsure(s);
  const deg = s.twa ?? (s.heading === null || s.twd === null ? null : turnFrom(s.twd, s.heading));
  if (deg === null) return { ticks: [], blur: null, band: null, says: 'Heading not known, so the angle is not either.' };
  const band = target(s, deg);
  const off = Math.round(Math.abs(s.target_twa ?? 0));
  const rest = band ? `${tack(deg)}, best ${off - BAND} to ${off + BAND}°` : ` off the wind${tack(deg)}`;
  return { ticks: [{ deg, hollow: false }], blur: doubt(s, deg), band, says: `${Math.abs(Math.round(deg))}°${rest}` };
}

/** @param {import('../link/messages.js').State} s @returns {Fan} */
function unsure(s) {
  const from = [s.twd, s.twd_other];
  const ticks = [];
  for (const wind of from) {
    if (wind !== null && s.heading !== null) ticks.push({ deg: turnFrom(wind, s.heading), hollow: true });
  }
  if (ticks.length === 1) ticks.push({ deg: -ticks[0].deg, hollow: true });
  return { ticks, blur: null, band: null, says: 'Port or starboard? Not sure.' };
}

/** @param {import('../link/messages.js').State} s @param {number} deg */
function target(s, deg) {
  if (s.target_twa === null) return null;
  const at = Math.abs(s.target_twa) * (deg < 0 ? -1 : 1);
  return { from: at - BAND, to: at + BAND };
}

/** @param {import('../link/messages.js').State} s @param {number} deg */
function doubt(s, deg) {
  if (s.twd === null || s.twd_lo === null || s.twd_hi === null) return null;
  return { from: deg + turnFrom(s.twd_lo, s.twd), to: deg + turnFrom(s.twd_hi, s.twd) };
}

const [WIDE, MID] = [340, 170];
const SCALE = 168 / 180; // units a degree

/** @param {number} deg */
function x(deg) {
  return px(MID + Math.max(-180, Math.min(180, deg)) * SCALE);
}

/** Draws the model. @param {SVGElement} svg @param {Fan} model */
export function drawFan(svg, model) {
  svg.setAttribute('viewBox', `0 0 ${WIDE} 64`);
  svg.setAttribute('role', 'img');
  svg.setAttribute('aria-label', `Angle off the wind: ${model.says}`);
  const parts = [
    shape('rect', { x: x(-DEAD), y: 18, width: px(2 * DEAD * SCALE), height: 28, class: 'dead' }),
    shape('line', { x1: 2, y1: 32, x2: 338, y2: 32, class: 'ruler' }),
    shape('path', { d: `M${MID} 16 l-7 -10 h14 Z`, class: 'from' }),
  ];
  for (const deg of [-180, -90, 90, 180]) parts.push(shape('line', { x1: x(deg), y1: 27, x2: x(deg), y2: 37, class: 'ruler' }));
  if (model.band) parts.push(shape('path', { d: bracket(model.band), class: 'band' }));
  if (model.blur) {
    const [a, b] = [x(model.blur.from), x(model.blur.to)];
    parts.push(shape('rect', { x: a, y: 22, width: Math.max(0, px(b - a)), height: 20, class: 'blur' }));
  }
  for (const t of model.ticks) {
    parts.push(t.hollow
      ? shape('rect', { x: px(x(t.deg) - 4), y: 8, width: 8, height: 48, class: 'hollow' })
      : shape('line', { x1: x(t.deg), y1: 6, x2: x(t.deg), y2: 58, class: 'tick' }));
  }
  svg.replaceChildren(...parts);
}

/** @param {{from: number, to: number}} band */
function bracket(band) {
  const [a, b] = [x(Math.min(band.from, band.to)) - 3, x(Math.max(band.from, band.to)) + 3];
  return `M${px(a + 6)} 14 h-6 v36 h6 M${px(b - 6)} 14 h6 v36 h-6`;
}
