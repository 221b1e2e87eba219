/** @typedef {import('../link/messages.js').FromService} FromService */
/** @typedef {import('../link/messages.js').ToService} ToService */
/** @typedef {{busy: number, heard: number, memory: number}} Cost ms in which the thread was busy, messages, bytes */

/**
 * The page's own coach: the service's engine, compiled for the browser, in a
 * worker. It is told every message the service is told, and says what the
 * service would say. Times are by this device's clock.
 */
export class OwnEngine {
  /**
   * @param {object} config
   * @param {(m: FromService) => void} config.said a state, a cue, a manoeuvre or a note
   * @param {() => void} config.changed it is ready, or failed
   */
  constructor(config) {
    this.config = config;
    /** @type {Worker|null} */
    this.worker = null;
    this.ready = false;
    this.startMs = 0;
    this.trouble = ''; // why there is none
    this.refused = ''; // the last message it would not take
    /** @type {((c: Cost) => void)[]} */
    this.asking = [];
  }

  start() {
    if (this.worker) return;
    this.worker = new Worker('/sailor-coach.js');
    this.worker.onmessage = ({ data }) => this.#heard(data);
    this.worker.onerror = (e) => {
      e.preventDefault();
      this.#failed(e.message || 'the coach did not load');
    };
  }

  /** @param {ToService|{type: string, [field: string]: unknown}} m */
  tell(m) {
    if (!this.trouble) this.worker?.postMessage({ message: JSON.stringify(m) });
  }

  /** What it has cost since it was started. @returns {Promise<Cost>} */
  cost() {
    return new Promise((done) => {
      this.asking.push(done);
      this.worker?.postMessage({ cost: true });
    });
  }

  /** @param {{ready?: number, out?: string, refused?: string, failed?: string, cost?: Cost}} d */
  #heard(d) {
    if (d.out !== undefined) for (const m of JSON.parse(d.out)) this.config.said(m);
    if (d.refused !== undefined) this.refused = d.refused;
    if (d.failed !== undefined) this.#failed(d.failed);
    if (d.cost !== undefined) this.asking.shift()?.(d.cost);
    if (d.ready === undefined) return;
    this.ready = true;
    this.startMs = d.ready;
    this.config.changed();
  }

  /** @param {string} why */
  #failed(why) {
    this.ready = false;
    this.trouble = why;
    this.worker?.terminate();
    this.config.changed();
  }
}
