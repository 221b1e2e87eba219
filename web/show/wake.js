import { px, shape } from './svg.js';

/** How far back the wake goes, ms. */
export const WAKE = 600000;
/** Beyond this a gap in the line is a gap in what is known, ms. */
const GAP = 5000;
/** Shares above this run along the top: a gust, or a wrong wind. */
const MOST = 1.25;

/** @typedef {{t: number, share: number}} Point */

/**
 * Adds a point and forgets what is older than the wake.
 * @param {Point[]} points @param {Point} point @returns {Point[]}
 */
export function grown(points, point) {
  const last = points[points.length - 1];
  if (last && point.t - last.t < 1000) return points;
  return [...points.filter((p) => point.t - p.t <= WAKE), point];
}

/**
 * The line as separate strokes, x 0 (ten minutes ago) to 1 (now), y the share.
 * @param {Point[]} points @param {number} now
 * @returns {{x: number, share: number}[][]}
 */
export function strokes(points, now) {
  /** @type {{x: number, share: number}[][]} */
  const out = [];
  let before = -Infinity;
  for (const p of points) {
    if (now - p.t > WAKE || p.t > now + GAP) continue;
    if (p.t - before > GAP) out.push([]);
    out[out.length - 1].push({ x: 1 - (now - p.t) / WAKE, share: Math.min(MOST, Math.max(0, p.share)) });
    before = p.t;
  }
  return out;
}

/** @param {SVGElement} svg @param {{points: Point[], cues: number[], now: number}} model */
export function drawWake(svg, { points, cues, now }) {
  svg.setAttribute('viewBox', '0 0 340 44');
  svg.setAttribute('preserveAspectRatio', 'none');
  svg.setAttribute('role', 'img');
  svg.setAttribute('aria-label', `Share of her speed over the last ten minutes, with ${cues.length} cues.`);
  /** @param {number} share */
  const y = (share) => px(40 - (share / MOST) * 36);
  const parts = [shape('line', { x1: 2, y1: y(1), x2: 338, y2: y(1), class: 'full' })];
  for (const stroke of strokes(points, now)) {
    parts.push(shape('polyline', { points: stroke.map((p) => `${px(2 + p.x * 336)},${y(p.share)}`).join(' '), class: 'trail' }));
  }
  for (const t of cues) {
    const at = px(2 + (1 - (now - t) / WAKE) * 336);
    parts.push(shape('line', { x1: at, y1: 2, x2: at, y2: 16, class: 'spoken' }));
  }
  svg.replaceChildren(...parts);
}

/** The speed line: the drawn part is the share. @param {SVGElement} svg @param {number|null} share */
export function drawShare(svg, share) {
  svg.setAttribute('viewBox', '0 0 340 22');
  svg.setAttribute('preserveAspectRatio', 'none');
  svg.setAttribute('aria-hidden', 'true'); // the sentence above says it
  const parts = [shape('line', { x1: 2, y1: 11, x2: 338, y2: 11, class: 'ruler' }), shape('line', { x1: 336, y1: 1, x2: 336, y2: 21, class: 'end' })];
  if (share !== null) parts.push(shape('line', { x1: 2, y1: 11, x2: px(2 + Math.min(1, Math.max(0, share)) * 333), y2: 11, class: 'share' }));
  svg.replaceChildren(...parts);
}
