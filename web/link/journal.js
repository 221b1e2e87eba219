/** @typedef {import('./queue.js').Item} Item */
/** @typedef {{first: number, last: number, at: number, done: boolean}} Block what stands in the store, without its items; done: the service has it */

const NAME = 'helmcue';
const STORE = 'kept';
const DONE = 'had'; // first seq of the blocks the service has

/**
 * How long what the service has stays here too, ms: a page that is loaded again
 * tells its own coach what went before, which must not begin with no wind.
 */
export const REMEMBER = 10 * 60 * 1000;

/**
 * What the pages of this phone made, on its own disk (IndexedDB): appended each
 * second, so that a page that is killed loses at most that second. A block the
 * service has is marked so, and taken out once it is old.
 */
export class Journal {
  /** @param {object} config @param {(trouble: string) => void} config.changed what keeps it from keeping; '' where nothing does */
  constructor(config) {
    this.config = config;
    /** @type {Promise<IDBDatabase|null>} */
    this.open = database().catch((e) => {
      this.#troubled(e);
      return null;
    });
    /** @type {Item[]} */
    this.fresh = [];
    /** @type {Block[]} */
    this.blocks = [];
    /** @type {Set<number>} */
    this.mine = new Set(); // first seq of the blocks this page wrote: what is owed of them is in its memory
    this.trouble = '';
  }

  /**
   * All that is kept, the oldest first, and what of it the service does not have and
   * another page made.
   * @returns {Promise<{all: Item[], owed: Item[]}>}
   */
  async read() {
    const db = await this.open;
    if (!db) return { all: [], owed: [] };
    const tx = db.transaction([STORE, DONE]);
    const [rows, marks] = await Promise.all([done(tx.objectStore(STORE).getAll()), done(tx.objectStore(DONE).getAllKeys())]).catch(() => [[], []]);
    const had = new Set(marks);
    this.blocks = rows.map(({ first, last, at }) => ({ first, last, at, done: had.has(first) }));
    const items = (/** @type {{text: string}[]} */ list) => list.flatMap((row) => JSON.parse(row.text));
    return { all: items(rows), owed: items(rows.filter((r) => !had.has(r.first) && !this.mine.has(r.first))) };
  }

  /** @param {Item} item */
  add(item) {
    this.fresh.push(item);
  }

  /** Once a second: what is new goes to the disk. Resolves once it is there. @param {number} now */
  async write(now) {
    const db = await this.open;
    const items = this.fresh; // only now: what is added while the store opens belongs to it
    if (!db || items.length === 0) return;
    this.fresh = [];
    const block = { first: items[0].seq, last: items[items.length - 1].seq, at: now };
    this.mine.add(block.first);
    try {
      const tx = db.transaction(STORE, 'readwrite', { durability: 'strict' });
      tx.objectStore(STORE).put({ ...block, text: JSON.stringify(items) });
      await over(tx);
      this.blocks.push({ ...block, done: false });
      this.#troubled(null);
    } catch (e) {
      this.fresh = [...items, ...this.fresh].slice(-MOST_UNWRITTEN); // tried again with the next second
      this.#troubled(e);
    }
  }

  /** Marks what the service has, and lets go of what is old. @param {number} seq the highest it has @param {number} now */
  async acked(seq, now) {
    const news = this.blocks.filter((b) => !b.done && b.last <= seq);
    const old = this.blocks.filter((b) => b.done && now - b.at > REMEMBER);
    const db = await this.open;
    if (!db || news.length + old.length === 0) return;
    try { // a full store refuses already while it is asked
      const tx = db.transaction([STORE, DONE], 'readwrite');
      for (const b of news) tx.objectStore(DONE).put(b.at, b.first);
      for (const b of old) for (const store of [STORE, DONE]) tx.objectStore(store).delete(b.first);
      await over(tx);
    } catch {
      return; // tried again; a page loaded before sends it once more, and the service knows it
    }
    for (const b of news) b.done = true;
    this.blocks = this.blocks.filter((b) => !old.includes(b));
  }

  /** @param {unknown} e */
  #troubled(e) {
    const text = e === null ? '' : e instanceof DOMException && e.name === 'QuotaExceededError' ? 'full' : 'broken';
    if (text === this.trouble) return;
    this.trouble = text;
    this.config.changed(text);
  }
}

/** An hour; what could not be written is in the queue's memory all the same. */
const MOST_UNWRITTEN = 36000;

/** @returns {Promise<IDBDatabase>} */
function database() {
  const asked = indexedDB.open(NAME, 1);
  asked.onupgradeneeded = () => {
    asked.result.createObjectStore(STORE, { keyPath: 'first' });
    asked.result.createObjectStore(DONE);
  };
  return done(asked);
}

/** @template T @param {IDBRequest<T>} request @returns {Promise<T>} */
function done(request) {
  return new Promise((yes, no) => {
    request.onsuccess = () => yes(request.result);
    request.onerror = () => no(request.error);
  });
}

/** @param {IDBTransaction} tx @returns {Promise<void>} */
function over(tx) {
  return new Promise((yes, no) => {
    tx.oncomplete = () => yes();
    tx.onabort = tx.onerror = () => no(tx.error);
  });
}
