/**
 * One page at a time sails on a phone: the newest takes over, since it is the one
 * in the hand. Where the browser has no locks all may.
 */
export class SailingLock {
  /** @param {() => void} lost another page took over */
  constructor(lost) {
    this.lost = lost;
    this.held = false;
  }

  /** @returns {boolean} whether it was not this page's before */
  take() {
    if (this.held || !navigator.locks) return false;
    this.held = true;
    navigator.locks.request('helmcue.sailing', { steal: true }, () => new Promise(() => {})).catch(() => {
      this.held = false;
      this.lost();
    });
    return true;
  }
}
