/** @typedef {import('./messages.js').Sample} Sample */

/** The service takes frames up to 64 kB; 200 samples are about 40. */
export const BATCH = 200;

/** Two hours at 10 Hz: about what a phone's memory should be asked to hold. */
export const MOST = 72000;

/**
 * Keeps every sample until the service says it is recorded. Samples leave in
 * the order they were made, and after the link was down all that were not
 * acknowledged leave again; the service drops what it has by seq.
 */
export class Queue {
  /** @param {number} [most] beyond which the oldest samples are given up */
  constructor(most = MOST) {
    this.most = most;
    /** @type {Sample[]} */
    this.kept = [];
    this.sent = 0; // how many of kept went out on the present link
    this.lost = 0; // given up because the link was down too long
    this.up = false;
  }

  /** @param {Sample} sample */
  push(sample) {
    this.kept.push(sample);
    if (this.kept.length > this.most) {
      this.kept.shift();
      this.lost++;
      this.sent = Math.max(0, this.sent - 1);
    }
  }

  linkUp() {
    this.up = true;
    this.sent = 0;
  }

  linkDown() {
    this.up = false;
    this.sent = 0;
  }

  /** @param {number} seq the highest seq that is recorded */
  ack(seq) {
    let n = 0;
    while (n < this.sent && this.kept[n].seq <= seq) n++;
    this.kept.splice(0, n);
    this.sent -= n;
  }

  /** How many samples still wait for the service to have them. */
  get waiting() {
    return this.kept.length;
  }

  /**
   * The next message to send, or null. One call, one message: called at the
   * pace of the samples it keeps below the service's rate limit by itself.
   * @returns {import('./messages.js').ToService | null}
   */
  next() {
    if (!this.up) return null;
    const out = this.kept.slice(this.sent, this.sent + BATCH);
    this.sent += out.length;
    if (out.length === 0) return null;
    if (out.length === 1) return { type: 'sample', ...out[0] };
    return { type: 'samples', batch: out };
  }
}
