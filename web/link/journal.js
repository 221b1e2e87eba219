/** @typedef {import('./queue.js').Item} Item */
/** @typedef {{first: number, last: number, at: number}} Block what stands in the store, without its items */

const NAME = 'helmcue';
const STORE = 'kept';

/**
 * How long what the service has stays here too, ms: a page that is loaded again
 * tells its own coach what went before, which must not begin with no wind.
 */
export const REMEMBER = 10 * 60 * 1000;

/**
 * What this page made, on the phone's own disk (IndexedDB): appended each second,
 * so that a page that is killed loses at most that second. A block is taken out
 * once the service has it and it is old.
 */
export class Journal {
  /** @param {object} config @param {(trouble: string) => void} config.changed what keeps it from keeping; '' where nothing does */
  constructor(config) {
    this.config = config;
    /** @type {Promise<IDBDatabase|null>} */
    this.open = new Promise((done) => done(null));
    /** @type {Item[]} */
    this.fresh = [];
    /** @type {Block[]} */
    this.blocks = [];
    this.trouble = '';
  }

  /**
   * Opens the store and returns all that is in it, the oldest first.
   * @returns {Promise<Item[]>}
   */
  async start() {
    this.open = database().catch((e) => {
      this.#troubled(e);
      return null;
    });
    const db = await this.open;
    if (!db) return [];
    const rows = await done(db.transaction(STORE).objectStore(STORE).getAll()).catch(() => []);
    this.blocks = rows.map(({ first, last, at }) => ({ first, last, at }));
    return rows.flatMap((row) => JSON.parse(row.text));
  }

  /** @param {Item} item */
  add(item) {
    this.fresh.push(item);
  }

  /** Once a second: what is new goes to the disk. Resolves once it is there. @param {number} now */
  async write(now) {
    const items = this.fresh;
    const db = await this.open;
    if (!db || items.length === 0) return;
    this.fresh = [];
    const block = { first: items[0].seq, last: items[items.length - 1].seq, at: now };
    try {
      const tx = db.transaction(STORE, 'readwrite', { durability: 'strict' });
      tx.objectStore(STORE).put({ ...block, text: JSON.stringify(items) });
      await over(tx);
      this.blocks.push(block);
      this.#troubled(null);
    } catch (e) {
      this.fresh = [...items, ...this.fresh].slice(-MOST_UNWRITTEN); // tried again with the next second
      this.#troubled(e);
    }
  }

  /** Lets go of what the service has and is old. @param {number} seq the highest it has @param {number} now */
  async acked(seq, now) {
    let n = 0;
    while (n < this.blocks.length && this.blocks[n].last <= seq && now - this.blocks[n].at > REMEMBER) n++;
    if (n === 0) return;
    const upTo = this.blocks[n - 1].first;
    this.blocks.splice(0, n);
    const db = await this.open;
    if (!db) return;
    const tx = db.transaction(STORE, 'readwrite');
    tx.objectStore(STORE).delete(IDBKeyRange.upperBound(upTo));
    await over(tx).catch(() => {}); // stays, and is sent once more: the service knows it
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
  asked.onupgradeneeded = () => asked.result.createObjectStore(STORE, { keyPath: 'first' });
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
