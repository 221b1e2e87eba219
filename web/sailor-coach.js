/**
 * Runs the coach for the page (cmd/pageengine) away from the page's own thread. A
 * classic script: the compiler's loader is one. Its name begins as the sailor's page
 * does, so that /offline.js answers for it too. Takes {message: text}, answers {out: text}
 * or {refused: text}, in order; {cost: true} is answered with what it has cost so far.
 */
const begun = performance.now();
/** @type {string[]} */
const waiting = [];
let ready = false;
let busy = 0;
let heard = 0;

/** @param {string} message */
function hear(message) {
  const from = performance.now();
  const out = self.helmcueHear(message);
  busy += performance.now() - from;
  heard++;
  postMessage(out instanceof Error ? { refused: out.message } : { out });
}

self.helmcueReady = () => {
  ready = true;
  postMessage({ ready: performance.now() - begun });
  for (const m of waiting.splice(0)) hear(m);
};

self.onmessage = ({ data }) => {
  if (data.cost) postMessage({ cost: { busy, heard, memory: self.memory?.buffer.byteLength ?? 0 } });
  else if (ready) hear(data.message);
  else waiting.push(data.message);
};

async function start() {
  importScripts('/engine/built/loader.js');
  const go = new self.Go();
  const answer = await fetch('/engine/built/engine.wasm');
  if (!answer.ok) throw new Error(`no coach in this build (${answer.status})`);
  const { instance } = await WebAssembly.instantiateStreaming(answer, go.importObject);
  self.memory = instance.exports.mem;
  await go.run(instance);
  throw new Error('the coach ended');
}

start().catch((e) => postMessage({ failed: String(e?.message ?? e) }));
