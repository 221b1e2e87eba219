import assert from 'node:assert/strict';
import { test } from 'node:test';
import { headingOf, leanOf, rotation, turnFrom, upOf, wrap360, yawOf } from '../sense/attitude.js';
import { level, likelyMount, mountFrom, pointer } from '../sense/mount.js';

const near = (got, want, tol = 1e-6, what = '') => assert.ok(Math.abs(got - want) <= tol, `${what} got ${got}, want ${want}`);
const nearAngle = (got, want, tol = 1e-6) => assert.ok(Math.abs(turnFrom(got, want)) <= tol, `got ${got}, want ${want}`);

// Park and Miller's generator: the same tries every time.
function random(seed) {
  let s = seed;
  return () => (s = (s * 48271) % 2147483647) / 2147483647;
}

// W3C, "Device Orientation and Motion", the examples in the text of the
// deviceorientation event (from memory; each was also worked out by hand).
test('examples of the specification', () => {
  nearAngle(headingOf(rotation({ alpha: 0, beta: 0, gamma: 0 }), [0, 1, 0]), 0); // flat, top to the north
  nearAngle(headingOf(rotation({ alpha: 90, beta: 0, gamma: 0 }), [0, 1, 0]), 270); // flat, top to the west
  for (const facing of [0, 37, 200]) { // upright, top of the screen to the right of who faces it
    const r = rotation({ alpha: 270 - facing, beta: 0, gamma: 90 });
    nearAngle(headingOf(r, [0, 1, 0]), facing + 90);
    nearAngle(headingOf(r, [0, 0, -1]), facing);
  }
});

// The same text's function for the compass heading of the back of an upright
// device (from memory).
function compassHeading(alpha, beta, gamma) {
  const d = Math.PI / 180;
  const [cX, cY, cZ] = [Math.cos(beta * d), Math.cos(gamma * d), Math.cos(alpha * d)];
  const [sX, sY, sZ] = [Math.sin(beta * d), Math.sin(gamma * d), Math.sin(alpha * d)];
  void cX;
  const vx = -cZ * sY - sZ * sX * cY;
  const vy = -sZ * sY + cZ * sX * cY;
  let heading = Math.atan(vx / vy);
  if (vy < 0) heading += Math.PI;
  else if (vx < 0) heading += 2 * Math.PI;
  return heading / d;
}

test('the back of the device points where the specification says', () => {
  const r = random(7);
  let tried = 0;
  for (let i = 0; i < 2000; i++) {
    const [a, b, g] = [r() * 360, r() * 360 - 180, r() * 180 - 90];
    const got = headingOf(rotation({ alpha: a, beta: b, gamma: g }), [0, 0, -1]);
    if (got === undefined) continue;
    nearAngle(got, compassHeading(a, b, g), 1e-6);
    tried++;
  }
  assert.ok(tried > 1500, `only ${tried} tried`);
});

// A slow second way: three plain turns, one after the other.
function slow(alpha, beta, gamma, v) {
  const d = Math.PI / 180;
  const turnAbout = (axis, deg, [x, y, z]) => {
    const [c, s] = [Math.cos(deg * d), Math.sin(deg * d)];
    if (axis === 'x') return [x, c * y - s * z, s * y + c * z];
    if (axis === 'y') return [c * x + s * z, y, -s * x + c * z];
    return [c * x - s * y, s * x + c * y, z];
  };
  return turnAbout('z', alpha, turnAbout('x', beta, turnAbout('y', gamma, v)));
}

test('the matrix is the three turns', () => {
  const r = random(11);
  for (let i = 0; i < 500; i++) {
    const [a, b, g] = [r() * 360, r() * 360 - 180, r() * 180 - 90];
    const m = rotation({ alpha: a, beta: b, gamma: g });
    const v = [r() - 0.5, r() - 0.5, r() - 0.5];
    const want = slow(a, b, g, v);
    for (let k = 0; k < 3; k++) near(m[3 * k] * v[0] + m[3 * k + 1] * v[1] + m[3 * k + 2] * v[2], want[k], 1e-9);
  }
});

test('heel is starboard down, pitch is bow up', () => {
  const mount = { bow: [0, 1, 0], up: [0, 0, 1] }; // screen up, top to the bow
  near(leanOf(upOf(rotation({ alpha: 0, beta: 0, gamma: 20 })), mount).heel, 20); // right edge down: gamma positive
  near(leanOf(upOf(rotation({ alpha: 0, beta: 10, gamma: 0 })), mount).pitch, 10); // top edge up: beta positive
  near(leanOf(upOf(rotation({ alpha: 0, beta: 0, gamma: 20 })), mount).pitch, 0);
});

// Builds the orientation of a phone by its axes, so that a boat with a known
// heading, heel and pitch can carry it any way round.
function carried(heading, heel, pitch, bow, up) {
  const d = Math.PI / 180;
  const star = [bow[1] * up[2] - bow[2] * up[1], bow[2] * up[0] - bow[0] * up[2], bow[0] * up[1] - bow[1] * up[0]];
  // boat axes (starboard, bow, mast) in earth axes: roll about the bow, lift the bow, turn to the heading
  const place = (v) => slow(-heading, pitch, heel, v);
  const [S, B, U] = [place([1, 0, 0]), place([0, 1, 0]), place([0, 0, 1])];
  const r = [];
  for (let row = 0; row < 3; row++) for (let col = 0; col < 3; col++) r.push(S[row] * star[col] + B[row] * bow[col] + U[row] * up[col]);
  return r;
}

test('any way of strapping the phone on gives the boat’s own heading and heel', () => {
  const r = random(3);
  for (let i = 0; i < 400; i++) {
    const tip = (r() - 0.5) * 160; // leaning back from upright to flat and beyond
    const up = [0, Math.cos(tip * Math.PI / 180), Math.sin(tip * Math.PI / 180)];
    const mount = mountFrom(up, 0);
    const [heading, heel, pitch] = [r() * 360, (r() - 0.5) * 80, (r() - 0.5) * 40];
    const R = carried(heading, heel, pitch, mount.bow, mount.up);
    nearAngle(headingOf(R, mount.bow), heading, 1e-6);
    near(leanOf(upOf(R), mount).heel, heel, 1e-6);
    near(leanOf(upOf(R), mount).pitch, pitch, 1e-6);
  }
});

test('leaning the phone back does not turn the bow', () => {
  for (const tip of [0, 30, 44, 46, 60, 90]) { // 0 upright, 90 flat, back to the bow
    const t = tip * Math.PI / 180;
    const { bow } = mountFrom([0, Math.cos(t), Math.sin(t)], 0);
    near(bow[0], 0);
    near(bow[1], Math.sin(t), 1e-9);
    near(bow[2], -Math.cos(t), 1e-9);
  }
});

test('the top of the page is the top of the phone turned by the screen angle', () => {
  const r = rotation({ alpha: 0, beta: 0, gamma: 0 });
  for (const [angle, want] of [[0, 0], [90, 90], [180, 180], [270, 270]]) nearAngle(headingOf(r, pointer([0, 0, 1], angle)), want);
});

test('turning clockwise seen from above is positive, however the phone lies', () => {
  near(yawOf([0, 0, -12], [0, 0, 1]), 12); // flat, screen up: turning right is negative about z
  near(yawOf([0, 0, 12], [0, 0, -1]), 12); // face down
  near(yawOf([0, -12, 0], [0, 1, 0]), 12); // upright
});

test('levelling takes the mean of a still phone and refuses a moving one', () => {
  const still = Array.from({ length: 40 }, (_, i) => unit([0.02 * (i % 2), 0.1, 1]));
  const mount = level(still, 0);
  near(leanOf(unit([0.01, 0.1, 1]), mount).heel, 0, 0.01);
  near(leanOf(unit([0.01, 0.1, 1]), mount).pitch, 0, 0.01);
  const moving = Array.from({ length: 40 }, (_, i) => unit([i * 0.01, 0, 1]));
  assert.equal(level(moving, 0), null);
  assert.equal(level(still.slice(0, 3), 0), null);
});

function unit(v) {
  const n = Math.hypot(...v);
  return v.map((x) => x / n);
}

test('before levelling the nearest way of standing is taken', () => {
  assert.deepEqual(likelyMount([0.1, 0.2, 0.97], 0).up, [0, 0, 1]);
  assert.deepEqual(likelyMount([0.1, 0.97, 0.2], 0).up, [0, 1, 0]);
  assert.deepEqual(likelyMount([-0.97, 0.1, 0.2], 0), { up: [-1, 0, 0], bow: [0, 0, -1] });
});

test('angles wrap', () => {
  for (const [d, want] of [[360, 0], [-1, 359], [720.5, 0.5], [-360, 0], [-1e-14, 0]]) near(wrap360(d), want, 1e-9);
  assert.equal(turnFrom(10, 350), 20);
  assert.equal(turnFrom(350, 10), -20);
  assert.equal(turnFrom(180, 0), 180);
});

test('an axis straight up has no heading', () => {
  assert.equal(headingOf(rotation({ alpha: 0, beta: 90, gamma: 0 }), [0, 1, 0]), undefined);
});
