/**
 * How a phone lies, from the three angles of the W3C's "Device Orientation and
 * Motion", and what that means for the boat it is strapped to. Device axes: x
 * to the right of the screen, y to its top, z out of it. Earth axes: east,
 * north, up. Going through the matrix is what keeps an upright phone, where the
 * angles themselves are singular, from turning its heading by accident.
 *
 * @typedef {[number, number, number]} Vector
 * @typedef {number[]} Rotation nine numbers, rows east, north, up
 * @typedef {{bow: Vector, up: Vector}} Mount both in device axes, at right angles, of length 1
 */

const RAD = Math.PI / 180;

/**
 * Section "Worked example" of the specification: R = Rz(alpha) Rx(beta) Ry(gamma).
 * @param {{alpha: number, beta: number, gamma: number}} angles degrees
 * @returns {Rotation} device axes to earth axes
 */
export function rotation({ alpha, beta, gamma }) {
  const [ca, sa] = [Math.cos(alpha * RAD), Math.sin(alpha * RAD)];
  const [cb, sb] = [Math.cos(beta * RAD), Math.sin(beta * RAD)];
  const [cg, sg] = [Math.cos(gamma * RAD), Math.sin(gamma * RAD)];
  return [
    ca * cg - sa * sb * sg, -cb * sa, ca * sg + cg * sa * sb,
    cg * sa + ca * sb * sg, ca * cb, sa * sg - ca * cg * sb,
    -cb * sg, sb, cb * cg,
  ];
}

/** Which way is up, in device axes. @param {Rotation} r @returns {Vector} */
export function upOf(r) {
  return [r[6], r[7], r[8]];
}

/** @param {Vector} a @param {Vector} b */
export function dot(a, b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/** @param {Vector} a @param {Vector} b @returns {Vector} */
export function cross(a, b) {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

/** @param {Vector} v @returns {Vector|null} null where it has no direction */
export function unit(v) {
  const n = Math.sqrt(dot(v, v));
  return n > 1e-6 ? [v[0] / n, v[1] / n, v[2] / n] : null;
}

/**
 * Where an axis of the device points on the compass.
 * @param {Rotation} r
 * @param {Vector} axis
 * @returns {number|undefined} 0..360; absent within ten degrees of straight up or down
 */
export function headingOf(r, axis) {
  const east = r[0] * axis[0] + r[1] * axis[1] + r[2] * axis[2];
  const north = r[3] * axis[0] + r[4] * axis[1] + r[5] * axis[2];
  if (Math.hypot(east, north) < Math.sin(10 * RAD)) return undefined;
  return wrap360(Math.atan2(east, north) / RAD);
}

/**
 * @param {Vector} up which way is up, in device axes, length 1
 * @param {Mount} mount
 * @returns {{heel: number, pitch: number}} degrees; starboard down and bow up positive
 */
export function leanOf(up, mount) {
  const starboard = cross(mount.bow, mount.up);
  const heel = Math.atan2(-dot(starboard, up), dot(mount.up, up)) / RAD;
  const pitch = Math.asin(clamp(dot(mount.bow, up), -1, 1)) / RAD;
  return { heel: heel + 0, pitch: pitch + 0 };
}

/**
 * @param {Vector} spin degrees a second about the device's x, y and z
 * @param {Vector} up
 * @returns {number} degrees a second, clockwise seen from above positive
 */
export function yawOf(spin, up) {
  return -dot(spin, up) + 0;
}

/** @param {number} d @returns {number} 0 up to, not including, 360 */
export function wrap360(d) {
  const w = ((d % 360) + 360) % 360;
  return w === 360 ? 0 : w;
}

/** @param {number} a @param {number} b @returns {number} a minus b, -180..180 */
export function turnFrom(a, b) {
  const d = wrap360(a - b);
  return d > 180 ? d - 360 : d;
}

/** @param {number} v @param {number} lo @param {number} hi */
export function clamp(v, lo, hi) {
  return Math.min(hi, Math.max(lo, v));
}
