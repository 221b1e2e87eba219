/**
 * Maps between this device's clock and the service's, so that a cue's expiry
 * means the same on both. The error is at most half of the time the answer took.
 */
export class ServerTime {
  constructor() {
    /** @type {number|null} */
    this.ahead = null; // service minus device, ms
  }

  /**
   * @param {number} serverTime the service's clock when it answered
   * @param {number} asked this device's clock when it asked
   * @param {number} answered this device's clock when the answer came
   */
  sync(serverTime, asked, answered) {
    this.ahead = serverTime - (asked + answered) / 2;
  }

  /** @param {number} here a time by this device's clock */
  there(here) {
    return here + (this.ahead ?? 0);
  }

  /** @param {number} there a time by the service's clock */
  here(there) {
    return there - (this.ahead ?? 0);
  }
}
