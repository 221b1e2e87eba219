/**
 * Maps between this device's clock and the service's, so that a cue's expiry means
 * the same on both. Every answer of the service says what its clock showed: between
 * question and answer, so that it is known to half of the time they took. The best
 * of each ten seconds of the last ten minutes give offset and drift.
 *
 * @typedef {{at: number, ahead: number, half: number}} Exchange at by this device's clock; ahead: service minus device; half of the way there and back, all ms
 */

const STRETCH = 10 * 1000;
const WINDOW = 10 * 60 * 1000;
/** Heard for so long before a drift is told from jitter, ms. */
const LONG = 2 * 60 * 1000;
/** Ordinary quartz is within 0.0001 (common practice, no source); more is no drift. */
const MOST = 0.0003;
/** So far off, beyond what its way explains, an answer is odd, ms; so many in a row, and a clock was set. */
const ODD = 500;
const BELIEVED = 5;

export class ServerTime {
  constructor() {
    /** @type {Exchange[]} */
    this.best = []; // the oldest first, one a stretch
    this.odd = 0;
    /** @type {{at: number, ahead: number, drift: number}|null} */
    this.line = null;
  }

  /**
   * @param {number} serverTime the service's clock when it answered
   * @param {number} asked this device's clock when it asked
   * @param {number} answered this device's clock when the answer came
   */
  sync(serverTime, asked, answered) {
    const e = { at: (asked + answered) / 2, ahead: serverTime - (asked + answered) / 2, half: Math.max(0, answered - asked) / 2 };
    const last = this.best[this.best.length - 1];
    if (last && e.at - last.at > WINDOW) this.#forget(); // it may have drifted otherwise meanwhile
    else if (this.line && Math.abs(e.ahead - this.#ahead(e.at)) > ODD + e.half) {
      if (++this.odd < BELIEVED) return;
      this.#forget();
    }
    this.odd = 0;
    this.#keep(e);
  }

  /** @param {number} here a time by this device's clock */
  there(here) {
    return here + this.#ahead(here);
  }

  /** @param {number} there a time by the service's clock */
  here(there) {
    const l = this.line;
    return l ? l.at + (there - l.at - l.ahead) / (1 + l.drift) : there;
  }

  #forget() {
    this.best = [];
    this.line = null;
  }

  /** @param {number} here */
  #ahead(here) {
    return this.line ? this.line.ahead + this.line.drift * (here - this.line.at) : 0;
  }

  /** @param {Exchange} e */
  #keep(e) {
    const last = this.best[this.best.length - 1];
    if (last && Math.floor(last.at / STRETCH) === Math.floor(e.at / STRETCH)) {
      if (e.half >= last.half) return;
      this.best.pop();
    }
    this.best.push(e);
    while (e.at - this.best[0].at > WINDOW) this.best.shift();
    this.line = fitted(this.best);
  }
}

/**
 * The line through them, those that took short counting most.
 * @param {Exchange[]} all at least one
 */
function fitted(all) {
  const weight = all.map((e) => 1 / (e.half + 5) ** 2);
  const sum = weight.reduce((a, b) => a + b, 0);
  const mean = (/** @type {(e: Exchange) => number} */ of) => all.reduce((s, e, i) => s + weight[i] * of(e), 0) / sum;
  const at = mean((e) => e.at);
  const ahead = mean((e) => e.ahead);
  const spread = mean((e) => (e.at - at) ** 2);
  const long = all[all.length - 1].at - all[0].at >= LONG && spread > 0;
  const drift = long ? mean((e) => (e.at - at) * (e.ahead - ahead)) / spread : 0;
  return { at, ahead, drift: Math.min(MOST, Math.max(-MOST, drift)) };
}
