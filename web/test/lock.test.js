import assert from 'node:assert/strict';
import { after, test } from 'node:test';
import { SailingLock } from '../sailing/lock.js';

const alive = setInterval(() => {}, 100); // a signal's own timer keeps no process up
after(() => clearInterval(alive));

/** One origin's locks, as far as pages use them (W3C Web Locks API): one holder, a queue, stealing. */
function locks() {
  let holder = null;
  const queue = [];
  const next = () => {
    if (holder || queue.length === 0) return;
    const { hold, yes, no } = queue.shift();
    const mine = { no };
    holder = mine;
    Promise.resolve(hold()).then((v) => {
      if (holder !== mine) return;
      holder = null;
      yes(v);
      next();
    });
  };
  return {
    request(_, options, hold) {
      return new Promise((yes, no) => {
        const ask = { hold, yes, no };
        if (options.steal) {
          holder?.no(new DOMException('stolen', 'AbortError'));
          holder = null;
          queue.unshift(ask);
        } else {
          queue.push(ask);
          options.signal.addEventListener('abort', () => {
            const i = queue.indexOf(ask);
            if (i >= 0) {
              queue.splice(i, 1);
              no(options.signal.reason);
            }
          });
        }
        next();
      });
    },
  };
}

/** Pages of one phone; a frozen page hears no other. */
function phone() {
  const all = new Set();
  Object.defineProperty(globalThis, 'navigator', { value: { locks: locks() }, configurable: true });
  globalThis.BroadcastChannel = class {
    constructor() { all.add(this); }
    postMessage(data) { for (const o of all) if (o !== this && !o.frozen) queueMicrotask(() => o.onmessage?.({ data })); }
  };
  return (name, log) => new SailingLock(() => log.push(`${name} stops`));
}

test('the newer page begins when the older has stopped, and back again', async () => {
  const page = phone(), log = [];
  const a = page('a', log), b = page('b', log);
  assert.equal(await a.take(), true);
  assert.equal(await a.take(), false); // its own already
  b.take().then((news) => log.push(`b begins ${news}`));
  await new Promise((f) => setTimeout(f, 20));
  a.take().then((news) => log.push(`a begins ${news}`));
  await new Promise((f) => setTimeout(f, 20));
  assert.deepEqual(log, ['a stops', 'b begins true', 'b stops', 'a begins true']);
});

test('a frozen page is not waited for, and does not take back what was taken', async () => {
  const page = phone(), log = [];
  const a = page('a', log), b = page('b', log);
  await a.take();
  a.others.frozen = true;
  assert.equal(await b.take(), true);
  await new Promise((f) => setTimeout(f, 20));
  assert.deepEqual(log, ['a stops']);
  assert.equal(a.held, false);
  assert.equal(b.held, true);
});

test('of two that ask at once one sails and the other stops', async () => {
  const page = phone(), log = [];
  const a = page('a', log), b = page('b', log);
  await Promise.all([a.take(), b.take()]);
  await new Promise((f) => setTimeout(f, 20));
  assert.notEqual(a.held, b.held);
  assert.deepEqual(log, [a.held ? 'b stops' : 'a stops']);
});
