import { clamp, dot, unit } from './attitude.js';

/** @typedef {import('./attitude.js').Vector} Vector */
/** @typedef {import('./attitude.js').Mount} Mount */

/** Above this, as a share of straight up, the screen counts as lying flat. */
const FLAT = Math.SQRT1_2;

/**
 * The axis a person points when told "point the phone": the top of the page
 * where the phone lies flat, its back where it stands upright. The screen angle
 * is what turns the top of the phone into the top of the page.
 * @param {Vector} up
 * @param {number} screenAngle 0, 90, 180 or 270, as screen.orientation.angle
 * @returns {Vector}
 */
export function pointer(up, screenAngle) {
  if (Math.abs(up[2]) <= FLAT) return [0, 0, -1];
  const a = (screenAngle * Math.PI) / 180;
  return [Math.sin(a), Math.cos(a), 0];
}

/**
 * How the phone is mounted, if the boat is level now: up is where up is, and
 * the bow is the pointer made level. A phone leaning back at any angle with its
 * back to the bow gives the same either way.
 * @param {Vector} up
 * @param {number} screenAngle
 * @returns {Mount}
 */
export function mountFrom(up, screenAngle) {
  const p = pointer(up, screenAngle);
  const lift = dot(p, up);
  const bow = unit([p[0] - lift * up[0], p[1] - lift * up[1], p[2] - lift * up[2]]);
  return { up, bow: bow ?? [0, 1, 0] };
}

/**
 * Before levelling: the nearest upright way a phone can be strapped on.
 * @param {Vector} up
 * @param {number} screenAngle
 * @returns {Mount}
 */
export function likelyMount(up, screenAngle) {
  const sizes = up.map(Math.abs);
  const most = sizes.indexOf(Math.max(...sizes));
  /** @type {Vector} */
  const nearest = [0, 0, 0];
  nearest[most] = up[most] < 0 ? -1 : 1;
  return mountFrom(nearest, screenAngle);
}

/** How far the phone may wander while it is levelled, degrees. A hand shakes by more. */
export const STILL = 2.5;

/**
 * The levelling: the mean of where up was, or null where the phone moved or
 * there is too little to go by.
 * @param {Vector[]} ups
 * @param {number} screenAngle
 * @returns {Mount|null}
 */
export function level(ups, screenAngle) {
  if (ups.length < 10) return null;
  /** @type {Vector} */
  const sum = [0, 0, 0];
  for (const u of ups) for (let i = 0; i < 3; i++) sum[i] += u[i];
  const mean = unit(sum);
  if (!mean) return null;
  const farthest = Math.max(...ups.map((u) => Math.acos(clamp(dot(u, mean), -1, 1))));
  if ((farthest * 180) / Math.PI > STILL) return null;
  return mountFrom(mean, screenAngle);
}
