/**
 * What this page made and the service must have: a sample (without type) or
 * another message. All carry seq, which rises.
 * @typedef {{seq: number, t?: number, type?: string, [field: string]: unknown}} Item
 */

/** The service takes frames up to 64 kB; 200 samples are about 40. */
export const BATCH = 200;

/** Four hours at 10 Hz: about what a phone's memory should be asked to hold. */
export const MOST = 144000;

/**
 * Keeps everything until the service says it is recorded. It leaves in the order
 * it was made, so that knocks and words keep their place among the samples, and
 * after the link was down all that was not acknowledged leaves again; the service
 * drops what it has by seq.
 */
export class Queue {
  /** @param {number} [most] beyond which the oldest is given up */
  constructor(most = MOST) {
    this.most = most;
    /** @type {Item[]} */
    this.kept = [];
    this.sent = 0; // how many of kept went out on the present link
    this.lost = 0; // given up because the link was down too long
    this.up = false;
  }

  /** @param {Item} item */
  push(item) {
    this.kept.push(item);
    if (this.kept.length > this.most) {
      this.kept.shift();
      this.lost++;
      this.sent = Math.max(0, this.sent - 1);
    }
  }

  /**
   * Takes in what other pages left, in the order of seq. All goes out anew.
   * @param {Item[]} items
   * @returns {boolean} whether any was new
   */
  restore(items) {
    const name = (/** @type {Item} */ i) => `${i.seq} ${i.t}`;
    const have = new Set(this.kept.map(name));
    const news = items.filter((i) => !have.has(name(i)));
    if (news.length === 0) return false;
    this.kept = [...news, ...this.kept].sort((a, b) => a.seq - b.seq).slice(-this.most);
    this.sent = 0;
    return true;
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

  /** How many samples and messages still wait for the service to have them. */
  get waiting() {
    return this.kept.length;
  }

  /**
   * The next message to send, or null: one message, or a run of samples.
   * @returns {import('./messages.js').ToService | null}
   */
  next() {
    if (!this.up) return null;
    const first = this.kept[this.sent];
    if (!first) return null;
    this.sent++;
    if (first.type) return /** @type {import('./messages.js').ToService} */ (first);
    const run = [first];
    while (run.length < BATCH && this.kept[this.sent] && !this.kept[this.sent].type) run.push(this.kept[this.sent++]);
    return run.length === 1 ? { type: 'sample', ...first } : { type: 'samples', batch: run };
  }
}
