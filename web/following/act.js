/** The wind an instructor sets by large steps: a direction to 5°, a speed to a knot. */

/** @typedef {{dir: number|null, kn: number|null, ref: 'true'|'mag'}} Wind */

/**
 * Where the steps begin: at what the service believes, else unset.
 * @param {import('../link/messages.js').State|undefined} s @returns {Wind}
 */
export function windFrom(s) {
  return { dir: s && s.twd !== null ? (Math.round(s.twd / 5) * 5) % 360 : null, kn: s && s.tws !== null ? Math.round(s.tws) : null, ref: 'true' };
}

/** @param {Wind} w @param {number} by degrees @returns {Wind} */
export function turn(w, by) {
  return { ...w, dir: ((((w.dir ?? 0) + (w.dir === null ? 0 : by)) % 360) + 360) % 360 };
}

/** @param {Wind} w @param {number} by knots @returns {Wind} */
export function blow(w, by) {
  return { ...w, kn: Math.min(60, Math.max(0, w.kn === null ? 8 : w.kn + by)) };
}

/** @param {Wind} w @param {number} hdg where the device points, magnetic @returns {Wind} */
export function aimed(w, hdg) {
  return { ...w, dir: (Math.round(hdg / 5) * 5) % 360, ref: 'mag' };
}

/**
 * The message for one boat, or null where nothing was set.
 * @param {Wind} w @param {string} boat @param {number} t
 * @returns {import('../link/messages.js').ToService|null}
 */
export function windAct(w, boat, t) {
  if (w.dir === null && w.kn === null) return null;
  return { type: 'act', t, act: 'wind', boat, ...(w.dir === null ? {} : { dir: w.dir, ref: w.ref }), ...(w.kn === null ? {} : { kn: w.kn }) };
}
