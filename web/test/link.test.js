import assert from 'node:assert/strict';
import { test } from 'node:test';
import { address, waitAfter } from '../link/link.js';
import { codeIn, store, stored } from '../link/pair.js';
import { BATCH, Queue } from '../link/queue.js';
import { ServerTime } from '../link/servertime.js';

const sample = (seq) => ({ t: seq * 100, seq });
const seqs = (m) => (m === null ? [] : m.type === 'samples' ? m.batch.map((s) => s.seq) : [m.seq]);

test('with a link each sample leaves once, alone', () => {
  const q = new Queue();
  q.linkUp();
  for (let i = 1; i <= 3; i++) {
    q.push(sample(i));
    assert.deepEqual(q.next(), { type: 'sample', ...sample(i) });
    assert.equal(q.next(), null);
  }
  assert.equal(q.waiting, 3);
  q.ack(2);
  assert.equal(q.waiting, 1);
});

test('after a gap everything not acknowledged leaves again, in order, in batches', () => {
  const q = new Queue();
  q.linkUp();
  for (let i = 1; i <= 10; i++) { q.push(sample(i)); q.next(); }
  q.ack(4);
  q.linkDown();
  for (let i = 11; i <= 450; i++) { q.push(sample(i)); assert.equal(q.next(), null); }
  q.linkUp();
  const got = [];
  for (let m = q.next(); m; m = q.next()) {
    assert.ok(seqs(m).length <= BATCH);
    got.push(...seqs(m));
  }
  assert.deepEqual(got, Array.from({ length: 446 }, (_, i) => i + 5));
});

test('a batch stays below the 64 kB a frame may have', () => {
  const q = new Queue();
  const full = { t: 1764075000000, lat: -12.3456789, lon: -123.4567891, acc: 1234.5, sog: 12.34, cog: 123.4, hdg: 123.4, hdgRef: 'true', heel: -123.4, pitch: -12.3, yaw: -123.4, mount: 'fixed', batt: 0.55 };
  for (let i = 0; i < BATCH + 5; i++) q.push({ ...full, seq: 17640750000 + i });
  q.linkUp();
  assert.ok(JSON.stringify(q.next()).length < 60000);
});

// Whatever the link and the acknowledgements do, a service that drops by seq
// has every sample once, in order.
test('any story of losses ends complete', () => {
  for (let seed = 1; seed <= 200; seed++) {
    let s = seed;
    const r = () => (s = (s * 48271) % 2147483647) / 2147483647;
    const q = new Queue();
    let highest = 0;
    const have = [];
    const take = (m) => {
      for (const n of seqs(m)) {
        if (n > highest) { have.push(n); highest = n; }
      }
    };
    let made = 0;
    for (let i = 0; i < 300; i++) {
      const dice = r();
      if (dice < 0.6) q.push(sample(++made));
      else if (dice < 0.7) q.linkUp();
      else if (dice < 0.75) q.linkDown();
      else if (dice < 0.9) { const m = q.next(); if (r() < 0.8 || !m) take(m); else q.linkDown(); } // lost on the way: the link is down
      else q.ack(highest);
    }
    q.linkUp();
    for (let m = q.next(); m; m = q.next()) take(m);
    q.ack(highest);
    assert.deepEqual(have, Array.from({ length: made }, (_, i) => i + 1), `story ${seed}`);
    assert.equal(q.waiting, 0);
  }
});

test('too long without a link gives up the oldest and counts them', () => {
  const q = new Queue(100);
  for (let i = 1; i <= 130; i++) q.push(sample(i));
  assert.equal(q.lost, 30);
  q.linkUp();
  assert.equal(seqs(q.next())[0], 31);
});

test('waits grow and stay bounded', () => {
  const waits = [1, 2, 3, 4, 5, 50].map(waitAfter);
  for (let i = 1; i < waits.length; i++) assert.ok(waits[i] >= waits[i - 1]);
  assert.equal(waits.at(-1), 8000);
});

test('the link goes where the page came from', () => {
  assert.equal(address({ protocol: 'https:', host: '10.0.0.2:8443' }), 'wss://10.0.0.2:8443/link');
  assert.equal(address({ protocol: 'http:', host: 'localhost:8080' }), 'ws://localhost:8080/link');
});

test('clocks: half of the way there and back is taken off', () => {
  const t = new ServerTime();
  assert.equal(t.there(5), 5);
  t.sync(100000, 1000, 1200);
  assert.equal(t.there(1100), 100000);
  assert.equal(t.here(100000), 1100);
});

test('the code stands behind the #', () => {
  assert.equal(codeIn('#AB23CD'), 'AB23CD');
  assert.equal(codeIn('#AB%2023'), 'AB 23');
  assert.equal(codeIn(''), '');
});

test('a token is kept for each page, and nonsense is no token', () => {
  const map = new Map();
  const storage = { getItem: (k) => map.get(k) ?? null, setItem: (k, v) => map.set(k, v), removeItem: (k) => map.delete(k) };
  const pass = { token: 't', role: 'sailor', boat: 'Wren' };
  store(storage, 'sailor', pass);
  assert.deepEqual(stored(storage, 'sailor'), pass);
  assert.equal(stored(storage, 'instructor'), null);
  for (const k of map.keys()) map.set(k, '{broken');
  assert.equal(stored(storage, 'sailor'), null);
  store(storage, 'sailor', null);
  assert.equal(map.size, 0);
});
