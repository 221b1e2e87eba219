import { Link, address } from '../link/link.js';
import { Queue } from '../link/queue.js';
import { ServerTime } from '../link/servertime.js';
import { Sampler, firstSeq, motion } from '../sense/sample.js';

/** Samples a second times a thousand: ten, as the service expects. */
export const PACE = 100;
/** Acknowledgements come with every few samples; none for so long and the link is dead, ms. */
const DEAF = 8000;
/** How many small messages wait for a link; more would be an hour of knocking. */
const MOST_WAITING = 200;

/**
 * What sends and keeps: the link, the queue of samples and the small messages
 * that wait for a link.
 */
export class Gear {
  /**
   * @param {object} config
   * @param {import('../sense/sensors.js').Sensors} config.sensors
   * @param {() => import('../link/messages.js').ToService} config.join
   * @param {(m: import('../link/messages.js').FromService) => void} config.heard
   * @param {(up: boolean) => void} config.linked
   * @param {() => number} config.now
   */
  constructor(config) {
    this.config = config;
    this.queue = new Queue();
    this.time = new ServerTime();
    this.sampler = new Sampler(firstSeq(config.now()));
    /** @type {import('../link/messages.js').ToService[]} */
    this.outbox = [];
    this.link = new Link({
      url: address(location),
      join: config.join,
      now: config.now,
      heard: (m, asked) => this.#heard(m, asked),
      changed: (up) => this.#linked(up),
    });
  }

  /** Sends now, or as soon as there is a link. @param {import('../link/messages.js').ToService} m */
  tell(m) {
    if (this.link.send(m)) return;
    this.outbox.push(m);
    if (this.outbox.length > MOST_WAITING) this.outbox.shift();
  }

  /** One tenth of a second: a sample is made, and what waits goes out. @param {{mount: import('../sense/attitude.js').Mount|null, mounting: import('../link/messages.js').Mounting}} how */
  tick(how) {
    const now = this.config.now();
    this.queue.push(this.sampler.next(this.config.sensors.senses, how, now));
    this.flush();
    if (this.link.up && now - this.link.lastHeard > DEAF) this.link.restart();
  }

  flush() {
    const m = this.queue.next();
    if (m) this.link.send(m);
  }

  /** Heading and lean as the next sample would have them. @param {import('../sense/attitude.js').Mount|null} mount */
  motion(mount) {
    return motion(this.config.sensors.senses, mount, this.config.now());
  }

  /** @param {import('../link/messages.js').FromService} m @param {number} asked */
  #heard(m, asked) {
    if (m.type === 'joined') this.time.sync(m.serverTime, asked, this.config.now());
    if (m.type === 'ack') this.queue.ack(m.seq);
    this.config.heard(m);
  }

  /** @param {boolean} up */
  #linked(up) {
    if (up) {
      this.queue.linkUp();
      for (const m of this.outbox.splice(0)) this.link.send(m);
      this.flush();
    } else {
      this.queue.linkDown();
    }
    this.config.linked(up);
  }
}
