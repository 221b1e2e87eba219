/** @typedef {import('./messages.js').FromService} FromService */
/** @typedef {import('./messages.js').ToService} ToService */

/** Waits between tries, ms: quick at first, since most gaps are short. */
const WAITS = [500, 1000, 2000, 4000, 8000];

/** A browser tries for minutes to reach a network that is gone; we try anew, ms. */
const PATIENCE = 8000;

/**
 * @param {number} tries how many have failed in a row
 * @returns {number} milliseconds to wait before the next
 */
export function waitAfter(tries) {
  return WAITS[Math.min(tries, WAITS.length) - 1] ?? WAITS[0];
}

/** @param {Location} at @returns {string} */
export function address(at) {
  return `${at.protocol === 'https:' ? 'wss' : 'ws'}://${at.host}/link`;
}

/**
 * One link to the service that mends itself. It joins by itself on every
 * opening and is up only once the service has answered joined.
 */
export class Link {
  /**
   * @param {object} config
   * @param {string} config.url
   * @param {() => ToService} config.join
   * @param {(m: FromService, asked: number) => void} config.heard asked: when the join went out
   * @param {(up: boolean) => void} config.changed
   * @param {() => number} config.now
   */
  constructor(config) {
    this.config = config;
    this.tries = 0;
    this.up = false;
    this.asked = 0;
    this.lastHeard = 0;
    /** @type {WebSocket|null} */
    this.socket = null;
    /** @type {ReturnType<typeof setTimeout>|undefined} */
    this.timer = undefined;
  }

  open() {
    clearTimeout(this.timer);
    const socket = new WebSocket(this.config.url);
    this.socket = socket;
    socket.onopen = () => {
      this.asked = this.config.now();
      this.lastHeard = this.asked;
      socket.send(JSON.stringify(this.config.join()));
    };
    socket.onmessage = (event) => {
      if (this.socket === socket) this.#heard(event.data);
    };
    socket.onclose = () => {
      if (this.socket === socket) this.#down();
    };
    this.timer = setTimeout(() => {
      if (this.socket !== socket || this.up) return;
      this.#down();
      socket.close();
    }, PATIENCE);
  }

  /** Tries at once: the page is back, or the person asked. */
  retry() {
    if (this.up) return;
    this.tries = 0;
    this.drop();
    this.open();
  }

  /** Gives the link up without trying again. */
  close() {
    if (this.up) this.send({ type: 'bye' });
    this.drop();
  }

  /** A socket can look open for minutes after the network is gone. */
  restart() {
    this.drop();
    this.tries = 0;
    this.open();
  }

  drop() {
    clearTimeout(this.timer);
    const socket = this.socket;
    this.socket = null;
    socket?.close();
    if (this.up) {
      this.up = false;
      this.config.changed(false);
    }
  }

  /** @param {ToService} m @returns {boolean} whether it left */
  send(m) {
    if (!this.up || this.socket?.readyState !== WebSocket.OPEN) return false;
    this.socket.send(JSON.stringify(m));
    return true;
  }

  /** @param {string} text */
  #heard(text) {
    /** @type {FromService} */
    const m = JSON.parse(text);
    this.lastHeard = this.config.now();
    if (m.type === 'joined') {
      clearTimeout(this.timer);
      this.up = true;
      this.tries = 0;
      this.config.heard(m, this.asked);
      this.config.changed(true);
      return;
    }
    this.config.heard(m, this.asked);
  }

  #down() {
    this.socket = null;
    this.tries++;
    if (this.up) {
      this.up = false;
      this.config.changed(false);
    }
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.open(), waitAfter(this.tries));
  }
}
