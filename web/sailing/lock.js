const NAME = 'helmcue.sailing';

/** How long a page that is asked to may take to lay down its work, ms; a frozen one never does. */
const PATIENCE = 1500;

/**
 * One page at a time sails on a phone: the newest takes over, since it is the one
 * in the hand. It begins only when the other has stopped and written down what it
 * has, so that no moment is sensed twice. Where the browser has no locks all may.
 */
export class SailingLock {
  /** @param {() => Promise<void>|void} lost another page takes over: stop; it waits until this is done */
  constructor(lost) {
    this.lost = lost;
    this.held = false; // or asked for
    this.asked = 0; // when, ms, with a fraction of its own: of two that ask at once one is the newer
    this.since = 0; // the same by the monotonic clock, ms
    this.waiting = new AbortController();
    this.free = () => {};
    this.others = globalThis.BroadcastChannel && navigator.locks ? new BroadcastChannel(NAME) : null;
    if (this.others) this.others.onmessage = ({ data }) => this.#hear(data);
  }

  /** @returns {Promise<boolean>} once it is known: whether this page may sail, which it might not before */
  async take() {
    if (this.held || !navigator.locks) return false;
    this.held = true;
    this.asked = Date.now() + Math.random();
    this.since = performance.now();
    const waiting = this.waiting = new AbortController();
    this.others?.postMessage(this.asked);
    const patience = setTimeout(() => waiting.abort(), PATIENCE);
    await new Promise((/** @type {(value?: unknown) => void} */ settled) => this.#ask(waiting, () => settled()));
    clearTimeout(patience);
    return this.held;
  }

  /** @param {AbortController} waiting @param {() => void} settled */
  async #ask(waiting, settled) {
    let got = false;
    const hold = () => {
      got = true;
      settled();
      return this.held ? new Promise((/** @type {(value?: unknown) => void} */ free) => { this.free = () => free(); }) : undefined;
    };
    try {
      await navigator.locks.request(NAME, { signal: waiting.signal }, hold).catch((e) => {
        if (got) throw e;
        return this.held ? navigator.locks.request(NAME, { steal: true }, hold) : undefined;
      });
    } catch { // stolen, since this page was frozen when it was asked
      this.#lose();
    }
    settled();
  }

  /**
   * Another page asks. It is the newer by its stamp; where this one has sailed for
   * longer than two that ask at once wait it is so whatever the stamps say, since
   * the phone's clock may have been set back.
   * @param {number} asked
   */
  #hear(asked) {
    if (asked > this.asked || performance.now() - this.since > PATIENCE) this.#lose();
  }

  async #lose() {
    if (!this.held) return;
    this.held = false;
    this.waiting.abort();
    const { free } = this;
    await this.lost();
    free();
  }
}
