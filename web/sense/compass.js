import { rotation, upOf, wrap360 } from './attitude.js';

/**
 * One orientation event, whichever kind the browser has.
 * @typedef {object} Turn
 * @property {boolean} absolute from deviceorientationabsolute, or marked absolute
 * @property {number|null} [alpha]
 * @property {number|null} [beta]
 * @property {number|null} [gamma]
 * @property {number|null} [compass] the vendor-prefixed compass property: the way the phone's top points; 0 is north
 * @property {number|null} [compassAccuracy] negative where the compass is not calibrated
 *
 * @typedef {object} Lie how the phone lies now
 * @property {'absolute'|'compass'|'relative'} by what gave it
 * @property {import('./attitude.js').Rotation} rotation alpha means nothing where by is relative
 * @property {import('./attitude.js').Vector|null} up
 * @property {boolean} north whether the rotation knows north
 * @property {number} at
 */

/**
 * A browser with a compass also sends relative events between; they are let go
 * by while the compass was heard within this time, ms.
 */
const FRESH = 2000;

/**
 * Takes the next event. Both compasses are read as magnetic: Android's rotation
 * vector and the iPhone's compass property point to magnetic north (from memory
 * of both platforms' documents), whatever the specification wishes.
 * @param {Lie|null} lie
 * @param {Turn} turn
 * @param {number} now
 * @returns {Lie|null}
 */
export function turned(lie, turn, now) {
  const tilt = number(turn.beta) && number(turn.gamma);
  const compass = number(turn.compass) && turn.compass >= 0 && (turn.compassAccuracy ?? 0) >= 0;
  if (turn.absolute && number(turn.alpha)) return make('absolute', turn, turn.alpha, now);
  if (compass && !turn.absolute) return make('compass', turn, wrap360(360 - /** @type {number} */ (turn.compass)), now);
  if (turn.absolute || !tilt) return lie; // a phone without the sensor sends nulls
  if (lie && lie.by !== 'relative' && now - lie.at < FRESH) return lie;
  return make('relative', turn, 0, now);
}

/**
 * @param {Lie['by']} by
 * @param {Turn} turn
 * @param {number} alpha
 * @param {number} now
 * @returns {Lie}
 */
function make(by, turn, alpha, now) {
  const tilt = number(turn.beta) && number(turn.gamma);
  const r = rotation({ alpha, beta: turn.beta ?? 0, gamma: turn.gamma ?? 0 });
  return { by, rotation: r, up: tilt ? upOf(r) : null, north: by !== 'relative', at: now };
}

/** @param {unknown} v @returns {v is number} */
function number(v) {
  return typeof v === 'number' && Number.isFinite(v);
}
