import { unit } from './attitude.js';
import { fell } from './battery.js';
import { turned } from './compass.js';
import { deaf, knocked } from './knocks.js';
import { fixFrom } from './position.js';

/** Time constant of the slow look at gravity, s: longer than a wave, shorter than a tack. */
const SLOW = 1;

/**
 * @typedef {DeviceOrientationEvent & {webkitCompassHeading?: number, webkitCompassAccuracy?: number}} Turning
 * @typedef {{requestPermission?: () => Promise<'granted'|'denied'>}} Asks some browsers want a tap first
 */

/**
 * Asks for motion where the browser wants to be asked. Must be called straight
 * from a tap, before anything is awaited.
 * @returns {Promise<boolean>} whether motion may be read
 */
export function askMotion() {
  const kinds = /** @type {Asks[]} */ (/** @type {unknown} */ ([globalThis.DeviceMotionEvent, globalThis.DeviceOrientationEvent]));
  const asked = kinds.filter((k) => k?.requestPermission).map((k) => k.requestPermission?.());
  return Promise.all(asked).then((all) => all.every((a) => a === 'granted'), () => false);
}

/** Listens to the phone and keeps the newest of everything. */
export class Sensors {
  /**
   * @param {object} config
   * @param {() => number} config.now
   * @param {(n: number) => void} config.knocks two or three, clearly
   * @param {() => void} config.changed the position or what stands in its way
   */
  constructor(config) {
    this.config = config;
    /** @type {import('./sample.js').Senses} */
    this.senses = { lie: null, gravityUp: null, spin: null, fix: null, batt: null, screenAngle: 0 };
    /** @type {''|'denied'|'none'|'waiting'} */
    this.positionTrouble = 'waiting';
    this.fixHeard = 0; // by our own clock: receivers' clocks have been seen off by years
    this.hearing = deaf();
    this.struck = (/** @type {number} */ _t) => {}; // each sharp blow, by the events' clock
    /** @type {import('./battery.js').Level[]} */
    this.battery = [];
    this.slow = /** @type {import('./attitude.js').Vector|null} */ (null);
    this.slowAt = 0;
  }

  /**
   * Everything a sailor's page needs. Some phones send nothing to those who
   * listened before they were allowed, so motion waits for the answer.
   * @param {Promise<boolean>} motion
   */
  start(motion) {
    motion.then(() => this.listen());
    this.watchPosition();
    this.#watchBattery();
  }

  /** Motion alone, without position. */
  listen() {
    addEventListener('deviceorientationabsolute', (e) => this.#turned(/** @type {Turning} */ (e), true));
    addEventListener('deviceorientation', (e) => this.#turned(/** @type {Turning} */ (e), e.absolute === true));
    addEventListener('devicemotion', (e) => this.#moved(e));
  }

  watchPosition() {
    if (!navigator.geolocation) {
      this.positionTrouble = 'none';
      return;
    }
    navigator.geolocation.watchPosition(
      (p) => {
        this.senses.fix = fixFrom(p) ?? this.senses.fix;
        this.fixHeard = this.config.now();
        this.positionTrouble = '';
        this.config.changed();
      },
      (e) => {
        this.positionTrouble = e.code === e.PERMISSION_DENIED ? 'denied' : 'waiting';
        this.config.changed();
      },
      { enableHighAccuracy: true, maximumAge: 0, timeout: 15000 },
    );
  }

  /** @param {Turning} e @param {boolean} absolute */
  #turned(e, absolute) {
    this.senses.screenAngle = screen.orientation?.angle ?? 0;
    const turn = { absolute, alpha: e.alpha, beta: e.beta, gamma: e.gamma, compass: e.webkitCompassHeading, compassAccuracy: e.webkitCompassAccuracy };
    this.senses.lie = turned(this.senses.lie, turn, this.config.now());
  }

  /** @param {DeviceMotionEvent} e */
  #moved(e) {
    const now = this.config.now();
    const rate = e.rotationRate;
    // alpha, beta and gamma of a rotation rate are about x, y and z (seen in Chromium 156).
    if (rate && rate.alpha !== null && rate.beta !== null && rate.gamma !== null) {
      this.senses.spin = { spin: [rate.alpha, rate.beta, rate.gamma], at: now };
    }
    const g = e.accelerationIncludingGravity;
    if (g && g.x !== null && g.y !== null && g.z !== null) this.#weighed([g.x, g.y, g.z], e.timeStamp);
    const a = this.#shaken(e);
    if (a === null) return;
    const before = this.hearing.sharp;
    const n = knocked(this.hearing, e.timeStamp, a); // by the event's own clock: a busy page must not stretch a knock
    if (this.hearing.sharp !== before) this.struck(this.hearing.sharp);
    if (n) this.config.knocks(n);
  }

  /** @param {import('./attitude.js').Vector} g @param {number} now */
  #weighed(g, now) {
    const dt = Math.min(0.5, Math.max(0, (now - this.slowAt) / 1000));
    const old = this.slow ?? g;
    const k = this.slow ? dt / (SLOW + dt) : 1;
    /** @type {import('./attitude.js').Vector} */
    const slow = [old[0] + k * (g[0] - old[0]), old[1] + k * (g[1] - old[1]), old[2] + k * (g[2] - old[2])];
    this.slow = slow;
    this.slowAt = now;
    this.senses.gravityUp = unit(slow);
  }

  /** @param {DeviceMotionEvent} e @returns {number|null} m/s² without gravity */
  #shaken(e) {
    const a = e.acceleration;
    if (a && a.x !== null && a.y !== null && a.z !== null) return Math.hypot(a.x, a.y, a.z);
    const g = e.accelerationIncludingGravity;
    if (!g || g.x === null || g.y === null || g.z === null || !this.slow) return null;
    return Math.hypot(g.x - this.slow[0], g.y - this.slow[1], g.z - this.slow[2]);
  }

  async #watchBattery() {
    const ask = /** @type {{getBattery?: () => Promise<EventTarget & {level: number}>}} */ (/** @type {unknown} */ (navigator)).getBattery;
    if (!ask) return; // not every browser tells
    const battery = await ask.call(navigator).catch(() => null);
    if (!battery) return;
    const look = () => {
      this.senses.batt = Math.round(battery.level * 100) / 100;
      this.battery = fell(this.battery, { t: this.config.now(), batt: this.senses.batt });
    };
    look();
    battery.addEventListener('levelchange', look);
  }
}

/** Keeps the screen on: a phone that locks goes deaf. */
export class Awake {
  constructor() {
    /** @type {'no'|'yes'|'none'} */
    this.held = 'wakeLock' in navigator ? 'no' : 'none';
    this.wanted = false;
    this.changed = () => {};
    /** @type {WakeLockSentinel|null} */
    this.lock = null;
    document.addEventListener('visibilitychange', () => {
      if (this.wanted && document.visibilityState === 'visible') this.take();
    });
  }

  async take() {
    this.wanted = true;
    if (this.held === 'none') return;
    try {
      const lock = await navigator.wakeLock.request('screen');
      this.lock = lock;
      this.held = 'yes';
      lock.addEventListener('release', () => {
        this.held = 'no';
        this.changed();
      });
    } catch {
      this.held = 'no'; // low battery or hidden; asked again when the page is back
    }
    this.changed();
  }

  release() {
    this.wanted = false;
    this.lock?.release();
  }
}
