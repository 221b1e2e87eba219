import { Journal } from '../link/journal.js';
import { Link, address } from '../link/link.js';
import { Queue } from '../link/queue.js';
import { ServerTime } from '../link/servertime.js';
import { Sampler, firstSeq, motion } from '../sense/sample.js';

/** Samples a second times a thousand: ten, as the service expects. */
export const PACE = 100;
/** Acknowledgements come with every few samples; none for so long and the link is dead, ms. */
const DEAF = 8000;
/** Messages in one tenth of a second at most: twenty a second, below the service's limit of thirty. */
const AT_ONCE = 2;
/** So much may lie in the socket before more is put in, bytes: three hours come home in their own time on a slow link. */
const IN_SOCKET = 300000;
/** Ticks between two writings of the journal: a second. */
const WRITTEN = 10;

/**
 * What sends and keeps: the link, the queue of what the service must have, and the
 * journal that holds it on this phone's disk.
 */
export class Gear {
  /**
   * @param {object} config
   * @param {import('../sense/sensors.js').Sensors} config.sensors
   * @param {() => import('../link/messages.js').ToService} config.join
   * @param {(m: import('../link/messages.js').FromService) => void} config.heard
   * @param {(m: import('../link/messages.js').ToService) => void} config.made everything that goes to the service, as it is made
   * @param {(up: boolean) => void} config.linked
   * @param {(trouble: string) => void} config.kept what keeps the journal from keeping
   * @param {() => number} config.now
   * @param {(t: number) => void} config.notBefore time goes on from here: what an earlier page wrote last
   */
  constructor(config) {
    this.config = config;
    this.queue = new Queue();
    this.journal = new Journal({ changed: config.kept });
    this.time = new ServerTime();
    this.sampler = new Sampler(firstSeq(config.now()));
    this.acked = -1; // on the present link
    /** @type {{seq: number, at: number}[]} */
    this.asked = []; // when what is not acknowledged left, on the present link
    this.ticks = 0;
    this.link = new Link({
      url: address(location),
      join: config.join,
      now: config.now,
      heard: (m, asked) => this.#heard(m, asked),
      changed: (up) => this.#linked(up),
    });
  }

  /**
   * Takes up what other pages left on this phone: what the service does not have
   * goes to it.
   * @returns {Promise<import('../link/queue.js').Item[]>} all that is still here, the oldest first
   */
  async takeUp() {
    await this.write();
    const { all, owed } = await this.journal.read();
    const last = all[all.length - 1];
    this.sampler.seq = Math.max(this.sampler.seq, (last?.seq ?? -1) + 1);
    if (last?.t !== undefined) this.config.notBefore(last.t);
    if (this.queue.restore(owed) && this.link.up) this.link.restart(); // acknowledgements are counted anew
    return all;
  }

  /** Sends now, or in its turn as soon as there is a link. @param {import('../link/messages.js').ToService} m */
  tell(m) {
    const item = { ...m, seq: this.sampler.seq++ };
    this.#keep(item);
    this.config.made(item);
    this.flush();
  }

  /** One tenth of a second: a sample is made, and what waits goes out. @param {{mount: import('../sense/attitude.js').Mount|null, mounting: import('../link/messages.js').Mounting}} how */
  tick(how) {
    const now = this.config.now();
    const sample = this.sampler.next(this.config.sensors.senses, how, now);
    this.#keep({ ...sample });
    this.config.made({ type: 'sample', ...sample });
    for (let i = 0; i < AT_ONCE; i++) this.flush();
    if (++this.ticks % WRITTEN === 0) this.write();
    if (this.link.up && now - this.link.lastHeard > DEAF) this.link.restart();
  }

  /** What is new goes to the disk; also when the page is about to go. */
  write() {
    const now = this.config.now();
    return this.journal.write(now).then(() => this.journal.acked(this.acked, now));
  }

  /** Where nothing is sensed: what is owed goes out, and what has arrived is marked. @param {number} [ms] since it was called last */
  bringHome(ms = PACE) {
    for (let i = 0; i < AT_ONCE * (ms / PACE); i++) this.flush();
    if (this.queue.sent > 0 || this.acked >= 0) this.write();
  }

  flush() {
    if ((this.link.socket?.bufferedAmount ?? 0) > IN_SOCKET) return;
    const m = this.queue.next();
    if (!m) return;
    const at = this.config.now();
    if (m.type === 'samples') m.t = at;
    if (this.link.send(m)) this.asked.push({ seq: topOf(m), at });
  }

  /** Heading and lean as the next sample would have them. @param {import('../sense/attitude.js').Mount|null} mount */
  motion(mount) {
    return motion(this.config.sensors.senses, mount, this.config.now());
  }

  /** @param {import('../link/queue.js').Item} item */
  #keep(item) {
    this.queue.push(item);
    this.journal.add(item);
  }

  /** @param {import('../link/messages.js').FromService} m @param {number} asked */
  #heard(m, asked) {
    if (m.type === 'joined') this.time.sync(m.serverTime, asked, this.config.now());
    if (m.type === 'ack') {
      this.#compare(m);
      this.queue.ack(m.seq);
      this.acked = Math.max(this.acked, m.seq);
    }
    this.config.heard(m);
  }

  /** An answer says what the service's clock shows. @param {import('../link/messages.js').Ack} m */
  #compare(m) {
    while (this.asked.length && this.asked[0].seq < m.seq) this.asked.shift();
    const asked = this.asked[0];
    if (m.t !== undefined && asked?.seq === m.seq) this.time.sync(m.t, asked.at, this.config.now());
  }

  /** @param {boolean} up */
  #linked(up) {
    this.acked = -1;
    this.asked = [];
    if (up) {
      this.queue.linkUp();
      this.flush();
    } else {
      this.queue.linkDown();
    }
    this.config.linked(up);
  }
}

/** The highest seq a message carries. @param {import('../link/messages.js').ToService} m @returns {number} */
function topOf(m) {
  const batch = /** @type {{seq: number}[]|undefined} */ (m.batch);
  return batch ? batch[batch.length - 1].seq : /** @type {number} */ (m.seq);
}
