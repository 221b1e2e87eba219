import { OwnEngine } from '../engine/engine.js';
import { acked, begun, offered, passed, settled } from './handover.js';

/** @typedef {import('../link/messages.js').Cue} Cue */
/** @typedef {import('../link/messages.js').FromService} FromService */
/** @typedef {import('../link/messages.js').ToService} ToService */

const SHELF = 'helmcue.settings';
/** So much of what went before is told to a new engine at most: half an hour. */
const TOLD_AGAIN = 18000;
const BATCH = 600; // samples in one message, as the service takes them
/** Own cues are counted from here, so that no id is also one of the service's. */
const OWN = 1e6;

/**
 * The two coaches of the page: the service's, heard over the link, and its own.
 * Decides with handover.js who speaks, and tells each what became of its words.
 */
export class Coach {
  /**
   * @param {object} config
   * @param {() => number} config.now
   * @param {import('../link/servertime.js').ServerTime} config.time
   * @param {(m: ToService) => void} config.tell the service
   * @param {(cue: Cue, own: boolean) => void} config.say its times by the service's clock
   * @param {(m: FromService) => void} config.show what a state, a note or a cue to be said does to the page
   * @param {() => void} config.changed
   */
  constructor(config) {
    this.config = config;
    this.turn = begun(config.now());
    this.allowed = false; // this page sails, and no other one speaks for her
    this.base = OWN * (1 + (Math.floor(config.now() / 1000) % 1e6)); // a page loaded again counts anew
    /** @type {Map<number, Cue>} */
    this.own = new Map();
    this.catchingUp = 0; // answers still to come about the time before this page
    this.engine = new OwnEngine({ said: (m) => this.#said(m), changed: config.changed });
  }

  get speaks() {
    return this.turn.who === 'page';
  }

  /** Begins with what an earlier page kept, unheard. @param {import('../link/queue.js').Item[]} before */
  start(before) {
    this.engine.start();
    this.#settings(remembered()?.settings);
    const items = before.slice(-TOLD_AGAIN);
    this.silentUntil = items[items.length - 1]?.t ?? 0;
    for (const m of batches(items)) this.engine.tell(m);
  }

  /** What this page made, for its own engine too. @param {ToService} m */
  made(m) {
    if (m.type !== 'spoken' && m.type !== 'sound_delay') this.engine.tell(m);
  }

  /** @param {FromService} m @returns {boolean} whether the page is to show it as the service's */
  heard(m) {
    const now = this.config.now();
    if (m.type === 'joined') this.#joined(m);
    if (m.type === 'ack') this.turn = acked(this.turn, now);
    if (m.type === 'input') this.#told(m.input);
    if (m.type === 'cue') return this.#offered('service', m);
    return !(this.speaks && m.type === 'state');
  }

  /** Ten times a second. @param {{up: boolean, waiting: number}} link */
  pass(link) {
    const now = this.config.now();
    const was = this.turn.who;
    this.turn = passed(this.turn, { ...link, now, can: this.engine.ready && this.allowed });
    if (this.turn.who !== was) this.config.changed();
    const { turn, heard, dropped } = settled(this.turn, now);
    this.turn = turn;
    for (const c of heard) for (const what of ['started', 'finished']) this.#tellOwn(c.id, what);
    for (const c of dropped) this.#tellOwn(c.id, 'dropped');
  }

  /** The page sails from now on: silence is counted from here. */
  allow() {
    this.allowed = true;
    this.turn = { ...this.turn, ackAt: Math.max(this.turn.ackAt, this.config.now()) };
  }

  /**
   * What became of a cue that was to be said.
   * @param {number} id @param {string} what @param {string} [note]
   */
  spoken(id, what, note) {
    const cue = this.own.get(id);
    const m = { type: 'spoken', id, t: this.config.now(), where: 'phone', what, ...(note ? { note } : {}) };
    this.config.tell(cue ? { ...m, own: forTheRecord(cue, id) } : m);
    if (cue) this.#tellOwn(cue.id, what);
  }

  /** @param {FromService} m what the own engine says, by this device's clock */
  #said(m) {
    if ('t' in m && (m.t ?? 0) <= (this.silentUntil ?? 0)) {
      if (m.type === 'cue') this.#tellOwn(m.id, 'dropped');
      return;
    }
    if (m.type === 'cue') this.#offered('page', m);
    else if (this.speaks && this.allowed || m.type === 'manoeuvre') this.config.show(m);
  }

  /** @param {import('./handover.js').Who} by @param {Cue} cue @returns {boolean} */
  #offered(by, cue) {
    const { turn, say, why } = offered(this.turn, by, cue, this.config.now());
    this.turn = turn;
    if (!say) {
      if (by === 'service') this.config.tell({ type: 'spoken', id: cue.id, t: this.config.now(), where: 'phone', what: 'dropped', note: why });
      else if (turn.who === 'page') this.#tellOwn(cue.id, 'dropped');
      return false;
    }
    if (by === 'service') {
      this.config.say(cue, false);
      return true;
    }
    const id = this.base + cue.id;
    this.own.set(id, cue);
    const there = { ...cue, id, t: this.config.time.there(cue.t), expires: this.config.time.there(cue.expires) };
    this.config.show(there);
    this.config.say(there, true);
    return true;
  }

  /** @param {number} id @param {string} what */
  #tellOwn(id, what) {
    this.engine.tell({ type: 'spoken', id, t: this.config.now(), what });
  }

  /** @param {import('../link/messages.js').Joined} m */
  #joined(m) {
    remember({ settings: m.settings, voice: m.voice, boat: m.boat });
    this.#settings(m.settings);
  }

  /** @param {object|undefined} settings */
  #settings(settings) {
    if (settings) this.engine.tell({ type: 'settings', t: this.config.now(), settings });
  }

  /** What others told the service's engine. @param {{t: number, kind: string, settings?: object}} input */
  #told(input) {
    this.engine.tell({ type: 'input', input: { ...input, t: Math.round(this.config.time.here(input.t)) } });
    const before = remembered();
    if (input.kind === 'settings' && input.settings && before) remember({ ...before, settings: input.settings });
  }
}

/**
 * What the service said when it was last in reach: with it the phone can be taken
 * to the water alone.
 * @returns {{settings: object, voice: string, boat: string}|null}
 */
export function remembered() {
  try {
    return JSON.parse(localStorage.getItem(SHELF) ?? 'null');
  } catch {
    return null; // of an older page
  }
}

/** @param {{settings: object, voice: string, boat: string}} what */
function remember(what) {
  localStorage.setItem(SHELF, JSON.stringify(what));
}

/** An own cue as the service records it: without how it is played. @param {Cue} cue @param {number} id */
function forTheRecord(cue, id) {
  const { type, boat, clips, gapMs, repeat, ...rest } = cue;
  return { ...rest, id };
}

/**
 * Runs of samples in messages, all else between them in its place.
 * @param {import('../link/queue.js').Item[]} items
 * @returns {ToService[]}
 */
export function batches(items) {
  /** @type {ToService[]} */
  const out = [];
  /** @type {import('../link/queue.js').Item[]} */
  let run = [];
  const close = () => {
    if (run.length) out.push({ type: 'samples', batch: run });
    run = [];
  };
  for (const i of items) {
    if (i.type) {
      close();
      if (i.type !== 'spoken' && i.type !== 'sound_delay') out.push(/** @type {ToService} */ (i));
    } else if (run.push(i) === BATCH) close();
  }
  close();
  return out;
}
